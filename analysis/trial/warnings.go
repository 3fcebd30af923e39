package trial

import (
	"slices"

	"rangepost/analysis"
	"rangepost/analysis/stat"
)

// few is the size under which a set proves very little.
const few = 5

func (t *trial) warnings(r Result, otherClub int) []analysis.Warning {
	var w []analysis.Warning
	add := func(code string, count int, n analysis.Number) {
		w = append(w, analysis.Warning{Code: code, Count: count, Number: n})
	}
	if otherClub > 0 {
		add(OtherClub, otherClub, 0)
	}
	small := 0
	for _, s := range r.Sets {
		if s.Used < few {
			small++
		}
	}
	if small > 0 {
		add(SmallSets, small, 0)
	}
	if t.oneAfterOther() {
		add(OneAfterOther, 0, 0)
	}
	for _, col := range t.columns {
		without, with := 0, 0
		for _, s := range col.samples[1:] {
			if s.N == 0 {
				without++
			} else {
				with++
			}
		}
		switch {
		case col.samples[0].N > 0 && without > 0:
			add(NotCompared, without, col.number)
		case col.samples[0].N == 0 && with > 0:
			add(NotCompared, with, col.number)
		}
		if t.EqualSpread {
			if p, ok := stat.BrownForsythe(col.values); ok && p < alpha {
				add(SpreadsDiffer, 0, col.number)
			}
		}
	}
	for _, row := range r.Rows {
		if (row.Verdict == Moved || row.Verdict == MovedLittle) && row.Shuffled > alpha {
			add(Shape, 0, row.Number)
		}
	}
	if t.carry == 0 && slices.ContainsFunc(r.Rows, func(row Row) bool { return row.Number == analysis.Lateral }) {
		add(NoCarry, 0, analysis.Lateral)
	}
	return w
}

// oneAfterOther reports whether every set was hit in one block.
func (t *trial) oneAfterOther() bool {
	type ball struct{ n, set int }
	var balls []ball
	for set, used := range t.used {
		for _, s := range used {
			balls = append(balls, ball{s.N, set})
		}
	}
	slices.SortStableFunc(balls, func(a, b ball) int { return a.n - b.n })
	seen := make([]bool, len(t.sets))
	for i, b := range balls {
		if i > 0 && balls[i-1].set == b.set {
			continue
		}
		if seen[b.set] {
			return false
		}
		seen[b.set] = true
	}
	return len(balls) > len(t.sets) // single balls are no blocks
}
