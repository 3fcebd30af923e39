package main

import (
	"context"
	"fmt"
	"math/rand/v2"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"rangepost/bot/standin"
	"rangepost/store"
	"rangepost/store/pgtest"
	"rangepost/testdata"
)

// kills is how often the bot is killed.
func kills() int {
	if testing.Short() {
		return 20
	}
	return 200
}

// The bot is killed at random instants of posts, by command and by form in turns,
// and started again: every post that was acknowledged ends as one session and
// one visible answer. The form stays open all the while, as forms do.
func TestKilledInMidPost(t *testing.T) {
	t.Parallel()
	ctx, cancel := context.WithTimeout(t.Context(), 4*time.Minute)
	defer cancel()
	st, err := standin.Start(standin.Config{})
	if err != nil {
		t.Fatal(err)
	}
	defer st.Close()
	st.AllowHaste(true) // a restart every second is the point here
	st.SetIdentifies(1_000_000)
	kept.watch(st)
	validate(t, st)
	server := st.Server("Saltmarsh Links")
	practice := server.Channel("practice")
	wren := server.Join(st.User("Wren"))
	session, err := testdata.Files.ReadFile("sessions/wren-1-first.csv")
	if err != nil {
		t.Fatal(err)
	}
	db := pgtest.Path(t, filepath.Join(t.TempDir(), "rangepost.db"))

	rng := rand.New(rand.NewPCG(7, 0))
	p := serveProcess(t, st, db)
	defer func() { p.kill() }()
	if err := st.Connected(ctx, 1); err != nil {
		t.Fatalf("%v\n%s", err, p.log)
	}
	form, err := wren.Slash(ctx, practice, "post", standin.Options{"ball": "range"})
	if err != nil || form.Modal == nil {
		t.Fatalf("%+v, %v\n%s", form, err, p.log)
	}
	type posted struct {
		file    string
		outcome *standin.Outcome
	}
	var acknowledged []posted
	lost := 0
	for i := range kills() {
		// Each file is a session of its own.
		file := standin.File{Name: fmt.Sprintf("session-%d.csv", i), Bytes: otherBalls(session, i)}
		done := make(chan posted, 1)
		go func() {
			ctx, cancel := context.WithTimeout(ctx, 30*time.Second)
			defer cancel()
			var out *standin.Outcome
			var err error
			if i%2 == 0 {
				out, err = wren.Slash(ctx, practice, "post", standin.Options{"file": file, "ball": "range"})
			} else {
				out, err = wren.Submit(ctx, form.Modal, nil, file)
			}
			if err != nil {
				t.Errorf("post %d: %v", i, err)
				out = &standin.Outcome{Failed: err.Error()}
			}
			done <- posted{file.Name, out}
		}()
		time.Sleep(time.Duration(rng.Float64() * 150 * float64(time.Millisecond)))
		p.kill()
		p = serveProcess(t, st, db)
		one := <-done
		if err := st.Connected(ctx, 1); err != nil {
			t.Fatalf("%v\n%s", err, p.log)
		}
		if one.outcome.Failed != "" {
			lost++ // never acknowledged: the platform told Wren so
			continue
		}
		acknowledged = append(acknowledged, one)
	}
	// Let the last one be settled before looking.
	time.Sleep(500 * time.Millisecond)
	p.kill()

	for _, one := range acknowledged {
		if !strings.Contains(one.outcome.Text, "because the face pointed") || one.outcome.Picture() == nil {
			t.Errorf("%s: answered with %q", one.file, one.outcome.Text)
		}
	}
	left := openKept(t, db)
	sessions, err := left.Sessions(ctx, server.ID, wren.ID, store.SessionFilter{})
	if err != nil {
		t.Fatal(err)
	}
	times := map[string]int{}
	for _, s := range sessions {
		times[s.Name]++
	}
	for _, one := range acknowledged {
		if times[one.file] != 1 {
			t.Errorf("%s is %d sessions, want 1", one.file, times[one.file])
		}
	}
	// One visible answer each: as many answers as acknowledged posts, in the
	// channel, and none besides but those to posts the platform gave up on.
	visible := 0
	for _, m := range practice.Messages(wren) {
		if m.Author == st.Bot().Name {
			visible++
		}
	}
	for _, m := range wren.Direct().Messages(wren) {
		if m.Author == st.Bot().Name {
			visible++
		}
	}
	if visible < len(acknowledged) || visible > len(acknowledged)+lost {
		t.Errorf("%d visible answers to %d acknowledged posts (%d more were never acknowledged)", visible, len(acknowledged), lost)
	}
	if open, err := left.Unfinished(ctx); err != nil || len(open) > 0 {
		t.Errorf("%d requests stay unfinished (%v)", len(open), err)
	}
	t.Logf("killed %d times: %d posts acknowledged, each one session and one answer; %d never acknowledged", kills(), len(acknowledged), lost)
}

func openKept(t *testing.T, path string) *store.DB {
	t.Helper()
	db, err := store.Open(t.Context(), path)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { db.Close() })
	if _, err := db.Check(t.Context()); err != nil {
		t.Errorf("the database after all that: %v", err)
	}
	return db
}
