package sessionfile

import (
	"math"

	"rangepost/analysis"
)

// held are the laws a ball is held against. One struck off the middle does what
// no delivery of its club makes a ball do, and its club's numbers are none the
// less right: that is a mishit, which is not this package's to judge. Then only the
// flight is held against itself.
func (h *company) held(x ballRow) (laws mask) {
	off := h.offMiddle(x)
	for k := range laws {
		laws[k] = !off || !law(k).ofStrike()
	}
	return laws
}

// How slow against the usual, and how far off the middle, a ball is struck of which the
// club's numbers tell little (common practice, no source).
const (
	slowed  = 0.07  // of the ball speed and of the smash factor
	farToe  = 0.025 // m
	farHigh = 0.018
)

// offMiddle reports whether a ball was struck off the middle by more than its
// club usually is: it says so, or the ball lost speed that the club had.
func (h *company) offMiddle(x ballRow) bool {
	if math.Abs(x[analysis.StrikeToe]) > farToe || math.Abs(x[analysis.StrikeUp]) > farHigh {
		return true
	}
	full := x.complete()
	lost := math.Log(h.usual[analysis.BallSpeed] / full[analysis.BallSpeed])
	if !(lost > slowed) {
		return false
	}
	smash := math.Log(full[analysis.BallSpeed] / full[analysis.ClubSpeed] * h.usual[analysis.ClubSpeed] / h.usual[analysis.BallSpeed])
	return math.IsNaN(smash) || smash < -slowed
}
