package timeline

import (
	"time"

	"rangepost/analysis"
	"rangepost/analysis/stat"
)

// Brief is the coach's limits on a number. A nil limit is open.
type Brief struct {
	Number    analysis.Number
	Low, High *float64 // SI
	Club      analysis.Club
	Balls     int // 0 if not said
	Until     time.Time
}

// Holds reports whether a value is inside the limits, ends included.
func (b Brief) Holds(v float64) bool {
	return (b.Low == nil || v >= *b.Low) && (b.High == nil || v <= *b.High)
}

// Kept is how a brief was kept by some balls.
type Kept struct {
	Brief               Brief
	Inside, Of          int
	Share               float64 // 0 when Of is 0
	ShareLow, ShareHigh float64 // 95 % Wilson; 0 to 1 when Of is 0
	Enough              bool    // as many balls as the brief asks, or it asks for none in particular
}

// KeepBrief counts the balls inside the limits among those hit with the
// brief's club (any, if it names none) that have the number. Misreads do not
// count. Mishits do: they were struck, and leaving them out would let the
// pattern decide which balls the brief is about.
func KeepBrief(b Brief, shots []analysis.Shot) Kept {
	k := Kept{Brief: b, ShareHigh: 1}
	for _, s := range shots {
		if s.Aside != analysis.Used && s.Aside != analysis.Mishit || !b.Club.Unknown() && s.Club != b.Club {
			continue
		}
		if v, ok := s.Value(b.Number); ok {
			k.Of++
			if b.Holds(v) {
				k.Inside++
			}
		}
	}
	k.Enough = k.Of > 0 && k.Of >= b.Balls
	if low, high, ok := stat.Wilson(k.Inside, k.Of, 0.95); ok {
		k.Share, k.ShareLow, k.ShareHigh = float64(k.Inside)/float64(k.Of), low, high
	}
	return k
}
