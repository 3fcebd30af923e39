package discord_test

import (
	"bytes"
	"context"
	"errors"
	"flag"
	"fmt"
	"image"
	"image/color"
	"image/png"
	"io"
	"log/slog"
	"net/http/httptest"
	"os"
	"regexp"
	"strings"
	"sync"
	"testing"
	"time"

	"rangepost/bot"
	"rangepost/bot/discord"
	"rangepost/bot/standin"
	"rangepost/bot/standin/openapi"
)

// talk is a conversation made of functions; what is nil does the obvious.
type talk struct {
	urgent func(bot.Request) bool
	ack    func(bot.Request) bot.Ack
	handle func(context.Context, bot.Request) bot.Reply
	accept func(bot.Request) error

	mu       sync.Mutex
	unmarked int // how often Answered fails before it does not
	unread   int // likewise Unfinished
	accepted map[string]bot.Request
	answered map[string]bool
	order    []string
}

func (t *talk) Ack(r bot.Request) bot.Ack {
	if t.ack != nil {
		return t.ack(r)
	}
	if r.Kind == bot.CompletionAsk {
		return bot.AckImmediate
	}
	return bot.AckPrivate
}

func (t *talk) Urgent(r bot.Request) bool { return t.urgent != nil && t.urgent(r) }

func (t *talk) Accept(_ context.Context, r bot.Request) (bool, error) {
	if t.accept != nil {
		if err := t.accept(r); err != nil {
			return false, err
		}
	}
	t.mu.Lock()
	defer t.mu.Unlock()
	if _, ok := t.accepted[r.ID]; ok {
		return false, nil
	}
	t.accepted[r.ID] = r
	t.order = append(t.order, r.ID)
	return true, nil
}

func (t *talk) Handle(ctx context.Context, r bot.Request) bot.Reply { return t.handle(ctx, r) }

func (t *talk) Redirect(_ context.Context, r bot.Request) error {
	t.mu.Lock()
	defer t.mu.Unlock()
	t.accepted[r.ID] = r
	return nil
}

func (t *talk) Answered(_ context.Context, id string) error {
	t.mu.Lock()
	defer t.mu.Unlock()
	if t.unmarked > 0 {
		t.unmarked--
		return errors.New("the disk is full")
	}
	t.answered[id] = true
	return nil
}

func (t *talk) Unfinished(context.Context) ([]bot.Request, error) {
	t.mu.Lock()
	defer t.mu.Unlock()
	if t.unread > 0 {
		t.unread--
		return nil, errors.New("the database is held")
	}
	var out []bot.Request
	for _, id := range t.order {
		if !t.answered[id] {
			out = append(out, t.accepted[id])
		}
	}
	return out, nil
}

func (t *talk) open() int {
	rs, _ := t.Unfinished(context.Background())
	return len(rs)
}

// scene is a server at Saltmarsh Links with the bot on it.
type scene struct {
	*standin.Stand
	t           *testing.T
	ctx         context.Context
	talk        *talk
	server      *standin.Server
	place       *standin.Channel
	wren, odell *standin.User
	log         *locked
	wait        func() error // waits for Run to return
	stop        func() error // tells it to
	adapter     *discord.Adapter
	cfg         discord.Config
}

type locked struct {
	mu sync.Mutex
	b  bytes.Buffer
}

func (l *locked) Write(p []byte) (int, error) {
	l.mu.Lock()
	defer l.mu.Unlock()
	return l.b.Write(p)
}

func (l *locked) String() string {
	l.mu.Lock()
	defer l.mu.Unlock()
	return l.b.String()
}

var commands = []bot.Command{
	{Name: "post", Summary: "Read a file", Options: []bot.Option{
		{Name: "file", Summary: "The file", Type: bot.FileOption, Required: true},
		{Name: "club", Summary: "The club", Complete: true},
		{Name: "balls", Summary: "How many", Type: bot.WholeNumber},
	}},
	{Name: "mine", Summary: "Your data", Subs: []bot.Command{{Name: "export", Summary: "Take it away"}}},
	{Name: "bind", Summary: "A student's thread", Options: []bot.Option{{Name: "student", Summary: "Who", Type: bot.PersonOption, Required: true}}},
	{Name: "Read this session", OnFile: true},
	{Name: "clubhouse", Summary: "Settings", May: bot.For(bot.Manager)},
}

// stage starts a stand-in and the adapter on it, for a test that runs beside
// others.
func stage(t *testing.T, tk *talk, sc standin.Config, c discord.Config) *scene {
	t.Helper()
	t.Parallel()
	return alone(t, tk, sc, c)
}

// alone is stage for a test that runs by itself.
func alone(t *testing.T, tk *talk, sc standin.Config, c discord.Config) *scene {
	t.Helper()
	stand, err := standin.Start(sc)
	if err != nil {
		t.Fatal(err)
	}
	ctx, cancel := context.WithTimeout(context.Background(), 60*time.Second)
	t.Cleanup(cancel)
	t.Cleanup(func() { stand.Close() })
	tk.accepted, tk.answered = map[string]bot.Request{}, map[string]bool{}
	s := &scene{Stand: stand, t: t, ctx: ctx, talk: tk, log: &locked{}, cfg: c}
	s.server = stand.Server("Saltmarsh Links")
	s.place = s.server.Channel("range")
	s.wren = s.server.Join(stand.User("Wren"))
	s.odell = s.server.Join(stand.User("Odell"))
	secrets.add(stand.Token(), s.wren.ID, s.odell.ID, "club,carry")
	stand.OnRequest(func(_, path, _ string, _ []byte) {
		for _, prefix := range []string{"/api/v10/interactions/", "/api/v10/webhooks/"} {
			if rest, ok := strings.CutPrefix(path, prefix); ok {
				secrets.add(strings.Split(rest, "/")[1])
			}
		}
	})
	if description != nil {
		stand.OnRequest(func(method, path, contentType string, body []byte) {
			if err := description.Check(method, path, contentType, body); err != nil {
				t.Errorf("the platform's description forbids this request: %v", err)
			}
		})
	}
	s.run()
	s.healthy()
	return s
}

// healthy waits until the adapter says that it is connected.
func (s *scene) healthy() {
	s.t.Helper()
	for end := time.Now().Add(20 * time.Second); ; time.Sleep(5 * time.Millisecond) {
		w := httptest.NewRecorder()
		s.adapter.Health().ServeHTTP(w, httptest.NewRequest("GET", "/health", nil))
		if w.Code == 200 {
			return
		}
		if time.Now().After(end) {
			s.t.Fatalf("the bot does not connect: %s\n%s", w.Body, s.log)
		}
	}
}

// run starts an adapter.
func (s *scene) run() {
	s.t.Helper()
	c := s.cfg
	c.Token, c.Platform, c.Bot, c.Commands = s.Token(), s.URL(), s.talk, commands
	c.Log = slog.New(slog.NewTextHandler(io.MultiWriter(s.log, logs), &slog.HandlerOptions{Level: slog.LevelDebug}))
	a, err := discord.New(c)
	if err != nil {
		s.t.Fatal(err)
	}
	s.adapter = a
	ctx, cancel := context.WithCancel(context.Background())
	ended := make(chan error, 1)
	go func() { ended <- a.Run(ctx) }()
	var once sync.Once
	var result error
	s.wait = func() error {
		once.Do(func() {
			select {
			case result = <-ended:
			case <-time.After(20 * time.Second):
				s.t.Error("Run does not return")
			}
		})
		return result
	}
	s.stop = func() error {
		cancel()
		return s.wait()
	}
	s.t.Cleanup(func() { s.stop() })
}

// settled fails the test if something accepted stays unanswered.
func (s *scene) settled() {
	s.t.Helper()
	deadline := time.Now().Add(10 * time.Second)
	for s.talk.open() > 0 {
		if time.Now().After(deadline) {
			s.t.Errorf("%d accepted requests stay unanswered\n%s", s.talk.open(), s.log)
			return
		}
		time.Sleep(10 * time.Millisecond)
	}
}

// description is the platform's, nil if none is at hand.
var description *openapi.Validator

func TestMain(m *testing.M) {
	var err error
	description, err = openapi.FromEnvironment()
	if err != nil {
		fmt.Fprintln(os.Stderr, "requests are not validated:", err)
	}
	// The tests wait far more than they compute.
	flag.Parse()
	if err := flag.Set("test.parallel", "24"); err != nil {
		panic(err)
	}
	code := m.Run()
	if found := secrets.find(logs.String()); len(found) > 0 {
		fmt.Fprintf(os.Stderr, "FAIL: the logs hold what they must not: %q\n", found)
		code = 1
	}
	os.Exit(code)
}

// secrets are the tokens, ids of people and contents of files that were used
// in any test.
var secrets secretList

type secretList struct {
	mu   sync.Mutex
	list []string
}

func (l *secretList) add(s ...string) {
	l.mu.Lock()
	defer l.mu.Unlock()
	l.list = append(l.list, s...)
}

func (l *secretList) find(text string) []string {
	l.mu.Lock()
	defer l.mu.Unlock()
	var found []string
	for _, s := range l.list {
		if strings.Contains(text, s) {
			found = append(found, s)
		}
	}
	return found
}

// logs gathers what all tests log, to be searched at the end.
var logs = &locked{}

// quiet logs only there.
var quiet = slog.New(slog.NewTextHandler(logs, nil))

func picture() []byte {
	m := image.NewGray(image.Rect(0, 0, 4, 4))
	m.Set(1, 1, color.Gray{200})
	var b bytes.Buffer
	if err := png.Encode(&b, m); err != nil {
		panic(err)
	}
	return b.Bytes()
}

func say(text string) func(context.Context, bot.Request) bot.Reply {
	return func(context.Context, bot.Request) bot.Reply { return bot.Reply{Text: text} }
}

var session = standin.File{Name: "wren-7i.csv", Bytes: []byte("club,carry\n7i,150\n")}

var recalled = regexp.MustCompile(`^(?:<@\d+> )?[^\n]+, asked <t:\d+:T>(, in case my answer did not reach you there)?:\n`)

// answers says whether a direct message is want, after a line that says what it
// answers.
func answers(text, want string) bool {
	return recalled.MatchString(text) && recalled.ReplaceAllString(text, "") == want
}
