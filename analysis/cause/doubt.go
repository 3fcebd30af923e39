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

// How far the standard model may be off, as standard deviations.
const (
	// The face's share of the start line: published values differ from each
	// other and from the rolling contact by this much (Henrikson et al. 2020
	// [S]; Wood, Henrikson & Broadie 2018 [P]).
	doubtShare = 0.06
	// Lift and drag coefficients, as a factor: the published sets differ by
	// this much at one spin ratio.
	doubtLift = 0.12
	doubtDrag = 0.06
	// Spin where none was measured, as a factor.
	doubtSpin = 0.15
	// Gear effect, as a factor: digests of it scale the rigid formula by 0.6
	// to 1.
	doubtGear = 0.35
)

// numDoubts is how many possible models are tried; each is flown four times.
const numDoubts = 100

// doubts tries models near the standard one at a delivery and returns what a
// radian is worth in it.
func doubts(m ball.Model, d analysis.Delivery, own ball.Departure, spinKnown bool, seed uint64) ([]doubt, worth) {
	standard := m.Worth(d, own)
	rng := rand.New(rand.NewPCG(seed, 0xd1b54a32d192ed03))
	out := make([]doubt, numDoubts)
	for k := range out {
		possible := m
		possible.Head.Tangential = shifted(m, d, doubtShare*rng.NormFloat64())
		lift, drag := math.Exp(doubtLift*rng.NormFloat64()), math.Exp(doubtDrag*rng.NormFloat64())
		possible.Flight.Coefficients = scaled{m.Flight.Coefficients, drag, lift}
		spin, gear := math.Exp(doubtSpin*rng.NormFloat64()), math.Exp(doubtGear*rng.NormFloat64())
		// The measured spin stays what it was whatever the contact.
		contact := (1 + m.Head.Tangential) / (1 + possible.Head.Tangential)
		possible.Head.SpinScale *= contact
		if !spinKnown {
			possible.Head.SpinScale *= spin
		}
		w := possible.Worth(d, own)
		out[k] = doubt{face: w.Face / standard.Face, path: w.Path / standard.Path, strike: gear}
	}
	return out, worth{standard.Face, standard.Path}
}

// shifted is the tangential restitution that moves the face's share of the
// start line by that much.
func shifted(m ball.Model, d analysis.Delivery, by float64) float64 {
	const step = 0.1
	h := m.Head
	base := h.FaceShare(d)
	h.Tangential += step
	slope := (h.FaceShare(d) - base) / step
	if slope == 0 {
		return m.Head.Tangential
	}
	return max(-0.5, min(1, m.Head.Tangential+by/slope))
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
