package main

import (
	"context"
	"fmt"
	"path/filepath"
	"strings"
	"sync"
	"syscall"
	"testing"
	"time"

	"rangepost/bot/standin"
	"rangepost/store"
	"rangepost/store/pgtest"
	"rangepost/testdata"
)

// Told to stop while posts come in, the real binary ends within ten seconds,
// without an error, and what it had acknowledged is answered: by it or by the
// next start.
func TestStoppedInMidPost(t *testing.T) {
	t.Parallel()
	ctx, cancel := context.WithTimeout(t.Context(), 3*time.Minute)
	defer cancel()
	const students = 12
	st := gather(t, students)
	st.AllowHaste(true)
	session, err := testdata.Files.ReadFile("sessions/wren-1-first.csv")
	if err != nil {
		t.Fatal(err)
	}
	db := pgtest.Path(t, filepath.Join(t.TempDir(), "rangepost.db"))
	rounds := 3
	if testing.Short() {
		rounds = 1
	}
	acknowledged := map[string]int{} // posts, by student
	var mu sync.Mutex
	p := serveProcess(t, st.Stand, db)
	defer func() { p.kill() }()
	for round := range rounds {
		if err := st.Connected(ctx, 1); err != nil {
			t.Fatalf("%v\n%s", err, p.log)
		}
		var sent sync.WaitGroup
		for i, who := range st.people {
			sent.Go(func() {
				file := standin.File{Name: fmt.Sprintf("session-%d.csv", round), Bytes: otherBalls(session, round*students+i)}
				out, err := who.Slash(ctx, st.practice, "post", standin.Options{"file": file, "ball": "range"})
				switch {
				case err != nil:
					t.Errorf("%s: %v", who.Name, err)
				case out.Failed != "": // never acknowledged: the platform told them so
				case out.Picture() == nil || !strings.Contains(out.Text, "because the face pointed"):
					t.Errorf("%s: answered with %q", who.Name, out.Text)
				default:
					mu.Lock()
					acknowledged[who.ID]++
					mu.Unlock()
				}
			})
		}
		time.Sleep(time.Duration(100+150*round) * time.Millisecond)
		p.stop(t)
		p = serveProcess(t, st.Stand, db)
		sent.Wait()
	}
	if err := st.Connected(ctx, 1); err != nil {
		t.Fatalf("%v\n%s", err, p.log)
	}
	p.stop(t)
	left := openKept(t, db)
	total := 0
	for _, who := range st.people {
		sessions, err := left.Sessions(ctx, st.server.ID, who.ID, store.SessionFilter{})
		if err != nil {
			t.Fatal(err)
		}
		// A post that was never acknowledged may have been kept all the same.
		if n := acknowledged[who.ID]; len(sessions) < n || len(sessions) > rounds {
			t.Errorf("%s: %d sessions of %d acknowledged posts", who.Name, len(sessions), n)
		}
		visible := 0
		for _, m := range st.practice.Messages(who) {
			if m.Author == st.Bot().Name && m.Viewer == who.Name {
				visible++
			}
		}
		for _, m := range who.Direct().Messages(who) {
			if m.Author == st.Bot().Name {
				visible++
			}
		}
		if visible < acknowledged[who.ID] || visible > rounds {
			t.Errorf("%s sees %d answers to %d acknowledged posts", who.Name, visible, acknowledged[who.ID])
		}
		total += acknowledged[who.ID]
	}
	if open, err := left.Unfinished(ctx); err != nil || len(open) > 0 {
		t.Errorf("%d requests stay unfinished (%v)", len(open), err)
	}
	t.Logf("%d of %d posts acknowledged, each one session and one answer", total, rounds*students)
}

// stop tells the bot to stop, which it has ten seconds for.
func (p *process) stop(t *testing.T) {
	t.Helper()
	told := time.Now()
	if err := p.cmd.Process.Signal(syscall.SIGTERM); err != nil {
		t.Fatal(err)
	}
	if err := p.cmd.Wait(); err != nil {
		t.Errorf("told to stop it ended with %v\n%s", err, p.log)
	}
	if took := time.Since(told); took > 10*time.Second {
		t.Errorf("it took %v to stop", took)
	} else {
		t.Logf("stopped in %v", took.Round(time.Millisecond))
	}
}

// fetching serves one student whose posted file takes that long to arrive, and
// returns while the bot waits for it. What the student sees in the end comes
// through answered.
func fetching(t *testing.T, ctx context.Context, takes time.Duration) (st *crowd, db string, p *process, answered <-chan *standin.Outcome) {
	t.Helper()
	st = gather(t, 1)
	st.AllowHaste(true)
	db = pgtest.Path(t, filepath.Join(t.TempDir(), "rangepost.db"))
	p = serveProcess(t, st.Stand, db)
	if err := st.Connected(ctx, 1); err != nil {
		t.Fatalf("%v\n%s", err, p.log)
	}
	slow := st.Break(standin.Rule{Path: "/attachments/", Delay: takes, Times: 1})
	seen := make(chan *standin.Outcome, 1)
	go func() {
		out, err := st.people[0].Slash(ctx, st.practice, "post", standin.Options{"file": standin.File{Name: "session.csv", Bytes: session}})
		if err != nil {
			t.Error(err)
		}
		seen <- out
	}()
	for st.Hits(slow) == 0 && ctx.Err() == nil {
		time.Sleep(10 * time.Millisecond)
	}
	return st, db, p, seen
}

// What does not end in time when the bot is told to stop is cut short, and
// answered by the next start.
func TestStoppedWhileAFileIsSlow(t *testing.T) {
	t.Parallel()
	ctx, cancel := context.WithTimeout(t.Context(), 2*time.Minute)
	defer cancel()
	st, db, p, answered := fetching(t, ctx, 18*time.Second)
	defer func() { p.kill() }()
	p.stop(t)
	p = serveProcess(t, st.Stand, db)
	if out := <-answered; out == nil || out.Picture() == nil {
		t.Errorf("after the next start: %+v", out)
	}
}
