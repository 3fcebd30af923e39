package plan_test

import (
	"fmt"
	"math/rand/v2"
	"strings"
	"testing"

	"rangepost/analysis"
	"rangepost/analysis/plan"
	"rangepost/analysis/trial"
	"rangepost/analysis/visits"
)

// A weakness is what a student has beside balls that scatter independently and
// normally about one mean.
type weakness struct {
	name string
	of   func(steady, drawn visits.Golfer, way float64) visits.Golfer
}

// asLarge is how far the tiring ones drift over a visit: as far as a change of twice
// the practical zero.
var asLarge = 2 * visits.Zero()

var weaknesses = []weakness{
	{"none", func(g, _ visits.Golfer, _ float64) visits.Golfer { return g }},
	{"balls alike", func(g, _ visits.Golfer, way float64) visits.Golfer {
		g.Serial, g.FacePath = 0.35, 0.3*way
		return g
	}},
	{"turns", func(g, _ visits.Golfer, _ float64) visits.Golfer {
		g.TurnSD = everywhere(0.6*analysis.Degree, g)
		return g
	}},
	{"visits", func(g, d visits.Golfer, _ float64) visits.Golfer {
		g.VisitSD = d.VisitSD
		return g
	}},
	{"warming up", func(g, _ visits.Golfer, way float64) visits.Golfer {
		g.Warm, g.WarmBalls = everywhere(2*way*analysis.Degree, g), 15
		return g
	}},
	{"tiring", func(g, _ visits.Golfer, way float64) visits.Golfer {
		g.Tire = everywhere(asLarge*way, g)
		return g
	}},
	{"t5 tails", func(g, _ visits.Golfer, _ float64) visits.Golfer {
		g.Tails = visits.Heavy
		return g
	}},
	{"skew", func(g, _ visits.Golfer, _ float64) visits.Golfer {
		g.Tails = visits.Skewed
		return g
	}},
	{"mishits", func(g, _ visits.Golfer, _ float64) visits.Golfer {
		g.Mishits = 0.06
		return g
	}},
	{"all as drawn", func(_, d visits.Golfer, way float64) visits.Golfer {
		d.Tire = everywhere(asLarge*way, d)
		return d
	}},
}

// student draws one with a weakness.
func (w weakness) student(rng *rand.Rand) visits.Golfer {
	drawn := visits.NewGolfer(rng)
	steady := drawn
	steady.VisitSD, steady.TurnSD, steady.Warm, steady.Tire = analysis.Delivery{}, analysis.Delivery{}, analysis.Delivery{}, analysis.Delivery{}
	steady.Serial, steady.FacePath, steady.Mishits, steady.Tails = 0, 0, 0, visits.Normal
	return w.of(steady, drawn, float64(1-2*rng.IntN(2)))
}

// everywhere is so much on every angle, and on speed and strike the same part of
// a ball's scatter that it is of the face's.
func everywhere(angle float64, g visits.Golfer) analysis.Delivery {
	part := angle / g.SD.Face
	return analysis.Delivery{
		Attack: angle, Path: angle, Face: angle, DynamicLoft: angle,
		ClubSpeed: part * g.SD.ClubSpeed, StrikeToe: part * g.SD.StrikeToe, StrikeUp: part * g.SD.StrikeUp,
	}
}

// shifted are the numbers that an effect can move by so much and no more.
var shifted = []analysis.Number{analysis.Face, analysis.Path, analysis.FaceToPath, analysis.Attack, analysis.DynamicLoft, analysis.ClubSpeed}

// moving is an effect that changes the mean of one number by so much, and of no
// other that a plan could be about but those that follow from it.
func moving(n analysis.Number, by float64) visits.Effect {
	var e visits.Effect
	switch n {
	case analysis.Path:
		e.Shift.Path = by
	case analysis.Attack:
		e.Shift.Attack = by
	case analysis.DynamicLoft:
		e.Shift.DynamicLoft = by
	case analysis.ClubSpeed:
		e.Shift.ClubSpeed = by
	default: // face, and face-to-path with it
		e.Shift.Face = by
	}
	return e
}

// sixty lays the card out anew: sixty turns of five balls in five visits, the order
// drawn by chance in every block.
func sixty(p plan.Plan, rng *rand.Rand) plan.Plan {
	const turns, visits, balls = 60, 5, 5
	sets := len(p.Labels)
	p.Turns = nil
	for b := range turns / sets {
		for _, set := range rng.Perm(sets) {
			p.Turns = append(p.Turns, plan.Turn{Set: set, Balls: balls, Block: b, Visit: b * visits * sets / turns})
		}
	}
	return p
}

// The true differences of a set, in changes that matter.
const (
	noDifference = "no difference"
	justTheOne   = "just the change"
	more         = "1.2 changes"
	twiceThat    = "two changes"
	scatterAlone = "scatter alone"
)

var differences = []string{noDifference, scatterAlone, justTheOne, more, twiceThat}

var changes = map[string]float64{justTheOne: 1, more: 1.2, twiceThat: 2}

// honest is what came of plans: those in which anything moved falsely, the number
// of interest was held falsely, any number was, and every row's limits at the end
// held the truth; and the rows that did.
type honest struct{ moved, held, anyHeld, inside, rows share }

func (h *honest) plus(o honest) {
	for _, x := range []struct{ to, from *share }{
		{&h.moved, &o.moved}, {&h.held, &o.held}, {&h.anyHeld, &o.anyHeld}, {&h.inside, &o.inside}, {&h.rows, &o.rows},
	} {
		x.to.of += x.from.of
		x.to.all += x.from.all
	}
}

// plansOf is how many plans there are of a difference: the most of none, which has
// the sharpest promise.
func plansOf(difference string) int {
	if difference == noDifference {
		return *visitPlans
	}
	return (*visitPlans + 1) / 2
}

// studyHonest has students of every weakness hit cards of sixty turns.
func studyHonest(t *testing.T) string {
	var said, limits strings.Builder
	all := map[string]honest{}
	show := func(name string, by map[string]honest) {
		for _, d := range differences {
			h, what := by[d], name+", "+d+": "
			atMost(t, what+"moved", h.moved, 0.05)
			atMost(t, what+"held", h.held, 0.05)
			atLeast(t, what+"limits at the stop hold every truth", h.inside, 0.95)
		}
		none, just := by[noDifference], by[justTheOne]
		said.WriteString(line(name, none.moved, by[scatterAlone].moved, just.held, just.anyHeld, by[more].held, by[more].anyHeld))
		cells := []any{name}
		for _, d := range []string{noDifference, justTheOne, twiceThat} {
			cells = append(cells, by[d].inside, by[d].rows)
		}
		limits.WriteString(line(cells...))
	}
	came := make([]honest, len(weaknesses)*len(differences))
	t.Run("plans", func(t *testing.T) {
		for k := range came {
			w, d := weaknesses[k/len(differences)], differences[k%len(differences)]
			t.Run(w.name+", "+d, func(t *testing.T) {
				t.Parallel()
				for i := range plansOf(d) {
					came[k].play(t, w, d, i)
				}
				t.Logf("%+v", came[k])
			})
		}
	})
	for k, w := range weaknesses {
		by := map[string]honest{}
		for j, d := range differences {
			h := came[k*len(differences)+j]
			by[d] = h
			sum := all[d]
			sum.plus(h)
			all[d] = sum
		}
		show(w.name, by)
	}
	show("together", all)
	return "## Honest however often one looks\n\n" +
		"Sixty turns of five balls in five visits, two sets and in one plan of three three;\n" +
		"the number of interest is any that trials compare or, where there is a change, one\n" +
		"of the delivery, and a third set changes the other way. Students have one weakness of\n" +
		"those in analysis/visits and no other; the tiring ones drift by twice the practical\n" +
		"zero over a visit. \"All as drawn\" have all, and tire as much. \"Moved\": a\n" +
		"number of any set is said to have moved, at any look, whose mean has not. \"Scatter\n" +
		"alone\": face and path of the tried sets scatter 1.6 or 0.6 times as much, and no mean\n" +
		"of the delivery differs. \"Held\": the number of interest is said to be held in any set,\n" +
		"at any look, where its true change is just the one that matters, or 1.2 times that;\n" +
		"\"any held\": any number whose true change is its practical zero or more, which is\n" +
		"promised number by number only.\n\n" +
		fmt.Sprintf("Each row has %d plans of no difference and %d of every other.\n", plansOf(noDifference), plansOf(twiceThat)) +
		fmt.Sprintf("One plan in %d was judged after every turn, each turn posted by itself: nothing was\n", lookedAt) +
		"said on the way that was not said at the end, and it ended at the same block. The\n" +
		"others were judged when they ended and when the card was hit.\n\n" +
		heading("weakness", "moved, no difference", "moved, scatter alone", "held, just the change", "any held", "held, 1.2 changes", "any held") +
		said.String() +
		"\nLimits where the plan ended, or at its last ball: plans whose every row holds its\n" +
		"truth, and rows that do.\n\n" +
		heading("weakness", "no difference", "rows", "just the change", "rows", "two changes", "rows") +
		limits.String() + "\n"
}

// lookedAt is how many plans go for one that is looked at turn by turn. The others
// are looked at when they ended and when the card was hit, which has to be the same.
const lookedAt = 10

func (h *honest) play(t *testing.T, w weakness, difference string, i int) {
	rng := drawOf(i, "honest", w.name, difference)
	g := w.student(rng)
	sets := 2
	if i%3 == 2 {
		sets = 3
	}
	numbers := trial.DefaultNumbers()
	if changes[difference] > 0 {
		numbers = shifted
	}
	number := numbers[rng.IntN(len(numbers))]
	p := sixty(planFor(t, g, number, sets, rng), rng)
	by := changes[difference] * p.Change * float64(1-2*rng.IntN(2))
	effects := []visits.Effect{{}, moving(number, by), moving(number, -by)}[:sets]
	if difference == scatterAlone {
		for k := range effects[1:] {
			effects[1+k] = visits.OnSpread([]float64{1.6, 0.6}[(i+k)%2])
		}
	}
	hit := hitBy(g, p, effects, rng)
	last := judged(t, p, hit)
	if i%lookedAt == 0 {
		looks(t, p, hit, last)
	}

	known := map[[2]int]float64{} // what the ball does takes its time
	truth := func(r trial.Row) float64 {
		key := [2]int{r.Set, int(r.Number)}
		if _, ok := known[key]; !ok && effects[r.Set] != (visits.Effect{}) {
			v, ok := g.Truth(effects[r.Set], r.Number)
			if !ok {
				t.Fatalf("no truth of %v", r.Number)
			}
			known[key] = v
		}
		return known[key]
	}
	moved, held, anyHeld := false, false, false
	for _, r := range last.Rows {
		moved = moved || says(r, trial.Moved) && truth(r) == 0
		if says(r, trial.Held) && abs(truth(r)) > r.Zero*(1-1e-9) {
			anyHeld = true
			held = held || r.Number == number
		}
	}
	h.moved.add(moved)
	h.held.add(held || changes[difference] >= 1 && last.Status == plan.Held)
	h.anyHeld.add(anyHeld)
	if difference == more || difference == scatterAlone {
		return
	}
	stop := last
	if last.Ended > 0 {
		stop = judged(t, p, upTo(p, hit, last.Ended))
	}
	outside := false
	for _, r := range stop.Rows {
		if r.OK {
			inside := r.Low <= truth(r) && truth(r) <= r.High
			h.rows.add(inside)
			outside = outside || !inside
		}
	}
	h.inside.add(!outside)
}

func abs(x float64) float64 { return max(x, -x) }

// says reports whether a row says moved, or held; it may say both.
func says(r trial.Row, v trial.Verdict) bool {
	return r.Verdict == v || r.Verdict == trial.MovedLittle && (v == trial.Moved || v == trial.Held)
}

// looks posts a plan turn by turn and judges it after each: nothing may be said on
// the way that is not said at the end, the end has to come at the same block, and an
// end stays.
func looks(t *testing.T, p plan.Plan, hit []plan.Placed, last plan.Result) {
	t.Helper()
	type finding struct {
		set int
		n   analysis.Number
		v   trial.Verdict
	}
	found := func(r plan.Result) map[finding]bool {
		all := map[finding]bool{}
		for _, row := range r.Rows {
			for _, v := range []trial.Verdict{trial.Moved, trial.Held} {
				// What is held of other numbers goes by the means of the balls so far.
				if says(row, v) && (v == trial.Moved || row.Number == p.Number) {
					all[finding{row.Set, row.Number, v}] = true
				}
			}
		}
		return all
	}
	end := found(last)
	var posted []plan.Placed
	status := plan.Going
	for _, v := range hit {
		for from := 0; from < len(v.Turn); {
			to := from + 1
			for to < len(v.Turn) && v.Turn[to] == v.Turn[from] {
				to++
			}
			s := v.Session
			s.Shots = s.Shots[from:to]
			posted = append(posted, plan.Placed{Session: s, Turn: v.Turn[from:to]})
			from = to
			r := judged(t, p, posted)
			for f := range found(r) {
				if !end[f] {
					t.Errorf("%v of set %d is %s after %d turns and no longer at the end", f.n, f.set, f.v, len(posted))
				}
			}
			if status != plan.Going && r.Status != status {
				t.Errorf("%s after %d turns, %s before", r.Status, len(posted), status)
			}
			status = r.Status
		}
	}
	if status != last.Status {
		t.Errorf("%s turn by turn, %s at once", status, last.Status)
	}
}
