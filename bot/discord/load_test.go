package discord_test

import (
	"context"
	"fmt"
	"math/rand/v2"
	"os"
	"runtime"
	"slices"
	"strconv"
	"strings"
	"sync"
	"testing"
	"time"

	"rangepost/bot"
	"rangepost/bot/discord"
	"rangepost/bot/standin"
)

// Killed at any instant and started again, the bot answers everything it took
// in, each exactly once. The end is as hard as one process allows: nothing
// under way is waited for. Set RANGEPOST_ENDS for more than a few.
func TestEnds(t *testing.T) {
	rounds := 6
	if n, err := strconv.Atoi(os.Getenv("RANGEPOST_ENDS")); err == nil {
		rounds = n
	}
	random := rand.New(rand.NewPCG(7, 2026))
	tk := &talk{ack: func(r bot.Request) bot.Ack {
		if r.Kind == bot.MentionRequest || r.Options["balls"] == "1" {
			return bot.AckPublic
		}
		return bot.AckPrivate
	}}
	tk.handle = func(ctx context.Context, r bot.Request) bot.Reply {
		select {
		case <-time.After(30 * time.Millisecond):
		case <-ctx.Done():
		}
		return bot.Reply{Text: "read " + r.ID}
	}
	s := stage(t, tk, standin.Config{AckWithin: 20 * time.Second}, discord.Config{Grace: time.Nanosecond})
	s.AllowHaste(true)
	for round := range rounds {
		var people []*standin.User
		place := s.server.Channel(fmt.Sprint("round-", round))
		for i := range 4 {
			people = append(people, s.server.Join(s.User(fmt.Sprint("Student ", round, i))))
		}
		var asked sync.WaitGroup
		for i, u := range people {
			asked.Go(func() {
				ctx, cancel := context.WithTimeout(s.ctx, 30*time.Second)
				defer cancel()
				if i == 3 {
					u.Say(place, "@Rangepost", session)
					return
				}
				u.Slash(ctx, place, "post", standin.Options{"file": session, "balls": i})
			})
		}
		time.Sleep(time.Duration(random.IntN(120)) * time.Millisecond)
		if err := s.stop(); err != nil {
			t.Fatal(err)
		}
		s.run()
		s.healthy()
		s.settled()
		asked.Wait()
		// Every request in the intake has one answer that its asker can see.
		seen := map[string]int{}
		for i, u := range people {
			for _, c := range []*standin.Channel{place, u.Direct()} {
				for _, m := range c.Messages(u) {
					mine := m.Viewer == u.Name || c != place || i == 0
					if m.Author == "Rangepost" && mine {
						seen[m.Text]++
					}
				}
			}
		}
		tk.mu.Lock()
		for _, id := range tk.order {
			r := tk.accepted[id]
			if r.Channel == place.ID && seen["read "+id] != 1 {
				t.Errorf("round %d: %s of %s has %d answers", round, r.Kind, r.Asker.Name, seen["read "+id])
			}
		}
		tk.mu.Unlock()
	}
}

// Work leaves nothing behind: no goroutine for a request or a link that is
// over.
func TestNothingLeftBehind(t *testing.T) {
	tk := &talk{handle: say("Read.")}
	s := alone(t, tk, standin.Config{}, discord.Config{})
	ask := func(n int) {
		var wg sync.WaitGroup
		for range n {
			wg.Go(func() {
				u := s.server.Join(s.User("Tamsin"))
				if out, err := u.Slash(s.ctx, s.place, "mine export", nil); err != nil || out.Text != "Read." {
					t.Errorf("%v: %+v", err, out)
				}
			})
		}
		wg.Wait()
		s.settled()
	}
	ask(40)
	ours := func() int { return goroutines("rangepost/bot/discord.") }
	before := ours()
	for range 3 {
		ask(60)
		s.Cut()
		s.healthy()
	}
	for end := time.Now().Add(10 * time.Second); ; time.Sleep(20 * time.Millisecond) {
		after := ours()
		if after <= before {
			return
		}
		if time.Now().After(end) {
			t.Fatalf("%d goroutines before, %d after", before, after)
		}
	}
}

// BenchmarkPosts plays posts of a hundred students, as fast as the bot takes
// them, and reports what they wait for the acknowledgement. The conversation
// answers at once: it is the platform's side that is measured, stand-in and
// all.
func BenchmarkPosts(b *testing.B) {
	stand, err := standin.Start(standin.Config{})
	if err != nil {
		b.Fatal(err)
	}
	defer stand.Close()
	server := stand.Server("Saltmarsh Links")
	place := server.Channel("range")
	tk := &talk{accepted: map[string]bot.Request{}, answered: map[string]bool{}}
	tk.handle = func(context.Context, bot.Request) bot.Reply {
		return bot.Reply{Text: "Read.", Picture: &bot.Picture{Name: "post.png", PNG: picture(), Alt: "alt"}}
	}
	a, err := discord.New(discord.Config{Token: stand.Token(), Platform: stand.URL(), Bot: tk, Commands: commands, Log: quiet})
	if err != nil {
		b.Fatal(err)
	}
	ctx, cancel := context.WithCancel(context.Background())
	ended := make(chan error, 1)
	go func() { ended <- a.Run(ctx) }()
	if err := stand.Connected(ctx, 1); err != nil {
		b.Fatal(err)
	}
	var students []*standin.User
	for i := range 100 {
		students = append(students, server.Join(stand.User(fmt.Sprint("Student ", i))))
	}
	var mu sync.Mutex
	var waits []time.Duration
	b.ResetTimer()
	var wg sync.WaitGroup
	lanes := make(chan struct{}, 50)
	for i := range b.N {
		lanes <- struct{}{}
		wg.Go(func() {
			defer func() { <-lanes }()
			out, err := students[i%100].Slash(ctx, place, "post", standin.Options{"file": session})
			if err != nil || out.Text != "Read." {
				b.Errorf("%v: %+v", err, out)
				return
			}
			mu.Lock()
			waits = append(waits, out.Within)
			mu.Unlock()
		})
	}
	wg.Wait()
	b.StopTimer()
	slices.Sort(waits)
	if n := len(waits); n > 0 {
		b.ReportMetric(float64(waits[n/2].Microseconds())/1000, "ms-ack-median")
		b.ReportMetric(float64(waits[n*99/100].Microseconds())/1000, "ms-ack-p99")
	}
	var mem runtime.MemStats
	runtime.ReadMemStats(&mem)
	b.ReportMetric(float64(mem.Sys)/(1<<20), "MiB-taken")
	cancel()
	if err := <-ended; err != nil {
		b.Error(err)
	}
}

// goroutines counts those with a function of the package in their stack.
func goroutines(pkg string) (n int) {
	buf := make([]byte, 4<<20)
	buf = buf[:runtime.Stack(buf, true)]
	for _, g := range strings.Split(string(buf), "\n\n") {
		if strings.Contains(g, pkg) {
			n++
		}
	}
	return n
}
