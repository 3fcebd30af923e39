package discord_test

import (
	"context"
	"fmt"
	"log/slog"
	"net/http/httptest"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"sync"
	"sync/atomic"
	"testing"
	"time"

	"rangepost/bot"
	"rangepost/bot/discord"
	"rangepost/bot/standin"
	"rangepost/store"
)

// colleague is one process of a crew, as far as one process can play several: an
// adapter and a bot of its own, by a database handle of its own. Cut off from that
// it is what the others see of a process that died.
type colleague struct {
	*bot.Bot
	name    string
	db      *store.DB
	adapter *discord.Adapter
	told    context.CancelFunc
	ended   chan error
	working func(context.Context, bot.Request) bot.Reply
	accept  func() error  // what keeps a request from being written down, nil for nothing
	slowly  time.Duration // how long it takes to look what the dead left
	answers atomic.Int64  // how many requests were worked on here
}

func (c *colleague) Ack(bot.Request) bot.Ack { return bot.AckPrivate }
func (c *colleague) Urgent(bot.Request) bool { return false }
func (c *colleague) Accept(ctx context.Context, r bot.Request) (bool, error) {
	if c.accept != nil {
		if err := c.accept(); err != nil {
			return false, err
		}
	}
	return c.Bot.Accept(ctx, r)
}

func (c *colleague) Unfinished(ctx context.Context) ([]bot.Request, error) {
	time.Sleep(c.slowly)
	return c.Bot.Unfinished(ctx)
}

func (c *colleague) Handle(ctx context.Context, r bot.Request) bot.Reply {
	c.answers.Add(1)
	return c.working(ctx, r)
}

// stop tells it to stop, and waits until it has.
func (c *colleague) stop(t *testing.T) {
	t.Helper()
	c.told()
	select {
	case err := <-c.ended:
		if err != nil {
			t.Errorf("%s ended with %v", c.name, err)
		}
		c.ended <- nil
	case <-time.After(20 * time.Second):
		t.Errorf("%s does not stop", c.name)
	}
}

// page is its health page.
func (c *colleague) page() (int, string) {
	w := httptest.NewRecorder()
	c.adapter.Health().ServeHTTP(w, httptest.NewRequest("GET", "/health", nil))
	return w.Code, w.Body.String()
}

// holds waits until it serves so many shards, all of them connected.
func (c *colleague) holds(t *testing.T, ctx context.Context, n int) {
	t.Helper()
	for {
		code, page := c.page()
		if code == 200 && strings.Contains(page, fmt.Sprintf(`"shards_held":%d,`, n)) && strings.Contains(page, fmt.Sprintf(`"connected":%d,`, n)) {
			return
		}
		select {
		case <-ctx.Done():
			t.Fatalf("%s does not hold %d shards: %d %s", c.name, n, code, page)
		case <-time.After(20 * time.Millisecond):
		}
	}
}

// crew is several of them at some clubs, one on each shard.
type crew struct {
	*standin.Stand
	t      *testing.T
	ctx    context.Context
	path   string
	places []*standin.Channel
	wren   *standin.User
	log    *locked
	chores atomic.Int64 // processes that do them at this moment
	most   atomic.Int64 // and at any
	did    sync.Map     // who did them
}

func newCrew(t *testing.T, sc standin.Config) *crew {
	t.Helper()
	t.Parallel()
	stand, err := standin.Start(sc)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { stand.Close() })
	secrets.add(stand.Token())
	ctx, cancel := context.WithTimeout(t.Context(), 80*time.Second)
	t.Cleanup(cancel)
	c := &crew{Stand: stand, t: t, ctx: ctx, path: filepath.Join(t.TempDir(), "rangepost.db"), log: &locked{}}
	c.wren = stand.User("Wren")
	for there := map[uint64]bool{}; len(there) < max(1, sc.Shards); {
		s := stand.Server(fmt.Sprint("Club ", len(c.places)))
		id, err := strconv.ParseUint(s.ID, 10, 64)
		if err != nil {
			t.Fatal(err)
		}
		there[id>>22%uint64(max(1, sc.Shards))] = true
		s.Join(c.wren)
		c.places = append(c.places, s.Channel("range"))
		time.Sleep(time.Millisecond) // ids are of the time
	}
	return c
}

// join starts a process.
func (c *crew) join(name string, working func(context.Context, bot.Request) bot.Reply) *colleague {
	c.t.Helper()
	one := &colleague{name: name, ended: make(chan error, 1), working: working}
	log := slog.New(slog.NewTextHandler(&both{c.log, logs}, nil)).With("process", name)
	var err error
	if one.db, err = store.Open(c.ctx, c.path, store.Sharing()); err != nil {
		c.t.Fatal(err)
	}
	if one.Bot, err = bot.New(c.ctx, bot.Config{DB: one.db, Log: log}); err != nil {
		c.t.Fatal(err)
	}
	one.adapter, err = discord.New(discord.Config{
		Token: c.Token(), Platform: c.URL(), Bot: one, Commands: commands, Log: log, Crew: one,
		Chores: func(ctx context.Context) {
			c.most.Store(max(c.most.Load(), c.chores.Add(1)))
			c.did.Store(name, true)
			<-ctx.Done()
			c.chores.Add(-1)
		},
	})
	if err != nil {
		c.t.Fatal(err)
	}
	var ctx context.Context
	ctx, one.told = context.WithCancel(c.ctx)
	go func() { one.ended <- one.adapter.Run(ctx) }()
	c.t.Cleanup(func() {
		one.stop(c.t)
		one.db.Close()
	})
	return one
}

type both struct{ a, b *locked }

func (w *both) Write(p []byte) (int, error) {
	w.a.Write(p)
	return w.b.Write(p)
}

// load asks at every club again and again until it is told to stop, and says how
// often; each has to be answered.
func (c *crew) load() (stop func() int) {
	ctx, cancel := context.WithCancel(c.ctx)
	var wg sync.WaitGroup
	var asked atomic.Int64
	for i, place := range c.places {
		wg.Go(func() {
			for ctx.Err() == nil {
				out, err := c.wren.Slash(c.ctx, place, "mine export", nil)
				if err != nil || out.Text != "Read." {
					c.t.Errorf("at club %d: %v, %+v", i, err, out)
					return
				}
				asked.Add(1)
				time.Sleep(20 * time.Millisecond)
			}
		})
	}
	return func() int {
		cancel()
		wg.Wait()
		return int(asked.Load())
	}
}

// Processes come and go while people ask: shards are shared evenly, each moves with
// its session, and every request is answered once. The chores are done by one at a
// time.
func TestCrewShares(t *testing.T) {
	c := newCrew(t, standin.Config{Shards: 6, Gate: 6})
	wren := c.join("wren", say("Read."))
	wren.holds(t, c.ctx, 6)
	stop := c.load()
	tamsin := c.join("tamsin", say("Read."))
	odell := c.join("odell", say("Read."))
	for _, one := range []*colleague{wren, tamsin, odell} {
		one.holds(t, c.ctx, 2)
	}
	time.Sleep(500 * time.Millisecond)
	began := time.Now()
	wren.stop(t)
	tamsin.holds(t, c.ctx, 3)
	odell.holds(t, c.ctx, 3)
	if took := time.Since(began); took > 6*time.Second {
		t.Errorf("handing over took %v", took)
	} else {
		t.Logf("handed over in %v", took)
	}
	priya := c.join("priya", say("Read."))
	for _, one := range []*colleague{tamsin, odell, priya} {
		one.holds(t, c.ctx, 2)
	}
	time.Sleep(500 * time.Millisecond)
	asked := stop()
	worked := 0
	for _, one := range []*colleague{wren, tamsin, odell, priya} {
		n := one.answers.Load()
		if n == 0 {
			t.Errorf("%s answered nothing", one.name)
		}
		worked += int(n)
	}
	if asked == 0 || worked != asked {
		t.Errorf("%d requests were asked and %d worked on\n%s", asked, worked, c.log)
	}
	if n := c.Identifies(); n != 6 {
		t.Errorf("%d sessions were started, want the first 6 alone: the rest is resumed\n%s", n, c.log)
	}
	if most := c.most.Load(); most != 1 {
		t.Errorf("%d processes did the chores at once, want 1", most)
	}
	// What is seen is marked as answered right after.
	for tries := 0; ; tries++ {
		open, err := tamsin.db.Unfinished(t.Context())
		if err == nil && len(open) == 0 {
			break
		}
		if tries == 100 {
			t.Fatalf("%d requests are unfinished, %v", len(open), err)
		}
		time.Sleep(50 * time.Millisecond)
	}
}

// What a dead process had acknowledged is sent again to who resumes its shard, and
// taken over as well, in any order: it is answered soon, and once.
func TestCrewIsSentAgain(t *testing.T) {
	c := newCrew(t, standin.Config{})
	dead := c.join("wren", func(ctx context.Context, _ bot.Request) bot.Reply {
		<-ctx.Done()
		return bot.Reply{}
	})
	dead.holds(t, c.ctx, 1)
	time.Sleep(3500 * time.Millisecond) // until it is kept how far the shard was read
	answered := make(chan string, 1)
	go func() {
		out, err := c.wren.Slash(c.ctx, c.places[0], "mine export", nil)
		answered <- fmt.Sprint(out.Text, err)
	}()
	for dead.answers.Load() == 0 {
		time.Sleep(10 * time.Millisecond)
	}
	well := c.join("tamsin", say("Read."))
	well.slowly = 500 * time.Millisecond
	well.accept = func() error { time.Sleep(2 * time.Second); return nil }
	dead.db.Close()
	well.holds(t, c.ctx, 1)
	select {
	case text := <-answered:
		if text != "Read.<nil>" {
			t.Errorf("the answer is %q\n%s", text, c.log)
		}
	case <-time.After(10 * time.Second):
		t.Fatalf("no answer\n%s", c.log)
	}
	time.Sleep(time.Second)
	if n := well.answers.Load(); n != 1 {
		t.Errorf("worked on %d times", n)
	}
}

// What the platform says of all the bot's requests to one process holds the others
// too, but not their answers, which it does not count.
func TestCrewIsHeldTogether(t *testing.T) {
	c := newCrew(t, standin.Config{Shards: 2})
	told, other := c.join("wren", say("Read.")), c.join("tamsin", say("Read."))
	told.holds(t, c.ctx, 1)
	other.holds(t, c.ctx, 1)
	const hold = 5 * time.Second
	began := time.Now()
	rule := c.Break(standin.Rule{Method: "POST", Path: "/messages", Times: 1, Status: 429, Scope: "global", Retry: hold})
	put := func(by *colleague) time.Duration {
		if _, err := by.adapter.Put(c.ctx, c.places[0].ID, by.name, bot.Reply{Text: "Standings"}); err != nil {
			t.Error(err)
		}
		return time.Since(began)
	}
	first, second := make(chan time.Duration, 1), make(chan time.Duration, 1)
	go func() { first <- put(told) }()
	for c.Hits(rule) == 0 {
		time.Sleep(10 * time.Millisecond)
	}
	time.Sleep(1500 * time.Millisecond) // a look at the crew
	go func() { second <- put(other) }()
	if out, err := c.wren.Slash(c.ctx, c.places[1], "mine export", nil); err != nil || out.Text != "Read." || time.Since(began) > hold {
		t.Errorf("an answer while all wait: %q, %v, after %v", out.Text, err, time.Since(began))
	}
	for name, after := range map[string]time.Duration{"who was told": <-first, "the other": <-second} {
		if after < hold || after > hold+5*time.Second {
			t.Errorf("%s sent after %v, want %v", name, after, hold)
		}
	}
}

// Nothing is acknowledged before it is written down, which is tried while the
// database is away, and what a request came to without it is not said but worked on
// again. What stays wrong until somebody mends it is said.
func TestCrewPromisesNothing(t *testing.T) {
	c := newCrew(t, standin.Config{})
	var worked atomic.Int64
	one := c.join("wren", func(context.Context, bot.Request) bot.Reply {
		if worked.Add(1) == 1 {
			return bot.Reply{Text: "Nothing was kept.", Away: true}
		}
		return bot.Reply{Text: "Read."}
	})
	one.holds(t, c.ctx, 1)
	tries, early := 0, 0
	one.accept = func() error {
		for _, r := range c.Requests() {
			if strings.HasSuffix(r.Path, "/callback") {
				early++
			}
		}
		if tries++; tries <= 3 {
			return store.ErrUnreachable
		}
		return nil
	}
	out, err := c.wren.Slash(c.ctx, c.places[0], "mine export", nil)
	if err != nil || out.Text != "Read." || tries != 4 || early != 0 {
		t.Errorf("%v, %+v, after %d tries to write it down, acknowledged before %d of them\n%s", err, out, tries, early, c.log)
	}
	one.accept = func() error { return store.ErrFull }
	out, err = c.wren.Slash(c.ctx, c.places[0], "mine export", nil)
	if err != nil || !strings.Contains(out.Text, "disk I write to is full") {
		t.Errorf("%v, %+v\n%s", err, out, c.log)
	}
}

// A process that is cut off from the database stops acting by itself before the
// others take over. What it was working on is answered by another, once, and so is
// what is asked at its clubs meanwhile; when it is back it takes its share again.
func TestCrewTakesOver(t *testing.T) {
	c := newCrew(t, standin.Config{Shards: 2, Gate: 2, AckWithin: 25 * time.Second})
	late := make(chan struct{})
	var left atomic.Bool
	hangs := func(ctx context.Context, r bot.Request) bot.Reply {
		select {
		case <-late:
		case <-ctx.Done(): // it ignores that
			<-late
		}
		left.Store(true)
		return bot.Reply{Text: "By the one that was cut off."}
	}
	cut := c.join("wren", hangs)
	cut.holds(t, c.ctx, 2)
	answered := make(chan error, 1)
	go func() {
		out, err := c.wren.Slash(c.ctx, c.places[0], "mine export", nil)
		if err == nil && !strings.HasSuffix(out.Text, "Read.") {
			err = fmt.Errorf("the answer is %q", out.Text)
		}
		answered <- err
	}()
	for cut.answers.Load() == 0 {
		time.Sleep(10 * time.Millisecond)
	}
	if _, ok := c.did.Load("wren"); !ok {
		t.Error("the first did no chores")
	}
	well := c.join("tamsin", say("Read."))
	began := time.Now()
	cut.db.Close()
	well.holds(t, c.ctx, 2)
	served := time.Since(began)
	t.Logf("served again after %v", served)
	if served < store.LifeLasts-store.RenewEvery-2*time.Second && served < 9*time.Second {
		t.Errorf("its shards were taken after %v, when it might have acted still", served)
	}
	if served > 30*time.Second {
		t.Errorf("its shards were served again after %v", served)
	}
	requests := func() int {
		n := 0
		for _, r := range c.Requests() {
			if strings.Contains(r.Path, "@original") || strings.HasSuffix(r.Path, "/messages") {
				n++
			}
		}
		return n
	}
	if err := <-answered; err != nil {
		t.Errorf("%v\n%s", err, c.log)
	}
	out, err := c.wren.Slash(c.ctx, c.places[0], "mine export", nil)
	if err != nil || out.Text != "Read." {
		t.Errorf("asked after it: %v, %+v", err, out)
	}
	sent := requests()
	close(late)
	time.Sleep(time.Second)
	if !left.Load() {
		t.Error("the one cut off did not end its work")
	}
	if n := requests(); n != sent {
		t.Errorf("the one cut off sent something: %d requests more\n%s", n-sent, c.log)
	}
	if code, page := cut.page(); code != 503 {
		t.Errorf("cut off, it says it is well: %s", page)
	}
	if most := c.most.Load(); most != 1 {
		t.Errorf("%d processes did the chores at once, want 1", most)
	}
	if _, ok := c.did.Load("tamsin"); !ok {
		t.Error("the chores were not taken over")
	}
	if n := well.answers.Load(); n != 2 {
		t.Errorf("%d requests were worked on by the other, want 2", n)
	}
}

// Told to stop, a process gives what it has not begun to the others at once, and
// finishes what is under way.
func TestCrewHandsOverRequests(t *testing.T) {
	c := newCrew(t, standin.Config{})
	begun, finish := make(chan struct{}, 10), make(chan struct{})
	first := c.join("wren", func(context.Context, bot.Request) bot.Reply {
		begun <- struct{}{}
		<-finish
		return bot.Reply{Text: "By the first."}
	})
	first.holds(t, c.ctx, 1)
	var mu sync.Mutex
	var texts []string
	var wg sync.WaitGroup
	for range 3 { // of one person, so one after the other
		wg.Go(func() {
			out, err := c.wren.Slash(c.ctx, c.places[0], "mine export", nil)
			if err != nil {
				t.Error(err)
				return
			}
			mu.Lock()
			defer mu.Unlock()
			texts = append(texts, out.Text)
		})
	}
	<-begun
	second := c.join("tamsin", say("By the second."))
	for second.answers.Load() < 2 {
		if _, page := first.page(); strings.Contains(page, `"waiting":3`) {
			go first.told()
		}
		select {
		case <-c.ctx.Done():
			t.Fatalf("what was not begun is not given back\n%s", c.log)
		case <-time.After(20 * time.Millisecond):
		}
	}
	close(finish)
	wg.Wait()
	slices.Sort(texts)
	if want := []string{"By the first.", "By the second.", "By the second."}; !slices.Equal(texts, want) {
		t.Errorf("%q, want %q", texts, want)
	}
	second.holds(t, c.ctx, 1)
}

// Sessions of one group start five seconds apart, whichever process starts them: the
// platform refuses any that comes sooner.
func TestCrewIdentifies(t *testing.T) {
	c := newCrew(t, standin.Config{Shards: 3, Gate: 1})
	all := []*colleague{c.join("wren", say("Read.")), c.join("tamsin", say("Read.")), c.join("odell", say("Read."))}
	for _, one := range all {
		one.holds(t, c.ctx, 1)
	}
	if n := c.Identifies(); n != 3 {
		t.Errorf("%d sessions, want 3", n)
	}
	if strings.Contains(c.log.String(), "does not know the session") {
		t.Errorf("a session was refused\n%s", c.log)
	}
}
