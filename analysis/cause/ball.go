package cause

import (
	"math"

	"rangepost/analysis"
	"rangepost/analysis/ball"
	"rangepost/analysis/impact"
)

// struck is one used ball with all that the split needs: a delivery (measured
// or inferred), how its launch departs from the model, and where it finished.
type struck struct {
	n        int
	delivery analysis.Delivery
	own      ball.Departure
	lateral  float64
	spun     bool // the spin axis was measured
	started  bool // the start line was measured
	placed   bool // the strike was measured across the face

	inference *impact.Inference // that face or path rest on, nil if they were measured
}

// split flies the ball with face and path as delivered, with either at its
// reference and with both, and shares out the difference evenly over the two
// orders of putting them right (the Shapley value of two players):
//
//	face = [f(F,P) - f(r,P) + f(F,r) - f(r,r)] / 2, path likewise
//
// What is left of the measured lateral is the rest: strike, wind, and what the
// model does not know.
func (b struck) split(m *ball.Model, refFace, refPath float64) Split {
	at := func(face, path float64) float64 {
		d := b.delivery
		d.Face, d.Path = face, path
		return m.Land(d, b.own).Lateral
	}
	face, path := b.delivery.Face, b.delivery.Path
	both, neither := at(face, path), at(refFace, refPath)
	facePut, pathPut := at(refFace, path), at(face, refPath)
	s := Split{
		N: b.n, Face: face, Path: path, Miss: b.lateral,
		FaceM: (both - facePut + pathPut - neither) / 2,
		PathM: (both - pathPut + facePut - neither) / 2,
	}
	s.Rest = s.Miss - s.FaceM - s.PathM
	s.Strike = both - b.unstruck(m)
	return s
}

// finite reports whether every part of the split is a number.
func (s Split) finite() bool {
	for _, v := range s.parts() {
		if math.IsNaN(v) || math.IsInf(v, 0) {
			return false
		}
	}
	return true
}

// unstruck is where the model has the ball when it is struck in the middle of
// the face: without the measured strike, and with a start line and a spin axis
// that follow from face and path. Where neither strike nor axis was measured
// that is where it has it anyway.
func (b struck) unstruck(m *ball.Model) float64 {
	d, own := b.delivery, b.own
	d.StrikeToe, d.StrikeUp = 0, 0
	if b.spun {
		own.Direction, own.Axis = 0, 0
	}
	return m.Land(d, own).Lateral
}
