package discord_test

import (
	"context"
	"fmt"
	"sync"
	"testing"
	"time"

	"rangepost/bot"
	"rangepost/bot/discord"
	"rangepost/bot/standin"
)

// soon fails the test if u's command is not answered within a second.
func (s *scene) soon(u *standin.User, command string, o standin.Options) {
	s.t.Helper()
	began := time.Now()
	out, err := u.Slash(s.ctx, s.place, command, o)
	took := time.Since(began)
	s.t.Logf("%s is answered after %v", u.Name, took.Round(time.Millisecond))
	if err != nil || out.Text != "Read." {
		s.t.Errorf("%s: %v: %+v", u.Name, err, out)
	}
	if took > time.Second {
		s.t.Errorf("%s waits %v for an answer, want 1 s at most", u.Name, took)
	}
}

// A file server that hangs holds up whoever waits for a file of it, and nobody
// else: all that is waited for at once is waited for, and somebody's command is
// answered within a second. So is taking consent back, by somebody whose own
// post hangs; what else they ask keeps its order.
func TestHangingFiles(t *testing.T) {
	var fetch bot.Fetcher
	tk := &talk{urgent: func(r bot.Request) bool { return r.Command == "bind" }}
	tk.handle = func(ctx context.Context, r bot.Request) bot.Reply {
		for _, f := range r.Files {
			if _, err := fetch(ctx, f); err != nil {
				return bot.Reply{Text: err.Error()}
			}
		}
		return bot.Reply{Text: "Read."}
	}
	s := stage(t, tk, standin.Config{}, discord.Config{})
	fetch = discord.NewFetcher(discord.FetchConfig{Hosts: []string{s.CDNHost()}, Within: 6 * time.Second})
	r := s.Break(standin.Rule{Path: "/attachments", Delay: time.Minute})
	var wg sync.WaitGroup
	for i := range 12 {
		u := s.server.Join(s.User(fmt.Sprint("Student ", i)))
		if i == 0 {
			u = s.wren
		}
		wg.Go(func() { u.Slash(s.ctx, s.place, "post", standin.Options{"file": session}) })
	}
	for end := time.Now().Add(10 * time.Second); s.Hits(r) < 8; time.Sleep(5 * time.Millisecond) {
		if time.Now().After(end) {
			t.Fatalf("%d files are waited for, want 8", s.Hits(r))
		}
	}
	s.soon(s.odell, "mine export", nil)
	s.soon(s.wren, "bind", standin.Options{"student": s.odell})

	// Wren's export comes after Wren's post, whose file never does.
	asked := time.Now()
	out, err := s.wren.Slash(s.ctx, s.place, "mine export", nil)
	if err != nil || out.Text != "Read." || time.Since(asked) < time.Second {
		t.Errorf("Wren's export came after %v: %v, %+v", time.Since(asked), err, out)
	}
	wg.Wait()
	s.settled()
}

// One person's two hundred heavy requests, and as many completions, do not cost
// another the second.
func TestOnePersonsLoad(t *testing.T) {
	hold := make(chan struct{})
	tk := &talk{handle: func(ctx context.Context, r bot.Request) bot.Reply {
		if r.Asker.Name == "Wren" {
			select {
			case <-hold:
			case <-ctx.Done():
			}
		}
		return bot.Reply{Text: "Read."}
	}}
	s := stage(t, tk, standin.Config{}, discord.Config{PerUser: 200})
	defer close(hold)
	for range 200 {
		go s.wren.Slash(s.ctx, s.place, "mine export", nil)
		go s.wren.Complete(s.ctx, s.place, "post", standin.Options{}, "club", "7")
	}
	for end := time.Now().Add(20 * time.Second); tk.open() < 200; time.Sleep(5 * time.Millisecond) {
		if time.Now().After(end) {
			t.Fatalf("%d requests wait, want 200", tk.open())
		}
	}
	s.soon(s.odell, "mine export", nil)
	for range 100 {
		go s.wren.Complete(s.ctx, s.place, "post", standin.Options{}, "club", "7")
	}
	time.Sleep(50 * time.Millisecond)
	began := time.Now()
	_, err := s.odell.Complete(s.ctx, s.place, "post", standin.Options{}, "club", "7")
	t.Logf("Odell's completion comes after %v", time.Since(began).Round(time.Millisecond))
	if err != nil || time.Since(began) > time.Second {
		t.Errorf("Odell's completion comes after %v: %v", time.Since(began), err)
	}
}
