package timeline

import (
	"rangepost/analysis"
	"rangepost/analysis/stat"
)

// Kept is how a brief was kept by some balls.
type Kept struct {
	Brief               analysis.Brief
	Inside, Of          int
	Share               float64 // 0 when Of is 0
	ShareLow, ShareHigh float64 // 95 % Wilson; 0 to 1 when Of is 0
	Enough              bool    // as many balls as the brief asks, or it asks for none in particular
}

// Keep is how a brief was kept by so many balls, of which so many were inside
// its limits.
func Keep(b analysis.Brief, inside, of int) Kept {
	k := Kept{Brief: b, Inside: inside, Of: of, ShareHigh: 1, Enough: of > 0 && of >= b.Balls}
	if low, high, ok := stat.Wilson(inside, of, 0.95); ok {
		k.Share, k.ShareLow, k.ShareHigh = float64(inside)/float64(of), low, high
	}
	return k
}

// Count is how many balls count into a brief, and how many of them were inside
// its limits: those hit with its club (any, if it names none) that have the
// number. Misreads do not count. Mishits do: they were struck, and leaving
// them out would let the pattern decide which balls the brief is about.
func Count(b analysis.Brief, shots []analysis.Shot) (inside, of int) {
	for _, s := range shots {
		if s.Aside != analysis.Used && s.Aside != analysis.Mishit || !b.Club.Unknown() && s.Club != b.Club {
			continue
		}
		if v, ok := s.Value(b.Number); ok {
			of++
			if b.Holds(v) {
				inside++
			}
		}
	}
	return inside, of
}
