package main

import (
	"context"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"sync"
	"testing"
	"time"

	"rangepost/bot/standin"
	"rangepost/store"
	"rangepost/store/pgtest"
	"rangepost/testdata"
)

// Posts of many students within a minute, each with a file of its own: the real
// binary answers them all, in time, within the memory it may have.
//
// RANGEPOST_LOAD=full plays 300 posts of 100 students in a minute and holds the
// bot to its promises on time: every acknowledgement under a second at the 99th
// percentile, all answered within two minutes. Without it a tenth is played,
// at the same pace, and the time is only printed: other tests may have the
// machine's cores meanwhile.
func TestLoad(t *testing.T) {
	students, each, within := 10, 3, 6*time.Second
	full := os.Getenv("RANGEPOST_LOAD") == "full"
	if full {
		students, each, within = 100, 3, time.Minute
	} else {
		t.Parallel()
	}
	ctx, cancel := context.WithTimeout(t.Context(), 4*time.Minute)
	defer cancel()
	st := gather(t, students)
	session, err := testdata.Files.ReadFile("sessions/wren-4-grip-trial.tsv")
	if err != nil {
		t.Fatal(err)
	}
	db := pgtest.Path(t, filepath.Join(t.TempDir(), "rangepost.db"))
	p := serveProcess(t, st.Stand, db)
	defer func() { p.kill() }()
	if err := st.Connected(ctx, 1); err != nil {
		t.Fatalf("%v\n%s", err, p.log)
	}
	time.Sleep(time.Second)
	idle, _ := p.memory(t)

	var (
		mu       sync.Mutex
		waits    []time.Duration // for the acknowledgement
		answers  []time.Duration // for the answer
		answered = map[string]int{}
		sent     sync.WaitGroup
	)
	began := time.Now()
	for i := range students * each {
		time.Sleep(time.Until(began.Add(time.Duration(i) * within / time.Duration(students*each))))
		sent.Go(func() {
			file := standin.File{Name: fmt.Sprintf("session-%d.tsv", i), Bytes: otherBalls(session, i)}
			asked := time.Now()
			who := st.people[i%students]
			out, err := who.Slash(ctx, st.practice, "post", standin.Options{"file": file, "ball": "range"})
			mu.Lock()
			defer mu.Unlock()
			if err != nil || out.Failed != "" || out.Picture() == nil {
				t.Errorf("post %d: %v, %q", i, err, out.Failed+out.Text)
				return
			}
			waits, answers = append(waits, out.Within), append(answers, time.Since(asked))
			answered[who.ID]++
		})
	}
	sent.Wait()
	took := time.Since(began)
	_, highest := p.memory(t)
	p.kill()

	slices.Sort(waits)
	slices.Sort(answers)
	at := func(d []time.Duration, share float64) time.Duration {
		if len(d) == 0 {
			return 0
		}
		return d[int(share*float64(len(d)-1))].Round(time.Millisecond)
	}
	t.Logf("%d posts of %d students in %v: acknowledged in %v (median), %v (99th percentile), %v (longest); answered in %v (median), %v (longest); all answered after %v; memory %.0f MiB idle, %.0f MiB at most",
		students*each, students, within, at(waits, 0.5), at(waits, 0.99), at(waits, 1), at(answers, 0.5), at(answers, 1), took.Round(time.Millisecond), idle, highest)
	if idle > 64 {
		t.Errorf("idle, the bot has %.0f MiB, more than 64", idle)
	}
	if highest > 512 {
		t.Errorf("the bot had %.0f MiB, more than 512", highest)
	}
	if full && at(waits, 0.99) > time.Second {
		t.Errorf("acknowledged in %v at the 99th percentile, more than a second", at(waits, 0.99))
	}
	if full && took > 2*time.Minute {
		t.Errorf("all answered only after %v", took)
	}
	left := openKept(t, db)
	for _, who := range st.people {
		kept, err := left.Sessions(ctx, st.server.ID, who.ID, store.SessionFilter{})
		if err != nil || len(kept) != each || answered[who.ID] != each {
			t.Fatalf("%d sessions and %d answers of %d posts of one student (%v)", len(kept), answered[who.ID], each, err)
		}
	}
}

// A crowd is a stand-in with many students in one channel.
type crowd struct {
	*standin.Stand
	server   *standin.Server
	practice *standin.Channel
	people   []*standin.User
}

func gather(t *testing.T, students int) *crowd {
	t.Helper()
	st, err := standin.Start(standin.Config{})
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { st.Close() })
	kept.watch(st)
	validate(t, st)
	c := &crowd{Stand: st, server: st.Server("Saltmarsh Links")}
	c.practice = c.server.Channel("practice")
	for i := range students {
		c.people = append(c.people, c.server.Join(st.User(fmt.Sprintf("Student %d", i+1))))
	}
	return c
}
