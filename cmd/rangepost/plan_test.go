package main

import (
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"math/rand/v2"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"rangepost/analysis"
	"rangepost/analysis/plan"
	"rangepost/analysis/player"
	"rangepost/bot/standin"
	"rangepost/store/pgtest"
)

// A plan on the command line from its card to its end: a file that stops early is
// asked about, its answer is taken, and the end says what moved.
func TestPlanOnTheCommandLine(t *testing.T) {
	dir := t.TempDir()
	command := func(args ...string) (string, int) {
		t.Helper()
		var out, errOut bytes.Buffer
		status := run(t.Context(), args, strings.NewReader(""), &out, &errOut)
		if status == exitFailed {
			t.Fatalf("%v: %s", args, errOut.String())
		}
		return out.String(), status
	}
	text, _ := command("plan", "new", "--club", "7i", "--against", "stronger grip", "--change", "1.5", "--json")
	cardFile := filepath.Join(dir, "card.json")
	if err := os.WriteFile(cardFile, []byte(text), 0o600); err != nil {
		t.Fatal(err)
	}
	var card plan.Plan
	if err := json.Unmarshal([]byte(text), &card); err != nil {
		t.Fatal(err)
	}
	rng := rand.New(rand.NewPCG(3, 3))
	golfer := player.Player{
		Club: card.Club, Delivery: player.Typical(card.Club), Spread: player.TypicalSpread(1), World: player.Standard(card.Club, analysis.RightHanded),
		Device: player.Device{Club: true, Ball: true, Landed: true, Noise: player.UsualNoise()},
	}
	file := func(name string, turns []plan.Turn) string {
		var shots []analysis.Shot
		for _, turn := range turns {
			so := golfer
			if turn.Set > 0 {
				so.Delivery.Face -= 3 * analysis.Degree
			}
			shots = append(shots, so.Shots(turn.Balls, "", rng)...)
		}
		path := filepath.Join(dir, name)
		if err := os.WriteFile(path, sheet(shots, time.Date(2026, time.June, 1, 9, 0, 0, 0, time.UTC)), 0o600); err != nil {
			t.Fatal(err)
		}
		return path
	}
	first, rest := file("first.csv", card.Turns[:5]), file("rest.csv", card.Turns[5:])
	type judged struct {
		Status   string
		Assigned []struct {
			Sets     []*string
			Question *struct {
				Key     string
				Choices []struct{ Value, Text string }
			}
		}
		Rows      []map[string]any
		Sentences []string
	}
	judge := func(want int, args ...string) (j judged) {
		t.Helper()
		out, status := command(append([]string{"plan", "judge", cardFile, "--json", "--answer", "column:faceangledegright=face"}, args...)...)
		if status != want {
			t.Errorf("%v: status %d, want %d: %s", args, status, want, out)
		}
		if err := json.Unmarshal([]byte(out), &j); err != nil {
			t.Fatalf("%v: %s", err, out)
		}
		return j
	}
	asked := judge(exitQuestions, first)
	q := asked.Assigned[0].Question
	if q == nil || q.Key != "plan:1" || len(asked.Assigned[0].Sets) != 0 || q.Choices[len(q.Choices)-1].Value != "none" {
		t.Fatalf("%+v %+v", asked, q)
	}
	answer := "plan:1=stopped:5"
	part := judge(exitOK, "--answer", answer, first)
	for i, set := range part.Assigned[0].Sets {
		if want := card.Labels[card.Turns[i/card.Turns[0].Balls].Set]; set == nil || *set != want {
			t.Errorf("ball %d is of %v, want %s", i+1, set, want)
		}
	}
	if part.Status != "going" {
		t.Errorf("after five turns it is %s", part.Status)
	}
	done := judge(exitOK, "--answer", answer, first, rest)
	if done.Status != "moved" || len(done.Rows) == 0 || !strings.Contains(strings.Join(done.Sentences, " "), "the face went") {
		t.Errorf("%+v", done)
	}
	for _, row := range done.Rows {
		if row["number"] == "face_deg" && !(row["low"].(float64) < -3 && -3 < row["high"].(float64)) {
			t.Errorf("the face went 3° left: %v", row)
		}
	}
}

// A plan outlives restarts at every step: after the card, while a question waits,
// after it was answered; and nothing of it is left once its student is forgotten.
func TestPlanOverRestarts(t *testing.T) {
	t.Parallel()
	ctx, cancel := context.WithTimeout(t.Context(), 5*time.Minute)
	t.Cleanup(cancel)
	st := staged(t, ctx, fortnightBegins, pgtest.Path(t, filepath.Join(t.TempDir(), "rangepost.db")), nil)
	p := newPlay(ctx, st)
	again := func() {
		t.Helper()
		if p.err != nil {
			t.Fatal(p.err)
		}
		if err := errors.Join(st.leave(), st.enter(ctx, kept.log())); err != nil {
			t.Fatal(err)
		}
		if err := st.Connected(ctx, 1); err != nil {
			t.Fatal(err)
		}
	}
	p.setUp()
	p.at(2, 9, 0)
	card := p.slash(p.coach, p.odells, "plan", standin.Options{"against": "ball forward", "club": "pw", "change": "1.5", "claim": "it goes left"})
	again()
	card = p.press(p.coach, card, "Path further left")
	again()
	p.press(p.odell, card, "30 % sure")
	p.at(2, 17, 0)
	asked := p.hit(0, 6, 0)
	again()
	p.press(p.odell, asked, "Stopped after turn 6")
	again()
	if _, next, runs := p.plan(); p.err != nil || next != 6 || !runs {
		t.Fatalf("%d turns are hit, runs %v, %v", next, runs, p.err)
	}
	p.at(3, 17, 0)
	warm := p.hit(6, 99, 6)
	again()
	p.press(p.odell, warm, "6 warm-up balls first")
	card2, next, runs := p.plan()
	if p.err != nil || next <= 6 {
		t.Fatalf("%d turns are hit, %v", next, p.err)
	}
	if runs {
		p.at(4, 17, 0)
		p.hit(next, len(card2.Turns), 0)
	}
	if _, _, runs = p.plan(); p.err != nil || runs {
		t.Fatalf("the plan is not settled: %v", p.err)
	}
	sure := p.press(p.odell, p.slash(p.odell, p.odells, "mine forget", nil), "Delete it all")
	again()
	p.press(p.odell, sure, "Yes, delete it all")
	if p.err != nil {
		t.Fatal(p.err)
	}
	if left, err := st.db.Plans(ctx, p.server.ID, p.odell.ID); err != nil || len(left) != 0 {
		t.Errorf("plans left: %+v, %v", left, err)
	}
}
