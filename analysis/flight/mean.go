package flight

import "math"

// Evidence is the default set: the middle of the published ones (Sources). At
// each spin ratio it is the mean over the sources that measured there, with
// random effects, so that no source outvotes the others; the test of this file makes it
// again and prints the sources side by side. Both are polynomials of the fourth degree in u = S/(S + 0.4),
// within 0.007 of the means.
//
// It is blind to Reynolds number: between Re 0.7e5 and 2e5 some sources fall by
// a tenth, some rise by as much, and their mean slope is not told from none.
// Above a spin ratio of 0.5 only the report of 2006 goes on and its shape is
// kept; under 0.035 nothing was measured, and the lift dies out with the spin.
type Evidence struct{}

const (
	evidenceBend = 0.4 // of u, chosen for the least misfit
	leastSpun    = 0.035
)

// At is the mean of the sources.
func (Evidence) At(s, _ float64) (cd, cl float64) {
	if s > maxS {
		s = maxS + fade(s-maxS, fadeS)
	}
	x := 1.0
	if s < leastSpun { // the lift is level there, so that no corner costs the integrator
		x = s / leastSpun
		s = leastSpun
	}
	u := s / (s + evidenceBend)
	cd = 0.27887 + u*(-1.17079+u*(6.41514+u*(-10.53744+u*6.21164)))
	cl = 0.15488 + u*(-0.86885+u*(6.76202+u*(-12.06164+u*7.12129)))
	return cd, cl * x * (2 - x)
}

// How far sources lie apart, as standard deviations of the logarithm of a
// coefficient: from source to source at a spin ratio of 0.22, and more away from
// it because they disagree on the slope (by a unit of the logarithm of the spin
// ratio). Of lift both are the sources' own, which the test makes again. Of drag
// the sources agree better than balls do, because most share one laboratory:
// 13 production balls lay within 0.05 of each other at high speed (Lyu et al.
// 2018 [P]), whose standard deviation is some 6 %.
const (
	LiftSpread, LiftTilt = 0.07, 0.13
	DragSpread, DragTilt = 0.06, 0.04
	spreadAt             = 0.22
)

// Varied is a set as it might as well be: off by as much as published sources
// are, by a factor and by one that tilts about a spin ratio of 0.22. The zero
// tilts and factors of 1 leave it as it is.
type Varied struct {
	Coefficients
	Lift, LiftTilt float64 // factor; change of its logarithm a unit of ln S
	Drag, DragTilt float64
}

// At is the set's own, times the factors there.
func (v Varied) At(s, q float64) (cd, cl float64) {
	cd, cl = v.Coefficients.At(s, q)
	ln := 2 * (s - spreadAt) / (s + spreadAt) // near enough ln(s/spreadAt), and never far off
	return cd * v.Drag * (1 + v.DragTilt*ln), cl * v.Lift * (1 + v.LiftTilt*ln)
}

// Off is the model with lift, drag and spin decay off by so many standard
// deviations of what their sources differ by, lift and drag by a factor and a
// tilt each.
func (m Model) Off(lift, liftTilt, drag, dragTilt, decay float64) Model {
	m.Coefficients = Varied{
		m.Coefficients,
		math.Exp(LiftSpread * lift), LiftTilt * liftTilt,
		math.Exp(DragSpread * drag), DragTilt * dragTilt,
	}
	m.SpinDecay *= math.Exp(DecaySpread * decay)
	return m
}
