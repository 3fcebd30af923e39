package discord_test

import (
	"context"
	"net/http/httptest"
	"strings"
	"testing"
	"time"

	"rangepost/bot"
	"rangepost/bot/discord"
	"rangepost/bot/standin"
)

// Whatever happens to the link, the bot is connected and answering again
// within fifteen seconds of its end, and what was asked meanwhile is answered
// too when the platform kept it.
func TestLink(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		name     string
		config   standin.Config
		fault    func(s *scene)
		sessions int // started in all
	}{
		{"cut, then resumed", standin.Config{}, func(s *scene) { s.Cut() }, 1},
		{"told to reconnect", standin.Config{}, func(s *scene) { s.Reconnect() }, 1},
		{"told to reconnect right after resuming", standin.Config{}, func(s *scene) { s.TurnAway(2); s.Cut() }, 1},
		{"invalid session", standin.Config{}, func(s *scene) { s.Invalidate() }, 2},
		{"invalid session on resuming", standin.Config{}, func(s *scene) { s.Forget(1); s.Cut() }, 2},
		{"closed with 4000", standin.Config{}, func(s *scene) { s.Drop(4000) }, 1},
		{"closed with 4009", standin.Config{}, func(s *scene) { s.Drop(4009) }, 2},
		{"closed with 1001", standin.Config{}, func(s *scene) { s.Drop(1001) }, 1},
		{"heartbeats unanswered", standin.Config{Heartbeat: 300 * time.Millisecond}, func(s *scene) {
			s.Deafen(true)
			time.Sleep(2 * time.Second)
			s.Deafen(false)
		}, 1},
		{"gateway down for a while", standin.Config{}, func(s *scene) {
			s.Break(standin.Rule{Path: "/gateway", Times: 3, Status: 503})
			s.Cut()
		}, 1},
		{"gateway slow", standin.Config{}, func(s *scene) {
			s.Break(standin.Rule{Path: "/gateway", Times: 1, Delay: 3 * time.Second})
			s.Cut()
		}, 1},
	} {
		t.Run(c.name, func(t *testing.T) {
			tk := &talk{handle: say("Read.")}
			s := stage(t, tk, c.config, discord.Config{})
			c.fault(s)
			ended := time.Now()
			for {
				ctx, cancel := context.WithTimeout(s.ctx, 4*time.Second)
				out, err := s.wren.Slash(ctx, s.place, "mine export", nil)
				cancel()
				if err == nil && out.Text == "Read." {
					break
				}
				if time.Since(ended) > 15*time.Second {
					t.Fatalf("not answering after 15 s: %v\n%s", err, s.log)
				}
				time.Sleep(50 * time.Millisecond)
			}
			if n := s.Identifies(); n != c.sessions {
				t.Errorf("%d sessions started, want %d\n%s", n, c.sessions, s.log)
			}
			s.settled()
		})
	}
}

// A command used while the link is down is answered after the resume, if the
// platform still waits for it.
func TestAskedWhileCut(t *testing.T) {
	tk := &talk{handle: say("Read.")}
	s := stage(t, tk, standin.Config{AckWithin: 10 * time.Second}, discord.Config{})
	s.Cut()
	out, err := s.wren.Slash(s.ctx, s.place, "mine export", nil)
	if err != nil || out.Text != "Read." {
		t.Errorf("%v: %+v\n%s", err, out, s.log)
	}
	s.settled()
}

// What connecting again cannot mend ends Run with a message for the operator.
func TestRefusedForGood(t *testing.T) {
	t.Parallel()
	for code, want := range map[int]string{
		4004: "refuses the bot token",
		4010: "refuses the shards",
		4011: "refuses the shards",
		4012: "no longer speaks version 10",
		4013: "refuses the intents",
		4014: "refuses the intents",
	} {
		for _, live := range []bool{true, false} {
			s := &scene{}
			name := "when starting"
			if live {
				name = "while connected"
			}
			t.Run(name+" "+want, func(t *testing.T) {
				tk := &talk{handle: say("Read.")}
				s = stage(t, tk, standin.Config{}, discord.Config{})
				if live {
					s.Drop(code)
				} else {
					s.Refuse(code)
					s.Cut()
				}
				err := s.wait()
				if err == nil || !strings.Contains(err.Error(), want) {
					t.Errorf("Run returned %v, want it to say %q", err, want)
				}
			})
		}
	}
}

func TestWrongToken(t *testing.T) {
	t.Parallel()
	stand, err := standin.Start(standin.Config{})
	if err != nil {
		t.Fatal(err)
	}
	defer stand.Close()
	a, err := discord.New(discord.Config{Token: "wrong", Platform: stand.URL(), Bot: &talk{}, Log: quiet})
	if err != nil {
		t.Fatal(err)
	}
	ctx, cancel := context.WithTimeout(context.Background(), 10*time.Second)
	defer cancel()
	if err := a.Run(ctx); err == nil || !strings.Contains(err.Error(), "refuses the bot token") {
		t.Errorf("Run returned %v", err)
	}
	if stand.Identifies() != 0 {
		t.Error("a wrong token was tried on the gateway too")
	}
}

// With hardly any sessions left today none is started.
func TestSessionsRunOut(t *testing.T) {
	t.Parallel()
	stand, err := standin.Start(standin.Config{})
	if err != nil {
		t.Fatal(err)
	}
	defer stand.Close()
	stand.SetIdentifies(3)
	a, err := discord.New(discord.Config{Token: stand.Token(), Platform: stand.URL(), Bot: &talk{}, Log: quiet})
	if err != nil {
		t.Fatal(err)
	}
	ctx, cancel := context.WithTimeout(context.Background(), 2*time.Second)
	defer cancel()
	if err := a.Run(ctx); err != nil {
		t.Errorf("Run returned %v", err)
	}
	if left := 1000 - stand.Identifies(); left != 3 {
		t.Errorf("%d sessions left, want 3", left)
	}
}

// Each shard gets the servers that are its own, and identifies in turn.
func TestShards(t *testing.T) {
	tk := &talk{handle: say("Read.")}
	s := stage(t, tk, standin.Config{Gate: 2}, discord.Config{Shards: 2})
	if err := s.Connected(s.ctx, 2); err != nil {
		t.Fatalf("%v\n%s", err, s.log)
	}
	// Ids are made of milliseconds, so that servers fall to either shard.
	for range 6 {
		srv := s.Server("Saltmarsh Links")
		place := srv.Channel("range")
		u := srv.Join(s.User("Priya"))
		if out, err := u.Slash(s.ctx, place, "mine export", nil); err != nil || out.Text != "Read." {
			t.Errorf("%v: %+v", err, out)
		}
		time.Sleep(time.Millisecond)
	}
	if n := s.Identifies(); n != 2 {
		t.Errorf("%d sessions, want 2", n)
	}
}

// Commands are written once, and again only when they differ.
func TestRegistration(t *testing.T) {
	tk := &talk{handle: say("Read.")}
	s := stage(t, tk, standin.Config{}, discord.Config{})
	s.AllowHaste(true)
	writes := func() (n int) {
		for _, r := range s.Requests() {
			if r.Method == "PUT" {
				n++
			}
		}
		return n
	}
	if n := writes(); n != 1 {
		t.Fatalf("%d writes at the first start, want 1", n)
	}
	s.stop()
	s.run()
	if err := s.Connected(s.ctx, 1); err != nil {
		t.Fatal(err)
	}
	if n := writes(); n != 1 {
		t.Errorf("%d writes after a start with the same commands, want 1", n)
	}
}

// The health page says when the link is down, and when no worker is left.
func TestHealth(t *testing.T) {
	tk := &talk{handle: say("Read.")}
	s := stage(t, tk, standin.Config{}, discord.Config{Workers: 1, Within: 100 * time.Millisecond, Grace: time.Second})
	status := func() int {
		w := httptest.NewRecorder()
		s.adapter.Health().ServeHTTP(w, httptest.NewRequest("GET", "/health", nil))
		return w.Code
	}
	until := func(want int) {
		t.Helper()
		for end := time.Now().Add(10 * time.Second); status() != want; time.Sleep(20 * time.Millisecond) {
			if time.Now().After(end) {
				t.Fatalf("health is %d, want %d", status(), want)
			}
		}
	}
	until(200)
	s.Break(standin.Rule{Path: "/gateway", Status: 503})
	s.Cut()
	until(503)
	s.Heal()
	until(200)

	end := make(chan struct{})
	tk.handle = func(context.Context, bot.Request) bot.Reply { <-end; return bot.Reply{} }
	if out, err := s.wren.Slash(s.ctx, s.place, "mine export", nil); err != nil || !strings.HasPrefix(out.Text, "That took longer") {
		t.Errorf("%v: %+v", err, out)
	}
	until(503)
	close(end)
	until(200)
}
