package plan

import (
	"math"
	"slices"

	"rangepost/analysis"
	"rangepost/analysis/stat"
	"rangepost/analysis/trial"
)

// rows compares every number that was measured, set by set, in the order a trial
// shows them.
func (p Plan) rows(f *field) []trial.Row {
	var rows []trial.Row
	usual := f.usual()
	carry := meanOf(usual, analysis.Carry) // NaN is above no bound
	for set := 1; set < len(p.Labels); set++ {
		for _, n := range trial.DefaultNumbers() {
			zero := trial.PracticalZero(n, meanOf(usual, n), carry)
			if n == p.Number {
				zero = p.Change
			}
			if r, ok := p.row(f, set, n, zero); ok {
				rows = append(rows, r)
			}
		}
	}
	return rows
}

// row is one number of one set; ok is false when no block has it.
func (p Plan) row(f *field, set int, n analysis.Number, zero float64) (r trial.Row, ok bool) {
	level, inside := p.levels(n)
	moved, held := p.mixtures(n)
	r = trial.Row{Set: set, Number: n, Zero: zero, P: 1, PAdjusted: 1, PHeld: 1, Verdict: trial.CannotTell}
	var seen stat.Sequence
	most, below, over := 0.0, 0.0, 0.0
	at := slices.Index(f.numbers, n)
	for _, d := range f.all {
		v := d.of[at]
		if d.set != set || math.IsNaN(v) {
			continue
		}
		seen = seen.And(v)
		most = max(most, moved.Evidence(seen, 0))
		if zero > 0 {
			below, over = max(below, held.Below(seen, zero)), max(over, held.Above(seen, -zero))
		}
		f.count(&r, d, n)
	}
	if seen.N == 0 {
		return r, false
	}
	r.Difference = seen.Mean
	r.Low, r.High, r.OK = moved.Limits(seen, level)
	var ok90 bool
	r.Low90, r.High90, ok90 = held.LimitsSided(seen, inside)
	if !r.OK {
		r.Low, r.High = seen.Mean, seen.Mean
	}
	if !ok90 {
		r.Low90, r.High90 = seen.Mean, seen.Mean
	}
	r.P = atMost1(1 / most)
	r.PAdjusted = atMost1(alpha / level / most)
	r.PHeld = atMost1(alpha / inside / min(below, over))
	verdict(&r)
	return r, true
}

func atMost1(p float64) float64 {
	if math.IsNaN(p) {
		return 1
	}
	return min(1, p)
}

// verdict says what a row shows. What was found once stays found, so where its
// limits have come back to zero since they stop there.
func verdict(r *trial.Row) {
	moved, held := r.PAdjusted <= alpha, r.PHeld <= alpha
	switch {
	case moved && held:
		r.Verdict = trial.MovedLittle
	case moved:
		r.Verdict = trial.Moved
	case held:
		r.Verdict = trial.Held
	}
	if moved && r.Difference > 0 {
		r.Low = max(r.Low, 0)
	} else if moved {
		r.High = min(r.High, 0)
	}
}

// levels are the shares of alpha of a number of one set: of moving falsely, and of
// being held falsely. The number of interest shares the second among the sets, for
// together they end the plan; any other number has all of it, as in a trial.
func (p Plan) levels(n analysis.Number) (moved, held float64) {
	others := len(p.Labels) - 1
	if n == p.Number {
		return alphaPrimary(others), alpha / float64(others)
	}
	return alphaRest(others), alpha
}

// mixtures are what is looked for first in a number: see bounds. Of the other
// numbers it is the practical zero in what is usual for golfers, since the plan
// says nothing of theirs.
func (p Plan) mixtures(n analysis.Number) (moved, held stat.AnytimeT) {
	change, sd := p.Change, p.SD
	if n != p.Number {
		s := usually(p.Club, n)
		change, sd = trial.PracticalZero(n, s.mean, usually(p.Club, analysis.Carry).mean), s.sd
	}
	d := change / p.blockSD(sd)
	return mixture(found * d), mixture(d)
}

// count counts the balls of a difference that have the number.
func (f *field) count(r *trial.Row, d difference, n analysis.Number) {
	for _, side := range []struct {
		set   int
		balls *int
	}{{0, &r.Base}, {d.set, &r.Here}} {
		for _, s := range f.turns[f.at[[2]int{d.block, side.set}]].shots {
			if s.Has(n) {
				*side.balls++
				r.Inferred = r.Inferred || s.Inferred(n)
			}
		}
	}
}

// usual are the balls of the usual set in the blocks that were compared.
func (f *field) usual() []*analysis.Shot {
	var all []*analysis.Shot
	done := map[int]bool{}
	for _, d := range f.all {
		if !done[d.block] {
			done[d.block] = true
			all = append(all, f.turns[f.at[[2]int{d.block, 0}]].shots...)
		}
	}
	return all
}
