package discord_test

import (
	"context"
	"errors"
	"fmt"
	"strings"
	"sync"
	"sync/atomic"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"rangepost/bot"
	"rangepost/bot/discord"
	"rangepost/bot/standin"
)

// What the person sees when the platform stumbles: the answer, once, if a
// little later.
func TestPlatformStumbles(t *testing.T) {
	t.Parallel()
	const callback, edit = "/callback", "/messages/@original"
	for name, rule := range map[string]standin.Rule{
		"acknowledgement 429":                 {Path: callback, Times: 1, Status: 429, Retry: 300 * time.Millisecond},
		"acknowledgement 500":                 {Path: callback, Times: 2, Status: 500},
		"acknowledgement 502":                 {Path: callback, Times: 2, Status: 502},
		"acknowledgement cut":                 {Path: callback, Times: 1, Cut: true},
		"acknowledgement done, answer lost":   {Path: callback, Times: 1, Cut: true, Done: true},
		"acknowledgement slow":                {Path: callback, Times: 1, Delay: 1500 * time.Millisecond},
		"edit 429 of the route":               {Path: edit, Times: 2, Status: 429, Retry: 200 * time.Millisecond},
		"edit 429 shared":                     {Path: edit, Times: 1, Status: 429, Retry: 200 * time.Millisecond, Scope: "shared"},
		"edit 429 global":                     {Path: edit, Times: 1, Status: 429, Retry: 200 * time.Millisecond, Scope: "global"},
		"edit 500":                            {Path: edit, Times: 2, Status: 500},
		"edit 503":                            {Path: edit, Times: 2, Status: 503},
		"edit 504":                            {Path: edit, Times: 2, Status: 504},
		"edit cut":                            {Path: edit, Times: 2, Cut: true},
		"edit done, answer lost":              {Path: edit, Times: 1, Cut: true, Done: true},
		"edit done, answered with a bad gate": {Path: edit, Times: 1, Status: 502, Done: true},
	} {
		t.Run(name, func(t *testing.T) {
			tk := &talk{handle: say("Read.")}
			s := stage(t, tk, standin.Config{}, discord.Config{})
			r := s.Break(rule)
			out, err := s.wren.Slash(s.ctx, s.place, "mine export", nil)
			if err != nil {
				t.Fatalf("%v\n%s", err, s.log)
			}
			if out.Text != "Read." || out.Failed != "" {
				t.Errorf("Wren sees %q, %q", out.Text, out.Failed)
			}
			if s.Hits(r) == 0 {
				t.Error("the fault never happened")
			}
			if ms := s.place.Messages(s.wren); len(ms) != 1 {
				t.Errorf("%d answers: %+v", len(ms), ms)
			}
			s.settled()
		})
	}
}

// A token that died before the answer was ready.
func TestDeadToken(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		name            string
		ack             bot.Ack
		private, direct bool
		check           func(t *testing.T, s *scene, out *standin.Outcome)
	}{
		{"public answers go to the channel, naming the asker alone", bot.AckPublic, false, true, func(t *testing.T, s *scene, out *standin.Outcome) {
			if out.Channel != s.place || !strings.HasPrefix(out.Text, "<@"+s.wren.ID+"> ") || !answers(out.Text, "Balls @everyone") || !cmp.Equal(out.Told, []string{"Wren"}) || out.Loud {
				t.Errorf("%+v", out.Message)
			}
		}},
		{"private answers go to the asker directly", bot.AckPrivate, false, true, func(t *testing.T, s *scene, out *standin.Outcome) {
			if out.Channel != s.wren.Direct() || !answers(out.Text, "Balls @everyone") || out.Loud {
				t.Errorf("%+v", out.Message)
			}
		}},
		{"errors to a public command go to the asker directly", bot.AckPublic, true, true, func(t *testing.T, s *scene, out *standin.Outcome) {
			if out.Channel != s.wren.Direct() {
				t.Errorf("%+v", out.Message)
			}
		}},
		{"private answers to somebody without direct messages are not shown", bot.AckPrivate, false, false, func(t *testing.T, s *scene, out *standin.Outcome) {
			if out.Channel != s.place || strings.Contains(out.Text, "Balls") || !strings.Contains(out.Text, "Please ask again") || !cmp.Equal(out.Told, []string{"Wren"}) {
				t.Errorf("%+v", out.Message)
			}
		}},
	} {
		t.Run(c.name, func(t *testing.T) {
			tk := &talk{ack: func(bot.Request) bot.Ack { return c.ack }}
			s := stage(t, tk, standin.Config{}, discord.Config{})
			if !c.direct {
				s.wren.RefuseDirect()
			}
			tk.handle = func(context.Context, bot.Request) bot.Reply {
				s.ExpireTokens()
				return bot.Reply{Text: "Balls @everyone", Private: c.private}
			}
			out, err := s.wren.Slash(s.ctx, s.place, "mine export", nil)
			if err != nil {
				t.Fatalf("%v\n%s", err, s.log)
			}
			c.check(t, s, out)
			s.settled()
		})
	}
}

// Too late to acknowledge: the platform says so, the work is done all the
// same, and the answer arrives directly, without the token's being tried again.
func TestTooLate(t *testing.T) {
	tk := &talk{handle: say("Read.")}
	s := stage(t, tk, standin.Config{AckWithin: time.Second}, discord.Config{})
	s.Break(standin.Rule{Path: "/callback", Times: 1, Delay: 1100 * time.Millisecond})
	out, err := s.wren.Slash(s.ctx, s.place, "mine export", nil)
	if err != nil {
		t.Fatal(err)
	}
	if out.Failed != "The application did not respond" {
		t.Errorf("Wren sees %+v", out)
	}
	if _, err := s.wren.Direct().Await(s.ctx, s.wren, func(m *standin.Message) bool { return answers(m.Text, "Read.") }); err != nil {
		t.Errorf("no late answer: %v\n%s", err, s.log)
	}
	said := strings.Contains(s.log.String(), "code 10062") // and not only that no answer came
	for _, r := range s.Requests() {
		if said && strings.Contains(r.Path, "/webhooks/") {
			t.Errorf("%s %s with a token that is dead", r.Method, r.Path)
		}
	}
	s.settled()
}

// An event delivered three times is answered once.
func TestDuplicates(t *testing.T) {
	var mu sync.Mutex
	runs := 0
	tk := &talk{handle: func(context.Context, bot.Request) bot.Reply {
		mu.Lock()
		defer mu.Unlock()
		runs++
		return bot.Reply{Text: fmt.Sprint("run ", runs)}
	}}
	s := stage(t, tk, standin.Config{}, discord.Config{})
	s.Repeat(2)
	for i := range 3 {
		out, err := s.wren.Slash(s.ctx, s.place, "mine export", nil)
		if err != nil || out.Text != fmt.Sprint("run ", i+1) {
			t.Errorf("%v: %+v", err, out)
		}
	}
	s.settled()
	time.Sleep(100 * time.Millisecond)
	mu.Lock()
	defer mu.Unlock()
	if runs != 3 {
		t.Errorf("3 commands were handled %d times", runs)
	}
}

// Events that arrive in the wrong order find their own askers.
func TestOutOfOrder(t *testing.T) {
	tk := &talk{handle: func(_ context.Context, r bot.Request) bot.Reply { return bot.Reply{Text: "for " + r.Asker.Name} }}
	s := stage(t, tk, standin.Config{}, discord.Config{})
	s.Hold()
	var wg sync.WaitGroup
	for _, u := range []*standin.User{s.wren, s.odell} {
		wg.Go(func() {
			out, err := u.Slash(s.ctx, s.place, "mine export", nil)
			if err != nil || out.Text != "for "+u.Name {
				t.Errorf("%s: %v, %+v", u.Name, err, out)
			}
		})
	}
	time.Sleep(200 * time.Millisecond)
	s.Release(true)
	wg.Wait()
	s.settled()
}

// What goes wrong on our side is said, to the asker alone, and costs nobody
// else anything.
func TestOurOwnFaults(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		name   string
		accept func(bot.Request) error
		handle func(context.Context, bot.Request) bot.Reply
		want   string
	}{
		{"panic", nil, func(context.Context, bot.Request) bot.Reply { panic("club,carry") }, "Something went wrong on my side"},
		{"stuck", nil, func(context.Context, bot.Request) bot.Reply { select {} }, "That took longer than I allow"},
		{"full disk", func(bot.Request) error { return errors.New("database or disk is full") }, nil, "I could not save your request"},
	} {
		t.Run(c.name, func(t *testing.T) {
			tk := &talk{ack: func(bot.Request) bot.Ack { return bot.AckPublic }}
			tk.accept = func(r bot.Request) error {
				if r.Asker.Name == "Wren" && c.accept != nil {
					return c.accept(r)
				}
				return nil
			}
			tk.handle = func(ctx context.Context, r bot.Request) bot.Reply {
				if r.Asker.Name == "Wren" {
					return c.handle(ctx, r)
				}
				return bot.Reply{Text: "Read."}
			}
			s := stage(t, tk, standin.Config{}, discord.Config{Within: time.Second, Grace: time.Second})
			out, err := s.wren.Slash(s.ctx, s.place, "mine export", nil)
			if err != nil {
				t.Fatalf("%v\n%s", err, s.log)
			}
			if !strings.HasPrefix(out.Text, c.want) || !out.Ephemeral {
				t.Errorf("Wren sees %q, ephemeral %v", out.Text, out.Ephemeral)
			}
			out, err = s.odell.Slash(s.ctx, s.place, "mine export", nil)
			if err != nil || out.Text != "Read." {
				t.Errorf("Odell sees %+v, %v", out, err)
			}
			s.settled()
		})
	}
}

// A request is written down before it is acknowledged, so that nothing
// acknowledged is lost; and a disk too slow for that does not cost the
// acknowledgement.
func TestIntakeFirst(t *testing.T) {
	t.Parallel()
	for name, delay := range map[string]time.Duration{"quick": 0, "slow": 2500 * time.Millisecond} {
		t.Run(name, func(t *testing.T) {
			tk := &talk{handle: say("Read.")}
			s := stage(t, tk, standin.Config{}, discord.Config{})
			acknowledged := func() bool {
				for _, r := range s.Requests() {
					if strings.HasSuffix(r.Path, "/callback") {
						return true
					}
				}
				return false
			}
			tk.accept = func(bot.Request) error {
				if acknowledged() {
					t.Error("acknowledged before it was written down")
				}
				time.Sleep(delay)
				if delay == 0 && acknowledged() {
					t.Error("acknowledged while it was written down")
				}
				return nil
			}
			out, err := s.wren.Slash(s.ctx, s.place, "mine export", nil)
			if err != nil || out.Text != "Read." {
				t.Errorf("%v: %+v\n%s", err, out, s.log)
			}
			s.settled()
		})
	}
}

// typedBy counts the commands somebody has sent off.
func typedBy(s *scene, name string) (n int) {
	for _, e := range s.Transcript() {
		if e.Kind == standin.Typed && e.Actor == name {
			n++
		}
	}
	return n
}

// One person's requests are worked on one after the other, in order; those of
// different people side by side.
func TestOrderPerPerson(t *testing.T) {
	var mu sync.Mutex
	var order []string
	var busy, most int
	tk := &talk{handle: func(_ context.Context, r bot.Request) bot.Reply {
		mu.Lock()
		busy++
		most = max(most, busy)
		if r.Asker.Name == "Wren" {
			order = append(order, r.Options["balls"])
		}
		mu.Unlock()
		time.Sleep(100 * time.Millisecond)
		mu.Lock()
		busy--
		mu.Unlock()
		return bot.Reply{Text: "Read."}
	}}
	s := stage(t, tk, standin.Config{}, discord.Config{Workers: 3})
	var wg sync.WaitGroup
	var want []string
	for i := range 8 {
		want = append(want, fmt.Sprint(i))
		wg.Go(func() {
			if _, err := s.wren.Slash(s.ctx, s.place, "post", standin.Options{"file": session, "balls": i}); err != nil {
				t.Error(err)
			}
		})
		wg.Go(func() {
			u := s.server.Join(s.User(fmt.Sprint("Student ", i)))
			if _, err := u.Slash(s.ctx, s.place, "mine export", nil); err != nil {
				t.Error(err)
			}
		})
		// On a busy machine the next could otherwise be typed before this one.
		for typedBy(s, "Wren") <= i && s.ctx.Err() == nil {
			time.Sleep(time.Millisecond)
		}
		time.Sleep(20 * time.Millisecond)
	}
	wg.Wait()
	mu.Lock()
	defer mu.Unlock()
	if diff := cmp.Diff(want, order); diff != "" {
		t.Errorf("Wren's order: %s", diff)
	}
	if most != 3 {
		t.Errorf("%d worked on at once, want 3", most)
	}
}

// Somebody who asks faster than they can be answered is turned away politely;
// nobody else is.
func TestTurnedAway(t *testing.T) {
	release := make(chan struct{})
	tk := &talk{}
	s := stage(t, tk, standin.Config{}, discord.Config{PerUser: 2})
	tk.handle = func(_ context.Context, r bot.Request) bot.Reply {
		if r.Asker.Name == "Wren" {
			<-release
		}
		return bot.Reply{Text: "Read."}
	}
	var wg sync.WaitGroup
	for range 2 {
		wg.Go(func() {
			if out, err := s.wren.Slash(s.ctx, s.place, "mine export", nil); err != nil || out.Text != "Read." {
				t.Errorf("%v: %+v", err, out)
			}
		})
	}
	time.Sleep(300 * time.Millisecond)
	out, err := s.wren.Slash(s.ctx, s.place, "mine export", nil)
	if err != nil || !strings.Contains(out.Text, "ask again in a minute") || !out.Ephemeral {
		t.Errorf("%v: %+v", err, out)
	}
	if out, err := s.odell.Slash(s.ctx, s.place, "mine export", nil); err != nil || out.Text != "Read." {
		t.Errorf("%v: %+v", err, out)
	}
	close(release)
	wg.Wait()
	s.settled()
}

// A token reset while the bot runs: what cannot be delivered stays in the
// intake, and the start with the new token delivers it.
func TestTokenReset(t *testing.T) {
	tk := &talk{handle: say("Read.")}
	s := stage(t, tk, standin.Config{}, discord.Config{})
	s.AllowHaste(true)
	r := s.Break(standin.Rule{Method: "POST", Path: "/users/@me/channels", Status: 401})
	said := s.wren.Say(s.place, "@Rangepost", session)
	for end := time.Now().Add(10 * time.Second); s.Hits(r) == 0; time.Sleep(10 * time.Millisecond) {
		if time.Now().After(end) {
			t.Fatalf("nothing was refused\n%s", s.log)
		}
	}
	if err := s.stop(); err != nil {
		t.Fatal(err)
	}
	if n := tk.open(); n != 1 {
		t.Errorf("%d requests wait for the next start, want 1", n)
	}
	s.Heal()
	s.run()
	if _, err := s.wren.Direct().Await(s.ctx, s.wren, func(m *standin.Message) bool { return answers(m.Text, "Read.") }); err != nil {
		t.Errorf("%q is never answered: %v\n%s", said.Text, err, s.log)
	}
	s.settled()
}

// Told to stop, the bot finishes what is under way and leaves the rest to the
// next start, which answers it: once, and through the same placeholder.
func TestRestart(t *testing.T) {
	started := make(chan struct{}, 8)
	slow := true
	tk := &talk{}
	s := stage(t, tk, standin.Config{}, discord.Config{Grace: 3 * time.Second})
	var mu sync.Mutex
	tk.handle = func(_ context.Context, r bot.Request) bot.Reply {
		started <- struct{}{}
		mu.Lock()
		wait := slow
		mu.Unlock()
		if wait {
			time.Sleep(time.Second)
		}
		return bot.Reply{Text: "balls " + r.Options["balls"]}
	}
	var wg sync.WaitGroup
	for i := range 3 {
		wg.Go(func() {
			out, err := s.wren.Slash(s.ctx, s.place, "post", standin.Options{"file": session, "balls": i})
			if err != nil || out.Text != fmt.Sprint("balls ", i) {
				t.Errorf("%d: %v, %+v", i, err, out)
			}
		})
		time.Sleep(50 * time.Millisecond)
	}
	<-started
	// All three are taken in: what is asked of a bot that goes is nobody's.
	for end := time.Now().Add(800 * time.Millisecond); tk.open() < 3 && time.Now().Before(end); {
		time.Sleep(5 * time.Millisecond)
	}
	if err := s.stop(); err != nil {
		t.Fatal(err)
	}
	if n := tk.open(); n != 2 {
		t.Errorf("%d left for the next start, want 2", n)
	}
	mu.Lock()
	slow = false
	mu.Unlock()
	s.AllowHaste(true)
	s.run()
	wg.Wait()
	s.settled()
	if ms := s.place.Messages(s.wren); len(ms) != 3 {
		t.Errorf("%d answers to 3 posts", len(ms))
	}
}

// A request whose answer cannot be noted at once is noted later, so that the
// next start does not answer it again.
func TestNotedLater(t *testing.T) {
	s := alone(t, &talk{handle: say("Read."), unmarked: 3}, standin.Config{}, discord.Config{})
	out, err := s.wren.Slash(s.ctx, s.place, "post", standin.Options{"file": session})
	if err != nil || out.Text != "Read." {
		t.Fatalf("%v: %+v", err, out)
	}
	s.settled()
}

// What a run before this one left is taken up as soon as the intake can be
// read.
func TestTakenUpLater(t *testing.T) {
	var again atomic.Bool
	started := make(chan struct{}, 2)
	tk := &talk{handle: func(ctx context.Context, _ bot.Request) bot.Reply {
		started <- struct{}{}
		if !again.Load() {
			<-ctx.Done()
		}
		return bot.Reply{Text: "Read."}
	}}
	s := stage(t, tk, standin.Config{}, discord.Config{Grace: time.Nanosecond})
	s.AllowHaste(true)
	answered := make(chan string, 1)
	go func() {
		out, err := s.wren.Slash(s.ctx, s.place, "post", standin.Options{"file": session})
		if err != nil {
			t.Error(err)
		}
		answered <- out.Text
	}()
	<-started
	if err := s.stop(); err != nil {
		t.Fatal(err)
	}
	tk.mu.Lock()
	tk.unread = 2
	tk.mu.Unlock()
	again.Store(true)
	s.run()
	if text := <-answered; text != "Read." {
		t.Errorf("answered with %q", text)
	}
	s.settled()
}
