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

// A Past is where the balls of a golfer's earlier sessions finished, with the
// same club and the same setup, to set one more session beside.
type Past struct {
	Sessions int     // earlier ones with a sideways finish
	Last     float64 // middle of the latest of them, m, positive right of target
	Mean     float64 // of their middles

	// One more session's middle falls between Low and High 95 times in 100 if
	// nothing changed (stat.NextValue). OK says there were enough sessions to
	// tell.
	Low, High float64
	OK        bool

	// Times is how often in a row, this session included, the same numbers were
	// off to the same side and the balls with them.
	Times int
}

// Means are the means of one session's numbers, SI: those of its usual setup.
type Means map[analysis.Number]float64

// PastOf sets a session beside earlier ones with the same club, latest first.
// zero is the sideways finish that counts as none, m; owners are the numbers
// this session's miss is owned by.
func PastOf(now Means, earlier []Means, zero float64, owners ...analysis.Number) (p Past) {
	p.Times = 1
	running := len(owners) > 0
	var middles []float64
	for _, before := range earlier {
		middle, ok := before[analysis.Lateral]
		if !ok {
			continue
		}
		if len(middles) == PastSessions {
			break
		}
		middles = append(middles, middle)
		running = running && alike(now, before, analysis.Lateral, zero)
		for _, n := range owners {
			running = running && alike(now, before, n, n.Info().Zero.Least)
		}
		if running {
			p.Times++
		}
	}
	p.Sessions = len(middles)
	if p.Sessions == 0 {
		return p
	}
	p.Last, p.Mean = middles[0], stat.Mean(middles).Mean
	if p.Sessions < fewestPast {
		return p
	}
	p.Low, p.High, p.OK = stat.NextValue(middles, 0.95)
	return p
}

// alike reports whether a number is off to the same side in both.
func alike(a, b Means, n analysis.Number, zero float64) bool {
	x, y := a[n], b[n]
	return x*y > 0 && math.Abs(x) > zero && math.Abs(y) > zero
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
