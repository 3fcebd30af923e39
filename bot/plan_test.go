package bot

import (
	"fmt"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"rangepost/analysis"
	"rangepost/analysis/plan"
	"rangepost/analysis/timeline"
	"rangepost/bot/record"
	"rangepost/store"
)

// hits is a file of balls hit for turns of a plan, with what the change does to the
// face: a table as devices write it.
func hits(rng *rand.Rand, turns []plan.Turn, first int, moves float64) string {
	var b strings.Builder
	b.WriteString("Club,Ball Speed (mph),Launch Angle (deg),Launch Direction (deg),Spin Rate (rpm),Spin Axis (deg),Carry (yd),Lateral (yd),Club Speed (mph),Attack Angle (deg),Club Path (deg),Face Angle (deg)\n")
	for range first {
		turns = append([]plan.Turn{{Set: 0, Balls: 1}}, turns...)
	}
	for _, t := range turns {
		for range t.Balls {
			path := 1 + 1.5*rng.NormFloat64()
			face := 2 + 1.2*rng.NormFloat64()
			if t.Set > 0 {
				face += moves
			}
			start, axis := 0.8*face+0.2*path, 4*(face-path)
			fmt.Fprintf(&b, "7i,%.1f,%.1f,%.1f,%.0f,%.1f,%.1f,%.1f,%.1f,%.1f,%.1f,%.1f\n",
				118+1.5*rng.NormFloat64(), 17+0.8*rng.NormFloat64(), start, 6400+200*rng.NormFloat64(), axis,
				158+3*rng.NormFloat64(), 158*(start*0.0175+axis*0.004), 85+0.8*rng.NormFloat64(), -3.5+rng.NormFloat64(), path, face)
		}
	}
	return b.String()
}

// A planner posts what was hit for a plan.
type planner struct {
	*desktop
	t    *testing.T
	rng  *rand.Rand
	sent int
}

func newPlanner(t *testing.T) *planner {
	return &planner{desktop: newDesktop(t), t: t, rng: rand.New(rand.NewPCG(5, 5))}
}

func (p *planner) plan() record.Plan {
	p.t.Helper()
	kept, err := p.db.LastPlan(p.t.Context(), "saltmarsh", student)
	if err != nil {
		p.t.Fatal(err)
	}
	now, err := p.records.Plan(p.t.Context(), kept)
	if err != nil {
		p.t.Fatal(err)
	}
	return now
}

// visit posts the turns from one to another, behind some warm-up balls.
func (p *planner) visit(from, to, warm int, moves float64) Reply {
	p.t.Helper()
	p.sent++
	p.days(1)
	return p.Handle(p.t.Context(), as(student, Request{
		ID: fmt.Sprintf("visit %d", p.sent), Kind: SubmitRequest, Path: path("posted", notSaid, notSaid),
		Fields: map[string]string{"rows": hits(p.rng, p.plan().Card.Turns[from:to], warm, moves)},
	}))
}

func visitEnd(card plan.Plan, from int) int {
	to := from
	for to < len(card.Turns) && card.Turns[to].Visit == card.Turns[from].Visit {
		to++
	}
	return to
}

// A plan from the card to its end: hit in visits, one with warm-up balls in front
// and one that stops early, each asked about with a press; it is settled as what
// the change did, once, and stays so.
func TestPlanFromCardToSettled(t *testing.T) {
	p := newPlanner(t)
	p.bind(student, coach)
	card := p.ask(student, "plan", "against", "stronger grip", "club", "7i", "change", "1", "claim", "a stronger grip closes the face")
	contained(t, "the card", card.Text, "as usual against", "Warm up first", `"stronger grip"`, "which way does the face go")
	if card.Picture == nil || !strings.Contains(card.Picture.Alt, "balls 1-") {
		t.Errorf("the card's picture: %+v", card.Picture)
	}
	id := p.plan().ID
	p.press(student, "claim", id, "-1")
	p.press(student, "expect", id, "90")
	p.press(coach, "expect", id, "30")

	const moves = -1.2
	first := visitEnd(p.plan().Card, 0)
	whole := p.visit(0, first, 0, moves)
	contained(t, "after a visit", whole.Text, fmt.Sprintf("Turn %d of", first), "Taken as: all of the visit")
	if p.plan().Next() != first {
		t.Fatalf("%d turns are hit, want %d", p.plan().Next(), first)
	}
	// Said to be otherwise, it is asked, and may be said to be so after all.
	latest, err := p.db.LatestSession(t.Context(), "saltmarsh", student)
	if err != nil {
		t.Fatal(err)
	}
	asked := p.press(student, "misplaced", latest.ID)
	contained(t, "misplaced", asked.Text, "What happened?")
	if p.plan().Next() != 0 {
		t.Error("the balls are still on the card")
	}
	p.press(student, "place", latest.ID, "whole")
	if next := p.plan().Next(); next != first {
		t.Fatalf("%d turns are hit, want %d: %s", next, first, whole.Text)
	}
	// Said of a ball: its set, which the card knows and the file did not.
	s, err := p.db.LatestSession(t.Context(), "saltmarsh", student)
	if err != nil {
		t.Fatal(err)
	}
	if s, err = p.db.SessionWithBalls(t.Context(), "saltmarsh", s.ID); err != nil {
		t.Fatal(err)
	}
	for i, shot := range s.Reading.Session.Shots[:12] {
		if want := p.plan().Card.Labels[p.plan().Card.Turns[i/p.plan().Card.Turns[0].Balls].Set]; shot.Label != want {
			t.Errorf("ball %d is labelled %q, want %q", i+1, shot.Label, want)
		}
	}
	for from, n := first, 0; p.plan().Runs() && from < len(p.plan().Card.Turns) && n < 9; n++ {
		to, warm := visitEnd(p.plan().Card, from), 0
		switch n {
		case 0:
			to = from + 3
		case 1:
			warm = 4
		}
		reply := p.visit(from, to, warm, moves)
		if p.plan().Next() < to {
			want := map[int]string{0: fmt.Sprintf("Stopped after turn %d", to), 1: "4 warm-up balls first"}[n]
			pressed := false
			for _, button := range reply.Rows[0].Buttons {
				if button.Label == want {
					pressed = true
					parts := strings.Split(button.Path, "/")
					reply = p.press(student, parts[1], parts[2:]...)
				}
			}
			if !pressed {
				t.Fatalf("visit %d: no button says %q: %s %+v", n, want, reply.Text, reply.Rows)
			}
		}
		if next := p.plan().Next(); next != to {
			t.Fatalf("visit %d: %d turns are hit, want %d: %s", n, next, to, reply.Text)
		}
		from = to
		if !p.plan().Runs() {
			contained(t, "the end", reply.Text, "The plan is settled", `with "stronger grip" the face went`, "further left", "What it asks of the club happens: the face goes further left")
		}
	}
	done := p.plan()
	if done.Runs() || done.Status != string(plan.Moved) || done.Found == nil {
		t.Fatalf("the plan is not settled: %+v", done.Result)
	}
	for who, want := range map[string]float64{student: 0.01, coach: 0.49} {
		score, err := p.records.Forecasts(t.Context(), "saltmarsh", who)
		if err != nil || score.N != 1 || score.Score < want-1e-9 || score.Score > want+1e-9 {
			t.Errorf("%s: %+v, %v, want %v", who, score, err, want)
		}
	}
	form := p.press(coach, "planbrief", id)
	if form.Modal == nil || !strings.Contains(form.Modal.Fields[0].Value, "face angle with the 7-iron between 0.5° left and 2.5° right of target, the set \"stronger grip\"") {
		t.Errorf("the brief from it: %+v", form.Modal)
	}
	// Its picture marks the plan whether or not somebody keeps what it moved.
	golfer, err := p.records.Golfer(t.Context(), "saltmarsh", student)
	if err != nil {
		t.Fatal(err)
	}
	for club, want := range map[string]int{"7i": 1, "driver": 0} {
		c, _ := analysis.ParseClub(club)
		in, err := timelineInput(t.Context(), p.Bot, golfer, []timeline.Result{{Number: analysis.Face, Club: c}})
		if err != nil || len(in.Plans) != want || want > 0 && in.Plans[0].Sets[0] != "stronger grip" {
			t.Errorf("the timeline of a %s marks %+v, %v", club, in.Plans, err)
		}
	}
	contained(t, "kept", p.press(coach, "plankept", id).Text, "Marked on the timeline")
	shown := p.ask(student, "plan")
	contained(t, "shown again", shown.Text, "The plan is settled")
	contained(t, "the roster", p.ask(coach, "roster").Text, "lan settled: the stronger grip closed the face")
	contained(t, "the timeline", p.ask(student, "timeline", "number", "face").Text, "Plan settled: the stronger grip closed the face", "What it asks of the club happens")
	contained(t, "the catch-up", p.ask(coach, "catch-up", "student", student).Text, "lan settled: the stronger grip closed the face")
	// What is posted after is none of its business.
	after := p.visit(0, 2, 0, moves)
	if strings.Contains(after.Text, "plan") {
		t.Errorf("a post after the end: %s", after.Text)
	}
}

// What stopped short between the places of a session's balls and what follows
// from them is made up for when it is looked at again.
func TestPlacedAndStopped(t *testing.T) {
	p := newPlanner(t)
	p.bind(student, coach)
	p.ask(student, "plan", "against", "stronger grip", "club", "7i", "change", "1.5")
	card := p.plan().Card
	to := visitEnd(card, 0) - 1
	contained(t, "the question", p.visit(0, to, 0, -6).Text, "What happened?")
	s, err := p.db.LatestSession(t.Context(), "saltmarsh", student)
	if err != nil {
		t.Fatal(err)
	}
	var turns []int
	for turn := range to {
		for range card.Turns[turn].Balls {
			turns = append(turns, turn)
		}
	}
	if err := p.db.Place(t.Context(), store.Placed{Session: s.ID, Plan: p.plan().ID, Reading: "stopped", Turns: turns}); err != nil {
		t.Fatal(err)
	}
	for range 2 { // and once done it stays
		answer, err := p.records.Reread(t.Context(), s)
		if err != nil {
			t.Fatal(err)
		}
		placing, err := p.records.ForPlan(t.Context(), &s, &answer)
		if err != nil || placing == nil || placing.Status != string(plan.Moved) || placing.Runs() {
			t.Fatalf("%+v, %v", placing, err)
		}
		if got, want := answer.Session.Shots[0].Label, card.Labels[card.Turns[0].Set]; got != want {
			t.Errorf("the first ball is labelled %q, want %q", got, want)
		}
	}
	// The desk tells of the plan, and not of the visit's own trial beside it.
	if roster := p.ask(coach, "roster").Text; strings.Count(roster, "the stronger grip") != 1 {
		t.Errorf("the roster tells more than once, or never, what the grip does: %s", roster)
	}
}

// Of a turn that was not hit the golfer is asked which it was, where the balls do
// not tell, and none of the others is lost.
func TestPlanTurnSkipped(t *testing.T) {
	p := newPlanner(t)
	p.ask(student, "plan", "against", "stronger grip", "club", "7i", "change", "1.5")
	turns := p.plan().Card.Turns
	end, skipped := visitEnd(p.plan().Card, 0), 2
	p.days(1)
	reply := p.Handle(t.Context(), as(student, Request{ID: "skipped", Kind: SubmitRequest, Path: path("posted", notSaid, notSaid),
		Fields: map[string]string{"rows": hits(p.rng, slices.Delete(slices.Clone(turns[:end]), skipped, skipped+1), 0, -1.5)}}))
	contained(t, "asked", reply.Text, "What happened?")
	var labels []string
	for _, row := range reply.Rows {
		if len(row.Buttons) > 5 {
			t.Errorf("%d buttons in a row", len(row.Buttons))
		}
		for _, b := range row.Buttons {
			labels = append(labels, b.Label)
		}
	}
	want := fmt.Sprintf("Turn %d skipped", skipped+1)
	if !slices.Contains(labels, want) {
		t.Fatalf("no button says %q: %q", want, labels)
	}
	p.do(student, reply, want)
	for _, turn := range p.plan().Placed[0].Turn {
		if turn == skipped || turn == plan.Nowhere {
			t.Fatalf("placed in %v", p.plan().Placed[0].Turn)
		}
	}
	if next := p.plan().Next(); next != end {
		t.Errorf("%d turns are hit, want %d", next, end)
	}
}

// A plan that nothing is hit for is the coach's to ask about.
func TestPlanStuck(t *testing.T) {
	p := newPlanner(t)
	p.bind(student, coach)
	p.ask(coach, "plan", "student", student, "against", "stronger grip", "club", "7i")
	p.days(6)
	if text := p.ask(coach, "roster").Text; strings.Contains(text, "lan of") {
		t.Errorf("after six days: %s", text)
	}
	p.days(2)
	contained(t, "the roster", p.ask(coach, "roster").Text, "not begun")
}

// Labels given by hand win over the card, and a plan that is ended asks nothing.
func TestPlanGivesWayToLabels(t *testing.T) {
	p := newPlanner(t)
	p.ask(student, "plan", "against", "stronger grip", "club", "7i", "change", "1.5")
	n := p.plan().Card.Turns[0].Balls
	p.days(1)
	rows := hits(p.rng, []plan.Turn{{Set: 0, Balls: n}, {Set: 1, Balls: n}}, 0, -3)
	p.Handle(t.Context(), as(student, Request{ID: "labelled", Kind: SubmitRequest, Path: path("posted", notSaid, notSaid),
		Fields: map[string]string{"rows": rows, "sets": fmt.Sprintf("1-%d stronger grip, %d-%d as usual", n, n+1, 2*n)}}))
	now := p.plan()
	if len(now.Placed) != 1 {
		t.Fatalf("%d sessions placed", len(now.Placed))
	}
	for i, turn := range now.Placed[0].Turn {
		if want := (i < n) == (now.Card.Turns[turn].Set == 1); !want {
			t.Errorf("ball %d is in turn %d of %q", i+1, turn+1, now.Card.Labels[now.Card.Turns[turn].Set])
		}
	}
	p.ask(student, "plan", "against", "none")
	reply := p.visit(2, 4, 0, -3)
	if strings.Contains(reply.Text, "plan") {
		t.Errorf("after its end: %s", reply.Text)
	}
}

// Balls that their own file labels go where the labels say; said not to be hit like
// that, they may be no balls of the plan, or those after all.
func TestPlanOfAFileWithLabels(t *testing.T) {
	p := newPlanner(t)
	p.ask(student, "plan", "against", "stronger grip", "club", "7i", "change", "1.5")
	n := p.plan().Card.Turns[0].Balls
	p.days(1)
	lines := strings.Split(strings.TrimSpace(hits(p.rng, []plan.Turn{{Set: 0, Balls: n}, {Set: 1, Balls: n}}, 0, -3)), "\n")
	for i := range lines {
		tag := "Tag"
		if i > 0 {
			tag = map[bool]string{true: "normal", false: "stronger grip"}[i <= n]
		}
		lines[i] = tag + "," + lines[i]
	}
	taken := p.Handle(t.Context(), as(student, Request{ID: "tagged", Kind: SubmitRequest, Path: path("posted", notSaid, notSaid),
		Fields: map[string]string{"rows": strings.Join(lines, "\n")}}))
	contained(t, "posted", taken.Text, "as labelled by hand")
	latest, err := p.db.LatestSession(t.Context(), "saltmarsh", student)
	if err != nil {
		t.Fatal(err)
	}
	asked := p.press(student, "misplaced", latest.ID)
	contained(t, "misplaced", asked.Text, "What happened?")
	p.press(student, "place", latest.ID, "none")
	if next := p.plan().Next(); next != 0 {
		t.Errorf("%d turns are hit by balls of no plan", next)
	}
	contained(t, "after all", p.press(student, "place", latest.ID, "labels").Text, "Turn ")
	if next := p.plan().Next(); next == 0 {
		t.Error("after all they are not on the card")
	}
}

// Asked for what makes no plan, it says what to do.
func TestPlanRefused(t *testing.T) {
	p := newPlanner(t)
	for _, c := range []struct {
		want    string
		options []string
	}{
		{"A plan is for one club", []string{"against", "stronger grip"}},
		{"too many", []string{"against", "a, b, c", "club", "7i"}},
		{"no change of a number", []string{"against", "a", "club", "7i", "number", "face", "change", "much"}},
		{"not a number I know", []string{"against", "a", "club", "7i", "number", "luck"}},
		{"Two sets are called", []string{"against", "as usual", "club", "7i"}},
	} {
		if reply := p.ask(student, "plan", c.options...); !strings.Contains(reply.Text, c.want) || !reply.Private {
			t.Errorf("%v: %q", c.options, reply.Text)
		}
	}
	if reply := p.ask(student, "plan"); !strings.Contains(reply.Text, "No plan is under way") {
		t.Errorf("none: %q", reply.Text)
	}
}
