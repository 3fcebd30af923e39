package plan

import (
	"fmt"
	"time"

	"rangepost/analysis"
)

// A difference is a set's turn of one block against the usual set's, number by
// number: mean less mean. It takes the visit, warming up and all that drifts slowly
// out; what is left of a drift has the sign of the order that chance drew.
//
// Turns count by their plain means however many of their balls were hit or used.
// Weights by balls would hold only if the setup were made anew without error; a
// difference of a short turn scatters more, and the judge's evidence is modest
// where variances change (see stat.AnytimeT).
type difference struct {
	set, block, visit int
	of                []float64 // by the field's numbers, NaN where one was not measured
}

// sameDay is how far two turns of one block may lie apart in time: further, and
// the day is in their difference.
const sameDay = 12 * time.Hour

// field is the balls of some visits in their places.
type field struct {
	plan    Plan
	numbers []analysis.Number
	turns   []hit
	pairs   map[[2]int]bool // block and set whose difference is settled, counted or not
	at      map[[2]int]int  // block and set to index into Turns
	all     []difference
	lost    map[int]bool // blocks with a difference that cannot count
	late    int          // balls
}

// hit is a turn as it was hit.
type hit struct {
	when  time.Time
	begun bool
	shots []*analysis.Shot // that are used
}

// lay lays the visits' balls out, visit by visit. A difference is taken with the
// first visit after which both its turns have balls, and stays: a ball that comes
// for it later would change what was looked at before. It is late, and not
// counted.
func (p Plan) lay(visits []Placed, numbers []analysis.Number) (*field, error) {
	f := &field{
		plan: p, numbers: numbers, turns: make([]hit, len(p.Turns)),
		pairs: map[[2]int]bool{}, at: map[[2]int]int{}, lost: map[int]bool{},
	}
	for i, t := range p.Turns {
		f.at[[2]int{t.Block, t.Set}] = i
	}
	for v, visit := range visits {
		if len(visit.Turn) != len(visit.Session.Shots) {
			return nil, fmt.Errorf("plan: visit %d has %d balls and %d places", v, len(visit.Session.Shots), len(visit.Turn))
		}
		for i, at := range visit.Turn {
			shot := &visit.Session.Shots[i]
			switch {
			case at == Nowhere:
			case at < 0 || at >= len(p.Turns):
				return nil, fmt.Errorf("plan: ball %d of visit %d is in turn %d of %d", i, v, at, len(p.Turns))
			case f.closed(at):
				f.late++
			case shot.Aside == analysis.Used:
				t := &f.turns[at]
				if !t.begun {
					t.begun, t.when = true, visit.Session.When
				}
				t.shots = append(t.shots, shot)
			}
		}
		f.settle(v)
	}
	return f, nil
}

// closed reports whether every difference that a turn is part of is settled.
func (f *field) closed(turn int) bool {
	t := f.plan.Turns[turn]
	if t.Set != 0 {
		return f.pairs[[2]int{t.Block, t.Set}]
	}
	for set := 1; set < len(f.plan.Labels); set++ {
		if _, there := f.at[[2]int{t.Block, set}]; there && !f.pairs[[2]int{t.Block, set}] {
			return false
		}
	}
	return true
}

// settle takes the differences whose turns both have balls now, in the order of
// the later of the two on the card: the order in which they would have been
// taken had every turn been posted by itself.
func (f *field) settle(visit int) {
	for i, t := range f.plan.Turns {
		usual, ok := f.at[[2]int{t.Block, 0}]
		if !ok {
			continue
		}
		for set := 1; set < len(f.plan.Labels); set++ {
			key := [2]int{t.Block, set}
			tried, ok := f.at[key]
			if !ok || max(usual, tried) != i || f.pairs[key] || !f.turns[usual].begun || !f.turns[tried].begun {
				continue
			}
			f.pairs[key] = true
			if a, b := f.turns[usual].when, f.turns[tried].when; !a.IsZero() && !b.IsZero() && a.Sub(b).Abs() > sameDay {
				f.lost[t.Block] = true
				continue
			}
			f.all = append(f.all, difference{set, t.Block, visit, f.between(tried, usual)})
		}
	}
}

func (f *field) between(tried, usual int) []float64 {
	of := make([]float64, len(f.numbers))
	for i, n := range f.numbers {
		of[i] = meanOf(f.turns[tried].shots, n) - meanOf(f.turns[usual].shots, n)
	}
	return of
}

// meanOf is NaN where no ball has the number.
func meanOf(shots []*analysis.Shot, n analysis.Number) float64 {
	sum, count := 0.0, 0
	for _, s := range shots {
		if v, ok := s.Value(n); ok {
			sum += v
			count++
		}
	}
	return sum / float64(count)
}

// incomplete counts the blocks that were begun and left behind, and those whose
// turns lie on different days.
func (f *field) incomplete() int {
	last := -1
	for i, t := range f.turns {
		if t.begun {
			last = max(last, f.plan.Turns[i].Block)
		}
	}
	short := map[int]bool{}
	for i, t := range f.turns {
		if b := f.plan.Turns[i].Block; !t.begun && b < last {
			short[b] = true
		}
	}
	for b := range f.lost {
		short[b] = true
	}
	return len(short)
}
