package sessionfile

import (
	"fmt"
	"math"

	"rangepost/analysis"
)

// frozen leaves out what was measured of the club where it is, figure for
// figure, that of the ball before: the device did not see the club and said its
// last again. Three numbers with seven digits between them do not come twice.
func frozen(shots []analysis.Shot) (decisions []string) {
	var still []int
	for i := 1; i < len(shots); i++ {
		if sameClub(shots[i-1], shots[i]) {
			still = append(still, i)
		}
	}
	if len(still) == 0 {
		return nil
	}
	for _, i := range still {
		for _, n := range analysis.Numbers() {
			if n.Info().Of == analysis.OfClub {
				shots[i] = shots[i].With(n, math.NaN())
			}
		}
	}
	first, last := shots[still[0]].N, shots[still[len(still)-1]].N
	balls := fmt.Sprintf("ball %d", first)
	if len(still) > 1 {
		balls = fmt.Sprintf("%d balls between %d and %d", len(still), first, last)
	}
	return []string{fmt.Sprintf("club numbers of %s left out, they are those of the ball before again", balls)}
}

// sameClub reports whether all that was measured of the club is the same of two
// balls, and enough that it is no chance.
func sameClub(a, b analysis.Shot) bool {
	known, told := 0, 0
	for _, n := range analysis.Numbers() {
		if n.Info().Of != analysis.OfClub || !a.Has(n) && !b.Has(n) {
			continue
		}
		v, ok := a.Value(n)
		w, also := b.Value(n)
		if !ok || !also || v != w {
			return false
		}
		if v != 0 {
			known++
			told += figuresIn(v / n.JSONScale())
		}
	}
	return known >= 3 && told >= 7 && ballsDiffer(a, b)
}

func figuresIn(v float64) int { return len(fmt.Sprintf("%.3g", math.Abs(v))) }

func ballsDiffer(a, b analysis.Shot) bool {
	for _, n := range analysis.Numbers() {
		v, ok := a.Value(n)
		w, also := b.Value(n)
		if n.Info().Of != analysis.OfClub && ok && also && v != w {
			return true
		}
	}
	return false
}
