package cause

import (
	"math"
	"math/rand/v2"

	"rangepost/analysis"
	"rangepost/analysis/ball"
	"rangepost/analysis/flight"
)

// doubt is what one model that might be the true one makes of a degree of face
// or path, and of an off-centre strike, over what the standard model makes of
// it.
type doubt struct{ face, path, strike float64 }

// worth is what a radian is worth at the set's mean delivery, m.
type worth struct{ face, path float64 }

// How far lift and drag may be off, as factors: the published coefficient sets
// differ from each other by about this much at one spin ratio. The club's own
// doubts are impact.Uncertainty.
const DoubtLift, DoubtDrag = 0.16, 0.09

// The face's share of the start line is the least certain number of an iron or
// a wedge: for a 7-iron one publication has 69 % (Wood, Henrikson & Broadie
// 2018 [P]) and another 81 % (Henrikson et al. 2020 [S]), and neither gives
// the spread between clubs. That far apart is taken for a standard deviation;
// with less, limits of face and path yards are too narrow in TestStudy. Of a
// driver the two agree within the spread that the first gives.
const doubtShare = 0.12

// ModelOf is the standard model of a club, as unsure of itself as it should be.
func ModelOf(club analysis.Club, c Config) ball.Model {
	m := ball.Of(club, c.Hand, c.Conditions)
	if club.Family != analysis.Driver {
		m.Head.Uncertainty.FaceShare = max(m.Head.Uncertainty.FaceShare, doubtShare)
	}
	return m
}

// numDoubts is how many possible models are tried; each is flown four times.
const numDoubts = 100

// doubts tries models near the standard one on a delivery and returns what a
// radian is worth in each, over what it is worth in the standard one. What was
// measured of the launch stays what it was: a model can be wrong only about
// the rest.
func doubts(m ball.Model, d analysis.Delivery, own ball.Departure, seen launchSeen, seed uint64) ([]doubt, worth) {
	standard := m.Worth(d, own)
	launched := m.Launch(d, own)
	rng := rand.New(rand.NewPCG(seed, 0xd1b54a32d192ed03))
	out := make([]doubt, numDoubts)
	for k := range out {
		possible := m
		possible.Head = m.Head.Perturbed(rng)
		lift, drag := math.Exp(DoubtLift*rng.NormFloat64()), math.Exp(DoubtDrag*rng.NormFloat64())
		possible.Flight.Coefficients = scaled{m.Flight.Coefficients, drag, lift}
		w := possible.Worth(d, seen.keep(launched, possible.Head.Strike(d), own))
		out[k] = doubt{face: ratio(w.Face, standard.Face), path: ratio(w.Path, standard.Path)}
		// A strike that shows in a measured axis is as sure as the flight is;
		// one that was only seen on the face, as the gear effect.
		out[k].strike = out[k].face
		if !seen.axis {
			out[k].strike = ratio(possible.Head.GearScale, m.Head.GearScale)
		}
	}
	return out, worth{standard.Face, standard.Path}
}

// launchSeen says which numbers of the launch were measured of any ball.
type launchSeen struct{ speed, angle, direction, spin, axis bool }

func seenOf(delivered [analysis.NumNumbers]analysis.Estimate) launchSeen {
	has := func(n analysis.Number) bool { return delivered[n].N > 0 }
	return launchSeen{has(analysis.BallSpeed), has(analysis.LaunchAngle), has(analysis.Direction), has(analysis.Spin), has(analysis.SpinAxis)}
}

// keep is the departure that leaves the seen numbers of a launch as they are
// when a model would launch the ball otherwise.
func (seen launchSeen) keep(as, modelled analysis.Launch, own ball.Departure) ball.Departure {
	if seen.speed && modelled.Speed > 0 {
		own.Speed = as.Speed/modelled.Speed - 1
	}
	if seen.spin && modelled.Spin > 0 {
		own.Spin = as.Spin/modelled.Spin - 1
	}
	if seen.angle {
		own.Angle = as.Angle - modelled.Angle
	}
	if seen.direction {
		own.Direction = as.Direction - modelled.Direction
	}
	if seen.axis {
		own.Axis = as.Axis - modelled.Axis
	}
	return own
}

// ratio is a/b, or 1 where that says nothing: a ball that hardly flies is
// worth nothing sideways.
func ratio(a, b float64) float64 {
	if r := a / b; !math.IsNaN(r) && !math.IsInf(r, 0) {
		return r
	}
	return 1
}

// scaled are coefficients times a factor each.
type scaled struct {
	flight.Coefficients
	drag, lift float64
}

func (s scaled) At(spin, reynolds float64) (cd, cl float64) {
	cd, cl = s.Coefficients.At(spin, reynolds)
	return s.drag * cd, s.lift * cl
}
