package sessionfile

import (
	"math"

	"rangepost/analysis"
)

// held are the laws a ball is held against. One struck off the middle does what
// no delivery of its club makes a ball do, and its club's numbers are none the
// less right: that is a mishit, which is not this package's to judge. Then what a
// strike to that side changes is no evidence, and of one that lost speed only the
// flight is held against itself.
func (h *company) held(x ballRow) (laws mask) {
	toe, high, slow := math.Abs(x[analysis.StrikeToe]), math.Abs(x[analysis.StrikeUp]), h.lostSpeed(x)
	across, along := toe > farToe, high > farHigh
	lost := toe > offFace || high > offFace || slow
	for k := range laws {
		switch law(k) {
		case speedLaw:
			laws[k] = !lost && !across && !along
		case startLaw, axisLaw:
			laws[k] = !lost && !across
		case launchLaw, spinLaw:
			laws[k] = !lost && !along
		default:
			laws[k] = true
		}
	}
	return laws
}

// How slow against the usual, and how far off the middle, a ball is struck of which the
// club's numbers tell little (common practice, no source).
const (
	fatLoss = 0.2   // of the ball speed alone, beside what the set's own varies
	slowed  = 0.07  // of the ball speed and of the smash factor
	farToe  = 0.025 // m
	farHigh = 0.015
	offFace = 0.045 // nothing is known of what such a strike does
)

// lostSpeed reports whether the ball lost speed that the club had, or, where that
// was not measured, is slower than is usual.
func (h *company) lostSpeed(x ballRow) bool {
	full := x.complete()
	lost := math.Log(h.usual[analysis.BallSpeed] / full[analysis.BallSpeed])
	switch spread := 3 * h.scatter[analysis.BallSpeed] / h.usual[analysis.BallSpeed]; {
	case !(lost > slowed):
		return false
	case lost > fatLoss+spread: // whatever the club still had: it met the ground first
		return true
	}
	smash := math.Log(full[analysis.BallSpeed] / full[analysis.ClubSpeed] * h.usual[analysis.ClubSpeed] / h.usual[analysis.BallSpeed])
	return math.IsNaN(smash) || smash < -slowed
}
