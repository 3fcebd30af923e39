package visits

import (
	"math"

	"rangepost/analysis"
)

// flown is what the ball does, SI.
type flown struct {
	speed, launch, direction, spin, axis, carry, lateral float64
}

// fly is this world's flight: plain formulas that bend the right way, and no
// more. Its figures are the usual ones of a launch monitor's tables from memory
// [M]: a 7-iron's ball of 53.6 m/s carries 157 m, and a m/s more is 4.3 m.
func (m model) fly(v vector, h analysis.Hand) flown {
	var f flown
	spinLoft := max(v[loft]-v[attack], analysis.Degree)
	toFace := v[face] - v[path]

	// Off the middle it loses speed: an eighth at 20 mm.
	r := min(math.Hypot(v[toe], v[up])/0.040, 1.1)
	f.speed = v[speed] * (1.5 - 0.0105*max(spinLoft/analysis.Degree-13, 0)) * (1 - r*r/2)

	f.direction = v[path] + m.toFace*toFace
	f.launch = v[attack] + (m.toFace+0.08)*spinLoft
	f.spin = m.spin * v[speed] * math.Sin(spinLoft) * analysis.RevPerMinute
	gear := m.gear * analysis.Degree / analysis.Millimetre
	f.axis = math.Atan2(math.Sin(toFace), math.Sin(spinLoft)) - h.Mirror()*gear*v[toe]
	f.axis = min(max(f.axis, -60*analysis.Degree), 60*analysis.Degree)

	f.carry = 157 + 4.3*(f.speed-53.6)
	if f.speed < 30 {
		f.carry = 55.52 * f.speed * f.speed / 900 // joins the line at 30 m/s
	}
	off := (f.launch - m.launch*analysis.Degree) / (40 * analysis.Degree)
	f.carry *= max(1-off*off, 0.3)

	// A spin axis of a degree moves the ball 0.7 % of its carry [M].
	f.lateral = f.carry * (math.Sin(f.direction) + 0.4*math.Sin(f.axis))
	return f
}

// shot is a ball with everything a device may say of it.
func (m model) shot(v vector, h analysis.Hand) analysis.Shot {
	s := analysis.Shot{Club: m.club}
	for i, n := range delivered {
		s = s.With(n, v[i])
	}
	f := m.fly(v, h)
	return s.With(analysis.BallSpeed, f.speed).
		With(analysis.LaunchAngle, f.launch).
		With(analysis.Direction, f.direction).
		With(analysis.Spin, f.spin).
		With(analysis.SpinAxis, f.axis).
		With(analysis.Carry, f.carry).
		With(analysis.Lateral, f.lateral).
		Derived()
}
