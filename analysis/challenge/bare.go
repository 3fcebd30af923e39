package challenge

import (
	"fmt"

	"rangepost/analysis"
)

// bare refuses a session of which no ball has all that is scored, and says which
// column is missing and what to do.
func (t Terms) bare(shots []analysis.Shot) error {
	balls := 0
	var missing, inferred []analysis.Number
	for _, n := range t.needs() {
		has, measured := false, false
		balls = 0
		for _, s := range shots {
			if s.Club == t.Club && s.Aside != analysis.Duplicate {
				has, measured, balls = has || s.Has(n), measured || s.Measured(n), balls+1
			}
		}
		switch {
		case !has:
			missing = append(missing, n)
		case !measured && !t.Inferred:
			inferred = append(inferred, n)
		}
	}
	todo := "If your device measured it, export that session with it and post the file: the same balls then count. Otherwise post one in which it was measured."
	if t.Dispersion() && len(missing) == 1 && missing[0] == analysis.Carry {
		todo = "Sideways figures count by their angle here, which takes the carry. " + todo
	}
	switch {
	case len(missing) > 0:
		return analysis.Refuse(todo, "That session has %d balls with the %s, and no %s of any of them.", balls, t.Club, listed(missing))
	case len(inferred) > 0:
		return analysis.Refuse(todo, "Of that session's %d balls with the %s the %s was worked back from other numbers, and in this challenge measured ones count.", balls, t.Club, listed(inferred))
	}
	return analysis.Refuse("Post one in which they were measured together.", "No ball with the %s in that session has %s.", t.Club, fmt.Sprintf("all of %s", listed(t.needs())))
}

// exportedAnew reports whether a session is one of before again, with more
// columns.
func exportedAnew(before, s []analysis.Shot) bool {
	as := make([]analysis.Shot, len(s))
	for i, shot := range s {
		as[i] = analysis.Shot{N: shot.N, Club: shot.Club}
		for _, n := range analysis.Numbers() {
			for _, b := range before {
				if v, ok := shot.Value(n); ok && b.Measured(n) && shot.Measured(n) {
					as[i] = as[i].With(n, v)
					break
				}
			}
		}
	}
	return analysis.SameBalls(before, as)
}
