package trial

import "rangepost/analysis/stat"

// alpha is the chance of any false "moved" in a trial, and of a false "held"
// in a row.
const alpha = 0.05

// rows compares every set with the baseline in every number that both have,
// set by set.
func (t *trial) rows() []Row {
	var rows []Row
	var columns []*column // of each row
	for set := 1; set < len(t.sets); set++ {
		for i := range t.columns {
			col := &t.columns[i]
			if col.samples[0].N > 0 && col.samples[set].N > 0 {
				rows = append(rows, t.difference(col, set))
				columns = append(columns, col)
			}
		}
	}
	if t.EqualSpread {
		t.compareByDunnett(rows)
	} else {
		t.compareEach(rows, columns)
	}
	plan := newPlan(len(rows))
	for i := range rows {
		t.judge(&rows[i])
		plan.more(&rows[i], columns[i].sd)
		if rows[i].OK && rows[i].PAdjusted < alpha {
			col, set := columns[i], rows[i].Set
			rows[i].Shuffled, _, _ = stat.Permutation(col.values[set], col.values[0], shuffles, t.rng)
		}
	}
	return rows
}

// shuffles are enough to tell a chance of 5 % to half a percent.
const shuffles = 2000

// difference starts a row.
func (t *trial) difference(col *column, set int) Row {
	base, here := col.samples[0], col.samples[set]
	r := Row{Set: set, Number: col.number, Inferred: col.inferred, Base: base.N, Here: here.N, Zero: col.zero, P: 1, PAdjusted: 1, PHeld: 1}
	r.Difference = here.Mean - base.Mean
	r.Low, r.High, r.Low90, r.High90 = r.Difference, r.Difference, r.Difference, r.Difference
	return r
}

// compareEach compares every row on its own spreads, and adjusts by Holm.
func (t *trial) compareEach(rows []Row, columns []*column) {
	tests := make([]stat.BehrensFisher, len(rows))
	var p []float64
	var told []int
	for i, r := range rows {
		d, ok := stat.NewBehrensFisher(columns[i].samples[r.Set], columns[i].samples[0])
		if ok {
			tests[i] = d
			p = append(p, d.P(0))
			told = append(told, i)
		}
	}
	for k, adjusted := range stat.Holm(p) {
		i := told[k]
		r := &rows[i]
		r.OK, r.P, r.PAdjusted = true, p[k], adjusted
		r.Low, r.High = tests[i].Limits(1 - alpha/float64(len(told)))
		r.Low90, r.High90 = tests[i].Limits(1 - 2*alpha)
		r.PHeld = tests[i].Equivalence(r.Zero)
		if adjusted < alpha { // later steps of Holm's are bolder than the limits
			if r.Difference > 0 {
				r.Low = max(r.Low, 0)
			} else {
				r.High = min(r.High, 0)
			}
		}
	}
}

// judge gives the verdict.
func (t *trial) judge(r *Row) {
	held := r.OK && r.Zero > 0 && r.PHeld < alpha
	moved := r.OK && r.PAdjusted < alpha
	switch {
	case moved && held:
		r.Verdict = MovedLittle
	case moved:
		r.Verdict = Moved
	case held:
		r.Verdict = Held
	default:
		r.Verdict = CannotTell
	}
}
