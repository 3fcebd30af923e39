package cause

import (
	"slices"

	"rangepost/analysis"
	"rangepost/analysis/ball"
	"rangepost/analysis/impact"
)

// Fill returns a copy of the set with what can be worked back of each ball and
// was not measured, marked inferred: the landing place of a ball whose launch
// was measured in full, and the delivery of a ball whose face or path were not
// measured. What was measured stays as it is. Filling twice is filling once.
func Fill(set analysis.Set, c Config) analysis.Set {
	set, _ = fill(set, c)
	return set
}

// fill is Fill, with the inference each shot's face or path rests on, nil for
// a shot without one.
func fill(set analysis.Set, c Config) (analysis.Set, []*impact.Inference) {
	set.Shots = append([]analysis.Shot(nil), set.Shots...)
	worked := make([]*impact.Inference, len(set.Shots))
	m := ModelOf(set.Club, c)
	var noise impact.Noise
	if slices.ContainsFunc(set.Shots, func(s analysis.Shot) bool { return !told(s) }) {
		noise = noiseOf(set.Shots, &m)
	}
	for i, s := range set.Shots {
		s = flown(s, &m)
		s, worked[i] = workedBack(s, &m, noise)
		set.Shots[i] = s
	}
	return set, worked
}

// flown fills in where a ball landed from how it was launched.
func flown(s analysis.Shot, m *ball.Model) analysis.Shot {
	if s.Measured(analysis.Lateral) && s.Measured(analysis.Carry) {
		return s
	}
	l, missing := s.Launch()
	if len(missing) > 0 {
		return s
	}
	landing := m.Flight.Fly(l)
	return s.WithInferred(analysis.Lateral, landing.Lateral).WithInferred(analysis.Carry, landing.Carry)
}

// told reports whether face and path were measured.
func told(s analysis.Shot) bool { return s.Measured(analysis.Face) && s.Measured(analysis.Path) }

// workedBack fills in the delivery of a ball whose face or path was not
// measured, if its launch tells. Where the spin axis was not measured, the one
// that explains the curve to a measured lateral takes its place.
func workedBack(s analysis.Shot, m *ball.Model, noise impact.Noise) (analysis.Shot, *impact.Inference) {
	if told(s) {
		return s, nil
	}
	known := s
	if !s.Measured(analysis.SpinAxis) {
		axis, ok := axisOf(s, m)
		if ok {
			known = known.With(analysis.SpinAxis, axis)
			noise.Axis *= axisFromCurve
		} else if !s.Measured(analysis.FaceToPath) && !s.Measured(analysis.Face) && !s.Measured(analysis.Path) {
			return s, nil // a start line alone says nothing of face against path
		}
	}
	inference, err := m.Head.Infer(known, noise)
	if err != nil {
		return s, nil // the numbers cannot be a golf shot's, or there is no start line
	}
	return inference.Into(s), &inference
}

// axisFromCurve is how much less an axis worked back from the curve is worth
// than a measured one: the wind and the flight model are in it (our choice).
const axisFromCurve = 2

// axisOf finds the spin axis that lands a ball of this launch at its measured
// lateral, by the secant method. It presumes the usual spin where none was
// measured. ok is false without lateral, ball speed, launch angle and start
// line, and when no axis within 60 degrees does it.
func axisOf(s analysis.Shot, m *ball.Model) (axis float64, ok bool) {
	lateral, _ := s.Value(analysis.Lateral)
	for _, n := range []analysis.Number{analysis.Lateral, analysis.BallSpeed, analysis.LaunchAngle, analysis.Direction} {
		if !s.Measured(n) {
			return 0, false
		}
	}
	l, _ := s.Launch()
	if !s.Measured(analysis.Spin) {
		usual := m.Head.Usual.Delivery()
		l.Spin = m.Head.Strike(usual).Spin
	}
	miss := func(axis float64) float64 {
		l.Axis = axis
		return m.Flight.Fly(l).Lateral - lateral
	}
	return secant(miss, -2*analysis.Degree, 2*analysis.Degree, 0.05, 60*analysis.Degree)
}
