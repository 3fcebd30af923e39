package sessionfile

import (
	"fmt"

	"rangepost/analysis"
)

// The least and the most anybody aims a carry at, m: under the one there is no
// flight to judge, past the other no golf ball carries (common practice, no
// source).
const leastTarget, mostTarget = 5, 400

// targets reads what carry each club's balls were aimed at. A club whose balls
// had several targets has none: their middle is missed by design.
func targets(cs []column, shots []analysis.Shot) (all analysis.Targets, decisions []string) {
	for _, c := range cs {
		if c.field != aimed {
			continue
		}
		if !readable(c) {
			decisions = append(decisions, fmt.Sprintf("column '%s' left out: it has no unit", c.text))
			continue
		}
		several := map[analysis.Club]bool{}
		for i, cell := range c.cells {
			v, club := cell.v, shots[i].Club
			if !cell.si {
				v = c.unit.si(v)
			}
			if !cell.ok || v < leastTarget || v > mostTarget {
				continue
			}
			if before, ok := all[club]; ok && before != v && !several[club] {
				several[club] = true
				decisions = append(decisions, fmt.Sprintf("the balls of the %s were aimed at several distances, so none is judged by '%s'", club, c.text))
			}
			if all == nil {
				all = analysis.Targets{}
			}
			all[club] = v
		}
		for club := range several {
			delete(all, club)
		}
	}
	return all, decisions
}
