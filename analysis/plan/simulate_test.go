package plan_test

import (
	"flag"
	"fmt"
	"math/rand/v2"
	"slices"
	"testing"

	"rangepost/analysis"
	"rangepost/analysis/plan"
	"rangepost/analysis/stat"
	"rangepost/analysis/trial"
)

var simulate = flag.Int("simulate", 120, "simulated plans of each kind of golfer")

// tallied is what came of some plans.
type tallied struct {
	plans              int
	anyMoved, held     int
	missed             int   // plans in which limits at the stop miss some truth
	balls              []int // a set until there was an answer, sorted; more than the card's where none came
	median, fourFifths int
}

// tally hits and judges plans, each with a draw of its own.
func tally(t *testing.T, p plan.Plan, g golfer, seed uint64) (all tallied) {
	t.Helper()
	rng := rand.New(rand.NewPCG(seed, 99))
	statuses := map[plan.Status]int{}
	for range *simulate {
		p := again(p, rng)
		visits := g.hit(p, rng)
		r := judged(t, p, visits)
		all.plans++
		statuses[r.Status]++
		if slices.ContainsFunc(r.Rows, func(row trial.Row) bool {
			return row.Verdict == trial.Moved || row.Verdict == trial.MovedLittle
		}) {
			all.anyMoved++
		}
		blocks := p.Blocks() + 1
		if r.Status == plan.Moved || r.Status == plan.Held {
			blocks = r.Ended
		}
		all.balls = append(all.balls, blocks*p.BallsASet/p.Blocks())
		if r.Ended > 0 {
			r = judged(t, p, upTo(p, visits, r.Ended))
		}
		if slices.ContainsFunc(r.Rows, func(row trial.Row) bool {
			truth := g.truth(row)
			return row.OK && (truth < row.Low || truth > row.High)
		}) {
			all.missed++
		}
	}
	slices.Sort(all.balls)
	all.median, all.fourFifths = all.balls[all.plans/2], all.balls[all.plans*4/5]
	all.held = statuses[plan.Held]
	t.Logf("any moved %d of %d; ended %v; limits miss %d; balls a set: median %d, four in five %d, card %d, one look %d",
		all.anyMoved, all.plans, statuses, all.missed, all.median, all.fourFifths, p.BallsASet, p.FixedASet())
	return all
}

// again is the plan with another draw.
func again(p plan.Plan, rng *rand.Rand) plan.Plan {
	p.Turns = slices.Clone(p.Turns)
	sets := len(p.Labels)
	for b := range p.Blocks() {
		for k, set := range rng.Perm(sets) {
			p.Turns[b*sets+k].Set = set
		}
	}
	return p
}

// truth is the true difference of a row.
func (g golfer) truth(r trial.Row) float64 {
	if r.Set >= len(g.effect) {
		return 0
	}
	face, path := g.effect[r.Set], g.paths*g.effect[r.Set]
	switch r.Number {
	case analysis.Face:
		return face * analysis.Degree
	case analysis.Path:
		return path * analysis.Degree
	case analysis.FaceToPath:
		return (face - path) * analysis.Degree
	case analysis.Lateral:
		return 4*face - 1.6*path
	}
	return 0
}

var trouble = map[string]golfer{
	"plain":      {},
	"setup anew": {setup: 0.5},
	"streaks":    {streak: 0.35},
	"days":       {day: 1.5},
	"tiring":     {tiring: 2},
	"heavy":      {heavy: true},
	"missed":     {missed: 0.3},
	"all of it":  {setup: 0.5, streak: 0.35, day: 1, tiring: 2, heavy: true, missed: 0.1},
}

// What the doc promises, of golfers who do all that a plan does not presume. The
// figure that counts is taken on the plans of another hand's golfers.
func TestSimulated(t *testing.T) {
	for _, labels := range [][]string{{"normal", "stronger grip"}, {"normal", "stronger grip", "tee higher"}} {
		c := config()
		c.Labels, c.Earlier = labels, []analysis.Session{earlier(1, 400, faceSD)}
		p := made(t, c)
		for name, g := range trouble {
			t.Run(fmt.Sprintf("%s, %d sets", name, len(labels)), func(t *testing.T) {
				few := func(what string, k, n int) {
					if low, _, _ := stat.Wilson(k, n, 0.95); low > 0.05 {
						t.Errorf("%s in %d of %d plans", what, k, n)
					}
				}
				none := tally(t, p, g, 3)
				few("moved without a difference", none.anyMoved, none.plans)
				few("limits miss no difference", none.missed, none.plans)

				g.effect = []float64{0, 2, -2} // just what matters
				once := tally(t, p, g, 4)
				few("held falsely", once.held, once.plans)
				few("limits miss what matters", once.missed, once.plans)

				g.effect = []float64{0, 4, -4}
				twice := tally(t, p, g, 5)
				few("limits miss twice what matters", twice.missed, twice.plans)
				if one := p.FixedASet(); twice.median >= one || 2*twice.fourFifths > 3*one {
					t.Errorf("twice what matters takes %d balls a set and up to %d in four of five plans; one look wants %d", twice.median, twice.fourFifths, one)
				}
			})
		}
	}
}
