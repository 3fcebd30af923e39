package plan_test

import (
	"math"
	"math/rand/v2"
	"reflect"
	"slices"
	"testing"
	"time"

	"rangepost/analysis"
	"rangepost/analysis/plan"
	"rangepost/analysis/trial"
)

func judged(t testing.TB, p plan.Plan, visits []plan.Placed) plan.Result {
	t.Helper()
	r, err := p.Judge(visits, plan.Worths{})
	if err != nil {
		t.Fatal(err)
	}
	return r
}

func rowOf(t *testing.T, r plan.Result, set int, n analysis.Number) trial.Row {
	t.Helper()
	i := slices.IndexFunc(r.Rows, func(row trial.Row) bool { return row.Set == set && row.Number == n })
	if i < 0 {
		t.Fatalf("no row of %s in set %d", n, set)
	}
	return r.Rows[i]
}

// faces are visits in which every ball of turn i has the face faces[i], in degrees.
func faces(p plan.Plan, faces ...float64) []plan.Placed {
	var v plan.Placed
	for i, face := range faces {
		for range p.Turns[i].Balls {
			v.Session.Shots = append(v.Session.Shots, analysis.Shot{Club: p.Club}.With(analysis.Face, face*analysis.Degree))
			v.Turn = append(v.Turn, i)
		}
	}
	return []plan.Placed{v}
}

// inOrder is a plan whose blocks all begin with the usual set.
func inOrder(t testing.TB, labels ...string) plan.Plan {
	c := config()
	c.Labels = labels
	p := made(t, c)
	for i := range p.Turns {
		p.Turns[i].Set = i % len(labels)
	}
	return p
}

// A hand-made plan: the rows are the mean of the blocks' differences.
func TestDifferences(t *testing.T) {
	p := inOrder(t, "normal", "stronger grip")
	r := judged(t, p, faces(p, 1, 0, 2, 0, 5, 2, 2, 1)) // differences -1, -2, -3, -1
	row := rowOf(t, r, 1, analysis.Face)
	if math.Abs(row.Difference/analysis.Degree+1.75) > 1e-9 || row.Base != 4*p.Turns[0].Balls || row.Here != row.Base {
		t.Errorf("row %+v", row)
	}
	if r.Status != plan.Going || r.Blocks != 4 || r.Incomplete != 0 || r.Late != 0 || len(r.Rows) != 1 {
		t.Errorf("result %+v", r)
	}
	if row.Zero != p.Change {
		t.Errorf("the change that matters is %v, the row's %v", p.Change, row.Zero)
	}
	if !(r.Chance > 0.05 && r.Chance <= 1) || r.MoreBalls < 1 || r.MoreBalls > p.BallsASet {
		t.Errorf("chance %v, %d more balls", r.Chance, r.MoreBalls)
	}
}

// Before a ball is hit it goes on, without rows.
func TestBeforeTheFirstBall(t *testing.T) {
	p := inOrder(t, "normal", "stronger grip", "tee higher")
	r := judged(t, p, nil)
	if r.Status != plan.Going || len(r.Rows) != 0 || r.MoreBalls < 1 || r.MoreBalls > p.BallsASet || r.Chance < 0.5 {
		t.Errorf("result %+v", r)
	}
}

// However the balls are posted, turn by turn, in visits or at once, the plan ends
// at the same block in the same way, and what it found stays.
func TestLooks(t *testing.T) {
	rng := rand.New(rand.NewPCG(5, 6))
	ended := map[plan.Status]int{}
	for range 40 {
		c := config()
		c.Seed = rng.Uint64()
		if rng.IntN(2) == 0 {
			c.Labels = append(c.Labels, "tee higher")
		}
		p := made(t, c)
		g := golfer{effect: []float64{0, 5 * float64(rng.IntN(2)) * rng.Float64(), -3 * float64(rng.IntN(2))}, setup: 0.5, missed: 0.05}
		visits := g.hit(p, rng)
		whole := judged(t, p, visits)
		ended[whole.Status]++
		var byTurn []plan.Placed
		status := plan.Going
		for i := range p.Turns {
			var turn plan.Placed
			for _, v := range visits {
				for k, at := range v.Turn {
					if at == i {
						turn.Session.Shots = append(turn.Session.Shots, v.Session.Shots[k])
						turn.Turn = append(turn.Turn, at)
					}
				}
			}
			byTurn = append(byTurn, turn)
			r := judged(t, p, byTurn)
			if status != plan.Going && r.Status != status {
				t.Fatalf("%s after turn %d, where it was %s", r.Status, i, status)
			}
			status = r.Status
			if status != plan.Going && r.Ended == whole.Ended && r.Status != whole.Status {
				t.Errorf("%s by turns, %s at once", r.Status, whole.Status)
			}
		}
		last := judged(t, p, byTurn)
		if last.Status != plan.Going {
			before, then := judged(t, p, byTurn[:last.Visit]), judged(t, p, byTurn[:last.Visit+1])
			if before.Status != plan.Going || then.Status != last.Status {
				t.Errorf("said to have ended with turn %d: %s before, %s after", last.Visit, before.Status, then.Status)
			}
		}
		last.Visit, whole.Visit = 0, 0
		if !reflect.DeepEqual(last, whole) {
			t.Errorf("by turns %s after %d, at once %s after %d, or other rows", last.Status, last.Ended, whole.Status, whole.Ended)
		}
	}
	for _, s := range []plan.Status{plan.Moved, plan.Held, plan.Futile} {
		if ended[s] == 0 {
			t.Errorf("no plan ended %s: %v", s, ended)
		}
	}
}

// A mirror turns every difference round and changes no verdict.
func TestMirrored(t *testing.T) {
	rng := rand.New(rand.NewPCG(7, 8))
	p := made(t, config())
	visits := golfer{effect: []float64{0, 3}, paths: 0.5}.hit(p, rng)
	a := judged(t, p, visits)
	for _, v := range visits {
		for i := range v.Session.Shots {
			v.Session.Shots[i] = v.Session.Shots[i].Mirrored()
		}
	}
	b := judged(t, p, visits)
	if a.Status != b.Status || a.Ended != b.Ended {
		t.Errorf("%s after %d, in a mirror %s after %d", a.Status, a.Ended, b.Status, b.Ended)
	}
	for i, row := range a.Rows {
		if other := b.Rows[i]; row.Number.Info().Sideways && (math.Abs(row.Difference+other.Difference) > 1e-12 ||
			math.Abs(row.Low+other.High) > 1e-9 || row.Verdict != other.Verdict || math.Abs(row.PAdjusted-other.PAdjusted) > 1e-9) {
			t.Errorf("%+v\nin a mirror %+v", row, other)
		}
	}
}

// A level that every ball of a visit has, however large, is no difference, and a
// ball set aside or none of the card's is not looked at.
func TestWhatDoesNotCount(t *testing.T) {
	rng := rand.New(rand.NewPCG(9, 10))
	p := made(t, config())
	visits := golfer{effect: []float64{0, 2}}.hit(p, rng)
	plain := judged(t, p, visits)
	for v := range visits {
		s := &visits[v].Session
		for i := range s.Shots {
			face, _ := s.Shots[i].Value(analysis.Face)
			s.Shots[i] = s.Shots[i].With(analysis.Face, face+float64(10*v)*analysis.Degree)
		}
		wild := analysis.Shot{}.With(analysis.Face, 40*analysis.Degree)
		s.Shots = append(s.Shots, wild)
		visits[v].Turn = append(visits[v].Turn, plan.Nowhere)
		wild.Aside = analysis.Mishit
		s.Shots = append([]analysis.Shot{wild}, s.Shots...)
		visits[v].Turn = append([]int{visits[v].Turn[0]}, visits[v].Turn...)
	}
	other := judged(t, p, visits)
	a, b := rowOf(t, plain, 1, analysis.Face), rowOf(t, other, 1, analysis.Face)
	if plain.Status != other.Status || plain.Ended != other.Ended || math.Abs(a.Difference-b.Difference) > 1e-9 || math.Abs(a.Low-b.Low) > 1e-9 {
		t.Errorf("%+v\nwith days and wild balls %+v", a, b)
	}
}

func TestMissingTurns(t *testing.T) {
	p := inOrder(t, "normal", "stronger grip")
	visits := faces(p, 1, 0, 2, 0, 5, 2)
	day := time.Date(2026, 5, 1, 10, 0, 0, 0, time.UTC)
	visits[0].Session.When = day
	drop := func(v []plan.Placed, turn int) {
		for k, at := range v[0].Turn {
			if at == turn {
				v[0].Turn[k] = plan.Nowhere
			}
		}
	}
	drop(visits, 3)
	r := judged(t, p, visits)
	if row := rowOf(t, r, 1, analysis.Face); r.Incomplete != 1 || r.Blocks != 2 || math.Abs(row.Difference/analysis.Degree+2) > 1e-9 {
		t.Errorf("a turn was skipped: %+v", r)
	}
	// The turn is made up for: at once it counts, on another day it does not.
	for _, later := range []struct {
		after              time.Duration
		blocks, incomplete int
	}{{time.Hour, 3, 0}, {48 * time.Hour, 2, 1}} {
		more := faces(p, 0, 0, 0, 1)[0]
		more.Session.When = day.Add(later.after)
		for k := range more.Turn {
			if more.Turn[k] != 3 {
				more.Turn[k] = plan.Nowhere
			}
		}
		r := judged(t, p, append(slices.Clone(visits), more))
		if r.Blocks != later.blocks || r.Incomplete != later.incomplete {
			t.Errorf("made up %v later: %d blocks, %d incomplete", later.after, r.Blocks, r.Incomplete)
		}
	}
	// Balls for a turn that was compared come too late.
	late := judged(t, p, append(slices.Clone(visits), faces(p, 9)[0]))
	if late.Late != p.Turns[0].Balls || !reflect.DeepEqual(late.Rows, r.Rows) {
		t.Errorf("%d late; rows %+v", late.Late, late.Rows)
	}
}

// With two to try, one answered and one not: it goes on, and the turn of one
// missing does not cost the other its block.
func TestTwoToTry(t *testing.T) {
	p := inOrder(t, "normal", "stronger grip", "tee higher")
	rng := rand.New(rand.NewPCG(11, 12))
	var turns []float64
	n := 12
	for range n {
		turns = append(turns, 0.2*rng.NormFloat64(), 8+0.2*rng.NormFloat64(), 2+3*rng.NormFloat64())
	}
	r := judged(t, p, faces(p, turns...))
	if a, b := rowOf(t, r, 1, analysis.Face), rowOf(t, r, 2, analysis.Face); a.Verdict != trial.Moved || b.Verdict != trial.CannotTell || r.Status != plan.Going {
		t.Errorf("%s; %s and %s", r.Status, a.Verdict, b.Verdict)
	}
	visits := faces(p, turns...)
	for k, at := range visits[0].Turn {
		if at == 5 {
			visits[0].Turn[k] = plan.Nowhere
		}
	}
	r = judged(t, p, visits)
	if a, b := rowOf(t, r, 1, analysis.Face), rowOf(t, r, 2, analysis.Face); a.Here != n*p.Turns[0].Balls || b.Here != (n-1)*p.Turns[0].Balls {
		t.Errorf("%d and %d balls", a.Here, b.Here)
	}
}

// At the end of the card without an answer nothing is left to hit.
func TestTheEndOfTheCard(t *testing.T) {
	p := inOrder(t, "normal", "stronger grip")
	var turns []float64
	for b := range p.Blocks() {
		turns = append(turns, 0, []float64{-9, 12}[b%2])
	}
	r := judged(t, p, faces(p, turns...))
	if r.Status != plan.Futile || r.Ended == 0 || r.MoreBalls != 0 {
		t.Errorf("%+v", r)
	}
}

// The number of interest was never measured: no answer will come.
func TestNotMeasured(t *testing.T) {
	c := config()
	c.Number, c.Change = analysis.Attack, 0
	p := made(t, c)
	all := make([]float64, len(p.Turns))
	r := judged(t, p, faces(p, all...))
	if r.Status != plan.Futile || len(r.Rows) != 1 || r.Rows[0].Number != analysis.Face {
		t.Errorf("%+v", r)
	}
}

func TestPlacesThatDoNotFit(t *testing.T) {
	p := made(t, config())
	for what, visits := range map[string][]plan.Placed{
		"no places": {{Session: analysis.Session{Shots: make([]analysis.Shot, 1)}}},
		"no turn":   {{Session: analysis.Session{Shots: make([]analysis.Shot, 1)}, Turn: []int{len(p.Turns)}}},
		"below":     {{Session: analysis.Session{Shots: make([]analysis.Shot, 1)}, Turn: []int{-2}}},
	} {
		if _, err := p.Judge(visits, plan.Worths{}); err == nil {
			t.Errorf("%s: no error", what)
		}
	}
	if _, err := (plan.Plan{}).Judge(nil, plan.Worths{}); err == nil {
		t.Error("no plan: no error")
	}
}

// The path goes half the way after the face; what a degree is worth says how
// much of the miss that cancels. Days that differ do not widen its limits.
func TestCompensation(t *testing.T) {
	rng := rand.New(rand.NewPCG(13, 14))
	p := made(t, config())
	g := golfer{effect: []float64{0, 5}, paths: 1.25} // 20 m of face, -10 m of path
	visits := g.hit(p, rng)
	r, err := p.Judge(visits, worths)
	if err != nil || len(r.Compensations) != 1 {
		t.Fatal(r.Compensations, err)
	}
	c := r.Compensations[0]
	if !c.OK || c.Low > 0.5 || c.High < 0.5 || !c.Opposed {
		t.Errorf("half was cancelled: %+v", c)
	}
	for v := range visits {
		for i, s := range visits[v].Session.Shots {
			face, _ := s.Value(analysis.Face)
			visits[v].Session.Shots[i] = s.With(analysis.Face, face+float64(20*v)*analysis.Degree)
		}
	}
	r, err = p.Judge(visits, worths)
	if err != nil || len(r.Compensations) != 1 || math.Abs(r.Compensations[0].High-c.High) > 0.02 {
		t.Errorf("with days: %+v, %v", r.Compensations, err)
	}
	whole, ok, err := p.Trial(visits, worths)
	if err != nil || !ok || len(trial.Observations(whole)) == 0 {
		t.Errorf("no observation of the tool: %v, %v", whole, err)
	}
	if none := judged(t, p, visits); none.Compensations != nil {
		t.Errorf("without worths: %+v", none.Compensations)
	}
}
