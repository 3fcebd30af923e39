package plan_test

import (
	"fmt"
	"strings"
	"testing"

	"rangepost/analysis"
	"rangepost/analysis/plan"
	"rangepost/analysis/stat"
	"rangepost/analysis/trial"
	"rangepost/analysis/visits"
)

// fixed is how many balls a set a trial of one look needs to show a true change of
// d spreads of a ball four times in five, at the level of one of its rows, however
// many that are.
func fixed(d float64, sets int) int {
	level := 0.05 / float64((sets-1)*len(trial.DefaultNumbers()))
	for n := 2; ; n++ {
		if stat.NewBehrensFisherPower(n, n, level).Of(d) >= 0.8 {
			return n
		}
	}
}

// soon is what came of plans with a change of twice the practical zero.
type soon struct {
	right, answered, wrong share     // of all plans: moved within half as many balls again as the fixed trial; moved within the card; held
	fewer                  share     // moved with fewer balls than the fixed trial
	twice                  share     // moved within half as many balls again as a fixed trial for the true change
	over, overTwice        []float64 // balls until moved over those of the fixed trials; a plan that never says so counts twice its card
	card                   []float64 // the card's
}

// studySoon has students hit the cards that New makes for them.
func studySoon(t *testing.T) string {
	type group struct {
		w    weakness
		sets int
		kind string
		soon
	}
	var groups []*group
	drawn := weakness{"all as drawn", func(_, d visits.Golfer, _ float64) visits.Golfer { return d }}
	for _, w := range []weakness{weaknesses[0], drawn} {
		for _, sets := range []int{2, 3} {
			for _, kind := range []string{"face", "face and path"} {
				groups = append(groups, &group{w: w, sets: sets, kind: kind})
			}
		}
	}
	what := func(g *group) string { return fmt.Sprintf("%s, %s, %d sets", g.w.name, g.kind, g.sets) }
	t.Run("plans", func(t *testing.T) {
		for _, g := range groups {
			t.Run(what(g), func(t *testing.T) {
				t.Parallel()
				for i := range plansOf(twiceThat) {
					g.play(t, g.w, g.kind, g.sets, i)
				}
			})
		}
	})
	var out strings.Builder
	for _, g := range groups {
		atLeast(t, what(g)+": moved within 1.5 times the fixed trial", g.right, 0.8)
		atLeast(t, what(g)+": moved with fewer balls than the fixed trial", g.fewer, 0.5)
		atMost(t, what(g)+": held", g.wrong, 0.05)
		ratios := func(v []float64) string { return fmt.Sprintf("%.2f, %.2f", quantile(v, 0.5), quantile(v, 0.8)) }
		out.WriteString(line(what(g), g.right, g.answered, g.wrong, ratios(g.over), ratios(g.card), g.twice, ratios(g.overTwice)))
	}
	return "## How soon\n\n" +
		fmt.Sprintf("Each row has %d plans.\n", plansOf(twiceThat)) +
		"Plans about the face as New makes them from forty balls of the student's, the tried\n" +
		"sets moved by twice the practical zero: the face alone, or with a path that undoes a\n" +
		"quarter of it. Said to have moved (of three sets: with every set's answer) within 1.5\n" +
		"times the balls of the trial of one look that New sizes for the practical zero\n" +
		"(FixedASet); within the card; said to be held; balls over that trial's, median and\n" +
		"eightieth hundredth, a plan without an answer counting twice its card; the card's\n" +
		"balls over that trial's. Then against a trial of one look that is sized for the true\n" +
		"change, which nobody knows beforehand.\n\n" +
		heading("students", "within 1.5", "moved", "held", "balls/fixed", "card/fixed", "within 1.5 of one for the true change", "balls over that") +
		out.String() + "\n"
}

func (s *soon) play(t *testing.T, w weakness, kind string, sets, i int) {
	rng := drawOf(i, "soon", w.name, kind, fmt.Sprint(sets))
	g := w.student(rng)
	p := planFor(t, g, analysis.Face, sets, rng)
	way := float64(1 - 2*rng.IntN(2))
	effects := []visits.Effect{{}}
	for k := range sets - 1 {
		zeros := 2 * way * float64(1-2*k)
		e := visits.OnFace(zeros)
		if kind == "face and path" {
			e = visits.Compensating(g, zeros, 0.25)
		}
		effects = append(effects, e)
	}
	r := judged(t, p, hitBy(g, p, effects, rng))
	balls := float64(2 * p.BallsASet)
	if r.Status == plan.Moved {
		balls = float64(r.Ended) * float64(p.BallsASet) / float64(p.Blocks())
	}
	one, two := float64(p.FixedASet()), float64(fixed(2*p.Change/p.SD, sets))
	s.right.add(balls <= 1.5*one)
	s.fewer.add(balls < one)
	s.twice.add(balls <= 1.5*two)
	s.answered.add(r.Status == plan.Moved)
	s.wrong.add(r.Status == plan.Held)
	s.over, s.overTwice = append(s.over, balls/one), append(s.overTwice, balls/two)
	s.card = append(s.card, float64(p.BallsASet)/one)
}
