package main

import (
	"context"
	"encoding/json"
	"fmt"
	"math/rand/v2"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"rangepost/analysis"
	"rangepost/analysis/plan"
	"rangepost/analysis/player"
	"rangepost/bot/standin"
	"rangepost/store"
	"rangepost/store/pgtest"
	"rangepost/testdata"
)

// kills is how often the bot is killed. On a server the next one waits each time
// until the leases of the dead are over, fifteen seconds.
func kills() int {
	n := 200
	if testing.Short() {
		n = 20
	}
	if pgtest.Chosen() {
		n /= 5
	}
	return n
}

// patience is how long all of them may take.
func patience() time.Duration {
	if pgtest.Chosen() {
		return 15 * time.Minute
	}
	return 4 * time.Minute
}

// hasty is a stand-in that lets a bot start every second, which is the point here.
func hasty(t *testing.T) *standin.Stand {
	t.Helper()
	st, err := standin.Start(standin.Config{})
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { st.Close() })
	st.AllowHaste(true)
	st.SetIdentifies(1_000_000)
	kept.watch(st)
	return st
}

// The bot is killed at random instants of posts, by command and by form in turns,
// and started again: every post that was acknowledged ends as one session and
// one visible answer. The form stays open all the while, as forms do.
func TestKilledInMidPost(t *testing.T) {
	t.Parallel()
	ctx, cancel := context.WithTimeout(t.Context(), patience())
	defer cancel()
	st := hasty(t)
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

// Likewise of posts that are hit for a plan: killed at any instant, the balls of a
// post that was acknowledged are on the card once, all of them, and labelled as the
// card says; or it was asked which they are, and none is.
func TestKilledInMidPlanPost(t *testing.T) {
	t.Parallel()
	ctx, cancel := context.WithTimeout(t.Context(), patience())
	defer cancel()
	st := hasty(t)
	server := st.Server("Saltmarsh Links")
	practice := server.Channel("practice")
	wren := server.Join(st.User("Wren"))
	path := filepath.Join(t.TempDir(), "rangepost.db")
	p := serveProcess(t, st, path)
	defer func() { p.kill() }()
	connected := func() {
		t.Helper()
		if err := st.Connected(ctx, 1); err != nil {
			t.Fatalf("%v\n%s", err, p.log)
		}
	}
	// look is a look at the plan, with the process down.
	look := func(of func(db *store.DB, kept store.Plan)) {
		t.Helper()
		p.kill()
		db, err := store.Open(ctx, path)
		if err != nil {
			t.Fatal(err)
		}
		kept, err := db.LastPlan(ctx, server.ID, wren.ID)
		if err != nil {
			t.Fatal(err)
		}
		of(db, kept)
		if err := db.Close(); err != nil {
			t.Fatal(err)
		}
		p = serveProcess(t, st, path)
		connected()
	}
	connected()
	rng := rand.New(rand.NewPCG(7, 19))
	placed, asked, lost := 0, 0, 0
	for i := range max(5, kills()/5) {
		out, err := wren.Slash(ctx, practice, "plan", standin.Options{"against": "stronger grip", "club": "7i", "change": "1.5"})
		for tries := 0; err == nil && out.Failed != "" && tries < 5; tries++ { // said to the connection of the one that was killed
			out, err = wren.Slash(ctx, practice, "plan", standin.Options{"against": "stronger grip", "club": "7i", "change": "1.5"})
		}
		if err != nil || out.Failed != "" {
			t.Fatalf("plan %d: %+v, %v\n%s", i, out, err, p.log)
		}
		var turns []plan.Turn
		look(func(_ *store.DB, kept store.Plan) {
			var card plan.Plan
			if err := json.Unmarshal(kept.Card, &card); err != nil {
				t.Fatal(err)
			}
			for _, turn := range card.Turns {
				if turn.Visit == 0 {
					turns = append(turns, turn)
				}
			}
		})
		file := standin.File{Name: fmt.Sprintf("visit-%d.csv", i), Bytes: hitBy(turns, rng)}
		done := make(chan *standin.Outcome, 1)
		go func() {
			out, err := wren.Slash(ctx, practice, "post", standin.Options{"file": file, "ball": "range"})
			if err != nil {
				out = &standin.Outcome{Failed: err.Error()}
			}
			done <- out
		}()
		time.Sleep(time.Duration(rng.Float64() * 250 * float64(time.Millisecond)))
		p.kill()
		p = serveProcess(t, st, path)
		out = <-done
		connected()
		look(func(db *store.DB, kept store.Plan) {
			on, err := db.PlacedOn(ctx, kept.ID)
			if err != nil {
				t.Fatal(err)
			}
			switch {
			case out.Failed != "":
				lost++ // never acknowledged
				return
			case strings.Contains(out.Text, "What happened?"):
				if asked++; len(on) != 0 {
					t.Errorf("post %d is asked about and placed: %+v", i, on)
				}
				return
			case len(on) != 1:
				t.Errorf("post %d is placed %d times: %s", i, len(on), out.Text)
				return
			}
			placed++
			s, err := db.SessionWithBalls(ctx, server.ID, on[0].Session)
			if err != nil {
				t.Fatal(err)
			}
			at := 0
			for n, turn := range turns {
				for range turn.Balls {
					label := []string{"as usual", "stronger grip"}[turn.Set]
					if shot := s.Reading.Session.Shots[at]; s.Name != file.Name || on[0].Turns[at] != n || shot.Label != label {
						t.Fatalf("post %d: ball %d of %s is in turn %d and labelled %q, want %d, %q", i, at+1, s.Name, on[0].Turns[at]+1, shot.Label, n+1, label)
					}
					at++
				}
			}
			if want := fmt.Sprintf("Turn %d of", len(turns)); !strings.Contains(out.Text, want) && !strings.Contains(out.Text, "settled") || out.Picture() == nil {
				t.Errorf("post %d is answered with %q", i, out.Text)
			}
		})
	}
	// Let what was never acknowledged be settled before looking.
	if _, err := wren.Slash(ctx, practice, "plan", nil); err != nil {
		t.Fatal(err)
	}
	time.Sleep(time.Second)
	p.kill()
	left := openKept(t, path)
	if open, err := left.Unfinished(ctx); err != nil || len(open) > 0 {
		t.Errorf("%d requests stay unfinished (%v)", len(open), err)
	}
	if placed < 2 {
		t.Errorf("%d posts were placed: too few to tell", placed)
	}
	t.Logf("%d posts of a plan placed once, %d asked about, %d never acknowledged", placed, asked, lost)
}

// hitBy is a file of balls hit for turns of a plan, whose change moves the face.
func hitBy(turns []plan.Turn, rng *rand.Rand) []byte {
	iron := analysis.Club{Family: analysis.Iron, Number: 7}
	golfer := player.Player{
		Club: iron, Delivery: player.Typical(iron), Spread: player.TypicalSpread(1), World: player.Standard(iron, analysis.RightHanded),
		Device: player.Device{Club: true, Ball: true, Landed: true, Noise: player.UsualNoise()},
	}
	var shots []analysis.Shot
	for _, turn := range turns {
		so := golfer
		if turn.Set > 0 {
			so.Delivery.Face -= 4 * analysis.Degree
		}
		shots = append(shots, so.Shots(turn.Balls, "", rng)...)
	}
	return sheet(shots, time.Date(2026, time.June, 1, 9, 0, 0, 0, time.UTC))
}
