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
		for _, far := range cs {
			if (far.field == carry || far.field == total) && !c.unitKnown() {
				c.unit = far.unit
			}
		}
		if !readable(c) {
			decisions = append(decisions, fmt.Sprintf("column '%s' left out: it has no unit", c.text))
			continue
		}
		if !c.meaning.definite && !c.standsStill(shots) {
			decisions = append(decisions, fmt.Sprintf("column '%s' left out: it changes from ball to ball, so it is no target", c.text))
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

// standsStill reports whether a column stays as it is over some balls of a club, as
// a target does, three at least to each of its values; what is left to a target is
// another for every ball.
func (c *column) standsStill(shots []analysis.Shot) bool {
	type aim struct {
		club analysis.Club
		v    float64
	}
	aims, values := map[aim]bool{}, map[float64]bool{}
	for i, v := range c.cells {
		if v.ok {
			aims[aim{shots[i].Club, v.v}], values[v.v] = true, true
		}
	}
	return 3*len(aims) <= c.count() || len(values) == 1 && c.count() > 1
}
