package trial

import (
	"fmt"
	"math"
	"math/rand/v2"

	"rangepost/analysis"
	"rangepost/analysis/pattern"
	"rangepost/analysis/stat"
)

// Of compares every set that was hit with the baseline's club with the set at
// index baseline. Shots set aside count in Side.Balls and nowhere else.
func Of(sets []analysis.Set, baseline int, c Config) (Result, error) {
	switch {
	case len(sets) < 2:
		return Result{}, analysis.Refuse("Label the balls in sets of their own.", "A trial needs a baseline and at least one other set.")
	case baseline < 0 || baseline >= len(sets):
		return Result{}, analysis.Refuse(fmt.Sprintf("The baseline is one of %d sets.", len(sets)), "There is no set %d.", baseline+1)
	}
	compared := []analysis.Set{sets[baseline]}
	otherClub := 0
	for i, s := range sets {
		switch {
		case i == baseline:
		case s.Club != sets[baseline].Club:
			otherClub++
		default:
			compared = append(compared, s)
		}
	}
	switch {
	case len(compared) < 2:
		return Result{}, analysis.Refuse("Compare sets of one club.", "No other set was hit with the baseline's club.")
	case len(compared) > MaxSets+1:
		return Result{}, analysis.Refuse(fmt.Sprintf("At most %d compare: give those that belong together one name.", MaxSets+1), "%d sets are too many for one trial.", len(compared))
	}

	t := newTrial(compared, c)
	r := Result{Sets: t.sides()}
	r.Rows = t.rows()
	r.Compensations = t.compensations()
	r.Warnings = t.warnings(r, otherClub)
	return r, nil
}

// trial is the balls of a comparison, laid out by number.
type trial struct {
	Config
	sets    []analysis.Set
	used    [][]analysis.Shot
	columns []column
	carry   float64 // mean of the baseline, 0 if unknown
	counts  float64 // what part of its balls a set counts for in streaks, 0 where that is all of them
	rng     *rand.Rand
}

// column is one number of every set.
type column struct {
	number   analysis.Number
	values   [][]float64
	samples  []stat.Sample
	inferred bool
	zero     float64
	sd       float64 // of one ball, over all sets; 0 if it cannot be told
}

func newTrial(sets []analysis.Set, c Config) *trial {
	t := &trial{Config: c, sets: sets, rng: rand.New(rand.NewPCG(c.Seed, 0x7472_6961_6c))}
	for _, s := range sets {
		t.used = append(t.used, s.Used())
	}
	for _, used := range t.used { // the baseline's carry, or the first that is known
		if carries, _ := analysis.Values(used, analysis.Carry); len(carries) > 0 {
			t.carry = stat.SampleOf(carries).Mean
			break
		}
	}
	// Streaks that cost the limits less than a twentieth are not told from none.
	streak := pattern.StreakAcross(t.used...)
	if streak.Effective() < 0.9*float64(streak.N) {
		t.counts = streak.Effective() / float64(streak.N)
	}
	for _, n := range c.numbers() {
		col := column{number: n}
		for _, used := range t.used {
			values, at := analysis.Values(used, n)
			for _, i := range at {
				col.inferred = col.inferred || used[i].Inferred(n)
			}
			col.values = append(col.values, values)
			sample := stat.SampleOf(values)
			col.samples = append(col.samples, t.sample(sample.N, sample.Mean, sample.Variance))
		}
		col.zero = c.zero(n, col.samples[0].Mean, t.carry)
		if variance, _, ok := stat.Pooled(col.samples...); ok {
			col.sd = math.Sqrt(variance)
		}
		t.columns = append(t.columns, col)
	}
	return t
}

func (t *trial) sides() []Side {
	var sides []Side
	for i, s := range t.sets {
		sides = append(sides, Side{s.Club, s.Label, ToolOf(s.Label), len(s.Shots), len(t.used[i])})
	}
	return sides
}
