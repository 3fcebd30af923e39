package timeline

import (
	"math"

	"rangepost/analysis"
	"rangepost/analysis/stat"
)

// PastSessions is how many sessions the past of a set is, the latest: of more
// some are too long ago (our choice).
const PastSessions = 6

// fewestPast is how many sessions tell how much one differs from the next; two
// have one difference, and limits that hold everything.
const fewestPast = 3

// A Past is what a golfer's earlier sessions with a club and the usual setup say
// of one more: where their balls finished, how often in a row, that one included,
// the same was found, and which setup tools were ever tried.
type Past struct {
	Again int
	Tried []analysis.Tool

	Sessions int     // earlier ones with a sideways finish
	Last     float64 // middle of the latest of them, m, positive right of target
	Mean     float64 // of their middles

	// One more session's middle falls between Low and High 95 times in 100 if
	// nothing changed (stat.NextValue). OK says there were enough sessions to
	// tell.
	Low, High float64
	OK        bool
}

// PastOf is the past of middles, m, the latest first.
func PastOf(middles []float64) (p Past) {
	middles = middles[:min(len(middles), PastSessions)]
	p.Sessions = len(middles)
	if p.Sessions == 0 {
		return p
	}
	p.Last, p.Mean = middles[0], stat.Mean(middles).Mean
	if p.Sessions >= fewestPast {
		p.Low, p.High, p.OK = stat.NextValue(middles, 0.95)
	}
	return p
}

// Nearer reports whether a miss is nearer the target than the past says it
// would be by chance, and further whether it is further from it.
func (p Past) Nearer(miss float64) (nearer, further bool) {
	if !p.OK || miss >= p.Low && miss <= p.High {
		return false, false
	}
	nearer = math.Abs(miss) < math.Abs(p.Mean)
	return nearer, !nearer
}
