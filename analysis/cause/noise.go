package cause

import (
	"math"

	"rangepost/analysis"
	"rangepost/analysis/ball"
	"rangepost/analysis/impact"
)

// noiseBalls is how many balls the usual noise of a device counts as, beside what
// the balls of a set say of it: with four, devices differ by a third or so (our
// choice).
const noiseBalls = 4

// deviceNoise is the noise of the usual device over impact's, in start line, launch
// angle and spin axis: about the middle of what the others took for usual who made
// devices up for this project, 0.2 to 0.5 and 0.8 to 2 degrees (common practice, no
// source).
const deviceNoise = 0.7

// noiseOf is how well the device of a set measures. Start line and spin axis, flown,
// say where a ball comes down; what a measured lateral is off that, beyond what a
// flight model that is off in either explains, is the noise of the three. The slopes
// that explain it take a part of the noise of a device so loud that the axis varies
// by little else: that one is told too quiet, and still louder than usual. A set that
// was not measured in all of them was measured by the usual device.
//
// The variance is the mean of the usual one and the balls', each by its number of
// balls (the scale of an inverse chi-square, as of a normal's variance: Gelman et
// al., Bayesian Data Analysis, 2.6 [M]).
func noiseOf(shots []analysis.Shot, m *ball.Model) impact.Noise {
	noise := impact.TypicalNoise()
	noise.Direction *= deviceNoise
	noise.Angle *= deviceNoise
	noise.Axis *= deviceNoise
	var off, start, axis []float64
	var middle analysis.Launch
	for _, s := range shots {
		l, missing := s.Launch()
		if s.Aside != analysis.Used || len(missing) > 0 || !s.Measured(analysis.Lateral) || !s.Measured(analysis.Direction) || !s.Measured(analysis.SpinAxis) {
			continue
		}
		lateral, _ := s.Value(analysis.Lateral)
		off, start, axis = append(off, lateral-m.Flight.Fly(l).Lateral), append(start, l.Direction), append(axis, l.Axis)
		middle.Speed += l.Speed
		middle.Angle += l.Angle
		middle.Spin += l.Spin
	}
	all := float64(len(off))
	off, start, axis = amid(off, start, axis)
	if len(off) < noiseBalls {
		return noise
	}
	seen := momentsOf(off, start, axis)
	_, _, left, ok := seen.slopes()
	if !ok {
		return noise
	}
	middle.Speed, middle.Angle, middle.Spin = middle.Speed/all, middle.Angle/all, middle.Spin/all
	straight := m.Flight.Fly(middle)
	middle.Axis = noise.Axis
	usual := math.Hypot(math.Hypot(straight.Carry*noise.Direction, m.Flight.Fly(middle).Lateral), lateralRead*straight.Carry)
	free := seen.n - 3
	by := math.Sqrt((noiseBalls + left*(seen.n-1)/(usual*usual)) / (noiseBalls + free))
	noise.Direction *= by
	noise.Angle *= by
	noise.Axis *= by
	return noise
}
