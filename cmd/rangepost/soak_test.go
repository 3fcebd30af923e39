package main

import (
	"bytes"
	"context"
	"math"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"testing"
	"time"

	"rangepost/bot/standin"
	"rangepost/store/pgtest"
	"rangepost/testdata"
)

// Students post, ask, type and let connections be cut for a long time, and what
// the bot holds does not grow: compared are the smallest live heap that any
// garbage collection found, and the fewest goroutines, in the last and in the
// first third. A leak raises both, while what is under way does not. The data
// stays the same size, so that nothing has a reason to grow.
//
// RANGEPOST_SOAK says for how long, such as 1h (then `go test -timeout 70m`);
// without it a few seconds.
func TestSoak(t *testing.T) {
	t.Parallel()
	length, pause, students := 15*time.Second, 50*time.Millisecond, 12
	if testing.Short() {
		length = 6 * time.Second
	}
	if text := os.Getenv("RANGEPOST_SOAK"); text != "" {
		var err error
		if length, err = time.ParseDuration(text); err != nil {
			t.Fatal(err)
		}
		// The stand-in keeps every picture it is sent, and the bot reads only so
		// many files of one person within an hour.
		pause, students = 500*time.Millisecond, 60
	}
	ctx, cancel := context.WithTimeout(t.Context(), length+2*time.Minute)
	defer cancel()
	st := gather(t, students)
	st.AllowHaste(true)
	session, err := testdata.Files.ReadFile("sessions/wren-1-first.csv")
	if err != nil {
		t.Fatal(err)
	}
	p := serveProcess(t, st.Stand, pgtest.Path(t, filepath.Join(t.TempDir(), "rangepost.db")), "--listen", "127.0.0.1:0")
	defer p.kill()
	if err := st.Connected(ctx, 1); err != nil {
		t.Fatalf("%v\n%s", err, p.log)
	}
	page := p.page(ctx, t)

	// One round of one student: the same file each time, which stays one
	// session, so that the database stays the size it is.
	asked := 0
	round := func(i int) {
		who := st.people[i%students]
		file := standin.File{Name: "session.csv", Bytes: append(bytes.Clone(session), strings.Repeat("\n", i%students+1)...)}
		ctx, cancel := context.WithTimeout(ctx, 30*time.Second)
		defer cancel()
		act := func(name string, o standin.Options) {
			out, err := who.Slash(ctx, st.practice, name, o)
			if err != nil || out.Failed != "" {
				t.Errorf("/%s: %v, %q", name, err, out.Failed)
			}
			asked++
		}
		switch i / students % 5 {
		case 0:
			act("post", standin.Options{"file": file, "ball": "range"})
		case 1:
			act("cause", nil)
		case 2:
			act("timeline", nil)
		case 3:
			act("mine export", nil)
		case 4:
			if _, err := who.Complete(ctx, st.practice, "sets", nil, "session", ""); err != nil {
				t.Error(err)
			}
			file.Bytes = []byte("not a session")
			act("post", standin.Options{"file": file})
		}
	}
	for i := range 5 * students { // everybody has everything once before it counts
		round(i)
	}

	type third struct{ live, goroutines, memory float64 }
	var thirds [3]third
	for i := range thirds {
		thirds[i] = third{math.Inf(1), math.Inf(1), 0}
		ends := time.Now().Add(length / 3)
		watching, stop := context.WithCancel(ctx)
		var watch sync.WaitGroup
		watch.Go(func() {
			for watching.Err() == nil {
				if m, err := metrics(watching, page); err == nil {
					thirds[i].live = min(thirds[i].live, m["go_gc_heap_live_bytes"])
					thirds[i].goroutines = min(thirds[i].goroutines, m["go_goroutines"])
					thirds[i].memory = max(thirds[i].memory, m["process_resident_memory_bytes"])
				}
				time.Sleep(100 * time.Millisecond)
			}
		})
		for n := 0; time.Now().Before(ends); n++ {
			round(n)
			time.Sleep(pause)
		}
		st.Cut() // at the end of each third, so that each has one to get over
		if err := st.Connected(ctx, 1); err != nil {
			t.Fatal(err)
		}
		time.Sleep(500 * time.Millisecond)
		stop()
		watch.Wait()
	}
	const mib = 1 << 20
	for i, x := range thirds {
		t.Logf("third %d of %v: live heap %.1f MiB, %.0f goroutines, %.0f MiB resident at most", i+1, length, x.live/mib, x.goroutines, x.memory/mib)
	}
	t.Logf("%d requests", asked)
	first, last := thirds[0], thirds[2]
	if math.IsInf(last.live, 1) || last.live == 0 || last.goroutines == 0 {
		t.Fatal("the metrics page tells nothing")
	}
	slack := 1.0 * mib
	if length < time.Minute {
		slack *= 3 // so few collections that what a reply is made of counts as live
	}
	if last.live > 1.2*first.live+slack {
		t.Errorf("the live heap grew from %.1f to %.1f MiB", first.live/mib, last.live/mib)
	}
	if last.goroutines > first.goroutines+3 {
		t.Errorf("the goroutines grew from %.0f to %.0f", first.goroutines, last.goroutines)
	}
}
