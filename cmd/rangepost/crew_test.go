package main

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"math/rand/v2"
	"net/http"
	"slices"
	"strconv"
	"strings"
	"sync"
	"sync/atomic"
	"syscall"
	"testing"
	"time"

	"rangepost/bot/standin"
	"rangepost/store"
	"rangepost/store/pgtest"
	"rangepost/testdata"
)

// crewKills is how often a process of a crew is killed or stopped: each time its
// lease has to end. TestFleet, of another hand, does it a hundred times.
const crewKills = 4

// fellows are real processes of the real binary on one PostgreSQL, and a load of
// posts, each of other balls.
type fellows struct {
	*standin.Stand
	t       *testing.T
	ctx     context.Context
	db      string
	shards  int
	servers []*standin.Server
	clubs   []*standin.Channel // one on each
	people  []*standin.User    // likewise
	session []byte

	all      []*process // that ever were
	posts    atomic.Int64
	mu       sync.Mutex
	answered []string // files of posts that were acknowledged
	lost     int      // that were not
	refused  int      // that were, and refused while the database was away
	slowest  time.Duration
}

func newFellows(t *testing.T, shards int) *fellows {
	t.Helper()
	ctx, cancel := context.WithTimeout(t.Context(), 9*time.Minute)
	t.Cleanup(cancel)
	f := &fellows{t: t, ctx: ctx, db: pgtest.Database(t, nil), shards: shards}
	st, err := standin.Start(standin.Config{Shards: shards, Gate: shards})
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { st.Close() })
	f.Stand = st
	st.AllowHaste(true)
	kept.watch(st)
	for there := map[uint64]bool{}; len(there) < shards; time.Sleep(time.Millisecond) {
		s := st.Server(fmt.Sprint("Club ", len(f.clubs)))
		id, err := strconv.ParseUint(s.ID, 10, 64)
		if err != nil {
			t.Fatal(err)
		}
		if shard := id >> 22 % uint64(shards); !there[shard] {
			there[shard] = true
			f.people = append(f.people, s.Join(st.User(fmt.Sprint("Student ", len(f.people)))))
			f.servers, f.clubs = append(f.servers, s), append(f.clubs, s.Channel("practice"))
		}
	}
	if f.session, err = testdata.Files.ReadFile("sessions/wren-1-first.csv"); err != nil {
		t.Fatal(err)
	}
	return f
}

func (f *fellows) start() *process {
	f.t.Helper()
	p := serveProcess(f.t, f.Stand, f.db, "--listen", "127.0.0.1:0", "--shards", strconv.Itoa(f.shards))
	f.all = append(f.all, p)
	return p
}

// load posts at every club again and again until it is told to stop, with a pause
// that keeps each student below the files that one may hand over in an hour.
func (f *fellows) load(pause time.Duration) (stop func()) {
	ctx, cancel := context.WithCancel(f.ctx)
	var wg sync.WaitGroup
	for i, club := range f.clubs {
		wg.Go(func() {
			for ctx.Err() == nil {
				n := f.posts.Add(1)
				file := standin.File{Name: fmt.Sprintf("session-%d.csv", n), Bytes: otherBalls(f.session, int(n))}
				within, over := context.WithTimeout(f.ctx, 40*time.Second)
				began := time.Now()
				out, err := f.people[i].Slash(within, club, "post", standin.Options{"file": file, "ball": "range"})
				over()
				f.mu.Lock()
				switch {
				case err != nil:
					f.t.Errorf("post %d: %v", n, err)
					f.logs()
				case out.Failed != "":
					f.lost++
				case strings.Contains(out.Text, "nothing of this was kept"):
					f.refused++ // and said so
				default:
					f.answered = append(f.answered, file.Name)
					f.slowest = max(f.slowest, time.Since(began))
					if !strings.Contains(out.Text, "because the face pointed") || out.Picture() == nil {
						f.t.Errorf("post %d: answered with %q", n, out.Text)
					}
				}
				f.mu.Unlock()
				time.Sleep(pause)
			}
		})
	}
	return func() { cancel(); wg.Wait() }
}

// served waits until every club is answered, and says how long that took.
func (f *fellows) served() time.Duration {
	f.t.Helper()
	began := time.Now()
	for i, club := range f.clubs {
		for {
			ctx, cancel := context.WithTimeout(f.ctx, 5*time.Second)
			out, err := f.people[i].Slash(ctx, club, "mine export", nil)
			cancel()
			if err == nil && out.Failed == "" {
				break
			}
			if f.ctx.Err() != nil || time.Since(began) > time.Minute {
				f.logs()
				f.t.Fatalf("a club is not served after %v: %v", time.Since(began), err)
			}
		}
	}
	return time.Since(began)
}

// logs shows what the processes said last.
func (f *fellows) logs() {
	for i, p := range f.all {
		lines := strings.Split(p.log.String(), "\n")
		f.t.Logf("process %d:\n%s", i, strings.Join(lines[max(0, len(lines)-40):], "\n"))
	}
}

// judge looks at what is kept and seen: each post that was acknowledged is one
// session and has one visible answer.
func (f *fellows) judge() {
	f.t.Helper()
	db, err := store.Open(f.ctx, f.db)
	if err != nil {
		f.t.Fatal(err)
	}
	defer db.Close()
	for end := time.Now().Add(30 * time.Second); ; time.Sleep(100 * time.Millisecond) {
		open, err := db.Unfinished(f.ctx)
		if err != nil {
			f.t.Fatal(err)
		}
		if len(open) == 0 {
			break
		}
		if time.Now().After(end) {
			f.t.Fatalf("%d requests stay unfinished", len(open))
		}
	}
	times, visible := map[string]int{}, 0
	for i, club := range f.clubs {
		sessions, err := db.Sessions(f.ctx, f.servers[i].ID, f.people[i].ID, store.SessionFilter{})
		if err != nil {
			f.t.Fatal(err)
		}
		for _, s := range sessions {
			times[s.Name]++
		}
		for _, m := range club.Messages(f.people[i]) {
			if m.Author == f.Bot().Name && strings.Contains(m.Text, "because the face pointed") {
				visible++
			}
		}
		for _, m := range f.people[i].Direct().Messages(f.people[i]) {
			if m.Author == f.Bot().Name && strings.Contains(m.Text, "because the face pointed") {
				visible++
			}
		}
	}
	for _, name := range f.answered {
		if times[name] != 1 {
			f.t.Errorf("%s is %d sessions, want 1", name, times[name])
		}
	}
	// One that was refused while the database was away, which could not be written
	// down either, is worked on again by who takes it over, and answered in its place.
	if n := len(f.answered); visible < n || visible > n+f.lost+f.refused {
		f.t.Errorf("%d visible answers to %d acknowledged posts (%d more were never acknowledged, %d refused)", visible, n, f.lost, f.refused)
	}
	f.t.Logf("%d posts acknowledged, %d not, %d refused, the slowest answered in %v", len(f.answered), f.lost, f.refused, f.slowest.Round(time.Millisecond))
}

// shardsHeld is what a process's health page says.
func shardsHeld(ctx context.Context, page string) (held int, well bool) {
	req, err := http.NewRequestWithContext(ctx, http.MethodGet, page+"/health", nil)
	if err != nil {
		return 0, false
	}
	resp, err := http.DefaultClient.Do(req)
	if err != nil {
		return 0, false
	}
	defer resp.Body.Close()
	var says struct {
		Held int `json:"shards_held"`
	}
	json.NewDecoder(resp.Body).Decode(&says)
	return says.Held, resp.StatusCode == http.StatusOK
}

// evenly waits until processes share the shards evenly.
func (f *fellows) evenly(all []*process) {
	f.t.Helper()
	for began := time.Now(); ; time.Sleep(100 * time.Millisecond) {
		var held []int
		wells := true
		for _, p := range all {
			n, well := shardsHeld(f.ctx, p.page(f.ctx, f.t))
			held, wells = append(held, n), wells && well
		}
		sum := 0
		for _, n := range held {
			sum += n
		}
		if wells && sum == f.shards && slices.Max(held)-slices.Min(held) < 2 {
			return
		}
		if time.Since(began) > time.Minute {
			f.t.Fatalf("shards are held %v\n%s", held, all[0].log)
		}
	}
}

// Processes are killed in the middle of posts, and stopped and continued past
// their lives: each post that was acknowledged is kept once and answered once, and
// the clubs of the dead are served again soon.
func TestCrewIsKilled(t *testing.T) {
	if testing.Short() {
		t.Skip("minutes")
	}
	t.Parallel()
	f := newFellows(t, 4)
	f.SetIdentifies(1_000_000)
	all := []*process{f.start(), f.start(), f.start()}
	defer func() {
		for _, p := range all {
			p.kill()
		}
	}()
	f.evenly(all)
	stop := f.load(4 * time.Second)
	rng := rand.New(rand.NewPCG(22, 0))
	var dead []time.Duration
	for i := range crewKills {
		victim := rng.IntN(len(all))
		p := all[victim]
		if i%4 == 3 {
			p.cmd.Process.Signal(syscall.SIGSTOP)
			time.Sleep(20 * time.Second)
			f.served()
			p.cmd.Process.Signal(syscall.SIGCONT)
		} else {
			p.kill()
			dead = append(dead, f.served())
			all[victim] = f.start()
		}
		f.evenly(all)
	}
	stop()
	f.judge()
	slices.Sort(dead)
	t.Logf("clubs of the dead served again after %v in the median, %v at most, n %d", dead[len(dead)/2].Round(time.Millisecond), dead[len(dead)-1].Round(time.Millisecond), len(dead))
	if worst := dead[len(dead)-1]; worst > 30*time.Second {
		t.Errorf("served again after %v", worst)
	}
}

// A new process beside the old one, then the old one told to stop: nobody waits,
// and every request is acknowledged.
func TestCrewIsUpgraded(t *testing.T) {
	t.Parallel()
	f := newFellows(t, 2)
	all := []*process{f.start()}
	defer func() {
		for _, p := range all {
			p.kill()
		}
	}()
	f.evenly(all)
	stop := f.load(300 * time.Millisecond)
	for range 3 {
		all = append(all, f.start())
		f.evenly(all)
		old := all[0]
		began := time.Now()
		old.cmd.Process.Signal(syscall.SIGTERM)
		if err := old.cmd.Wait(); err != nil {
			t.Errorf("told to stop, it ends with %v\n%s", err, old.log)
		}
		t.Logf("handed over and ended in %v", time.Since(began).Round(time.Millisecond))
		all = all[1:]
		f.evenly(all)
	}
	stop()
	f.judge()
	if f.lost > 0 {
		t.Errorf("%d posts were not acknowledged in three seconds", f.lost)
	}
	if f.slowest > 10*time.Second {
		t.Errorf("the slowest post was answered in %v", f.slowest)
	}
	if n := f.Identifies(); n != f.shards {
		t.Errorf("%d sessions were started, want the first %d alone", n, f.shards)
	}
}

// The database is killed in mid load and comes back after every life has ended:
// nothing is lost, nothing is there twice, and the clubs are served again soon.
func TestCrewOutlivesItsDatabase(t *testing.T) {
	if testing.Short() {
		t.Skip("a minute")
	}
	t.Parallel()
	cluster, err := pgtest.Start(true)
	if errors.Is(err, pgtest.ErrNone) {
		t.Skip(err)
	}
	if err != nil {
		t.Fatal(err)
	}
	defer cluster.Remove()
	f := newFellows(t, 2)
	if err := cluster.Exec(`CREATE DATABASE club`); err != nil {
		t.Fatal(err)
	}
	f.db = cluster.Address("club")
	all := []*process{f.start(), f.start()}
	defer func() {
		for _, p := range all {
			p.kill()
		}
	}()
	f.evenly(all)
	stop := f.load(300 * time.Millisecond)
	for _, away := range []time.Duration{3 * time.Second, 20 * time.Second} {
		time.Sleep(2 * time.Second)
		if err := cluster.End(syscall.SIGKILL); err != nil {
			t.Fatal(err)
		}
		time.Sleep(away)
		for _, p := range all {
			if _, well := shardsHeld(f.ctx, p.page(f.ctx, t)); well {
				t.Error("without its database a process says that it is well")
			}
		}
		if err := cluster.Resume(); err != nil {
			t.Fatal(err)
		}
		took := f.served()
		t.Logf("away for %v, the clubs are served %v after its return", away, took.Round(time.Millisecond))
		if took > 15*time.Second {
			t.Errorf("served %v after the database's return", took)
		}
		f.evenly(all)
	}
	stop()
	f.judge()
}
