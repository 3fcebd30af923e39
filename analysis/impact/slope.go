package impact

import (
	"math"

	"rangepost/analysis"
)

// A change is the slope of what a meeting is made of, over one unknown.
type change struct {
	n, across, above, v vec
	a, c                float64 // c of a ball that grips
	sideways, spinScale float64
	gear, toe, up       float64
}

// launchSlope is the slope of a launch: angles, and logarithms of speed and spin.
type launchSlope struct{ direction, angle, speed, spin, axis float64 }

// slopes are those of the launch of a delivery over the unknowns, by the product
// rule. Of the head that h was moved from it takes what a share makes of Sideways, and
// the drag that gear multiplies.
func (h *Head) slopes(d analysis.Delivery, m *meeting, sideways, drag float64) (slopes [numUnknowns]launchSlope) {
	f := h.frameOf(m)
	slopes[logSpeed] = launchSlope{speed: 1, spin: 1}

	sinA, cosA := math.Sincos(d.Attack)
	sinP, cosP := math.Sincos(d.Path)
	slopes[attack] = f.of(m, &change{v: vec{-sinA * cosP, -sinA * sinP, cosA}})
	slopes[path] = f.of(m, &change{v: vec{-cosA * sinP, cosA * cosP, 0}})
	opened := change{
		n:      m.across.times(m.above.z), // above.z is the cosine of the loft
		across: vec{-m.across.y, m.across.x, 0},
		above:  m.across.times(-m.n.z),
	}
	lofted := change{n: m.above, above: m.n.times(-1)}
	slopes[face] = f.of(m, &opened)
	slopes[loft] = f.of(m, &lofted)

	// Off the middle: a face turned by its curve, less mass, and gear effect.
	mirror := h.Hand.Mirror()
	mass, grips := (1+h.Restitution)/m.a, (1+h.Tangential)/m.c
	lighter := func(strike, inertia float64) (a, c float64) {
		more := 2 * ballMass * turn(strike, inertia)
		return -m.a / mass * more, -m.c / grips * more
	}
	across, above := change{toe: mirror * turn(1, h.InertiaAcross)}, change{up: turn(1, h.InertiaUp)}
	if h.Bulge > 0 {
		across.n, across.across, across.above = opened.n.times(mirror/h.Bulge), opened.across.times(mirror/h.Bulge), opened.above.times(mirror/h.Bulge)
	}
	if h.Roll > 0 {
		above.n, above.above = lofted.n.times(1/h.Roll), lofted.above.times(1/h.Roll)
	}
	across.a, across.c = lighter(d.StrikeToe, h.InertiaAcross)
	above.a, above.c = lighter(d.StrikeUp, h.InertiaUp)
	slopes[toe] = f.of(m, &across)
	slopes[up] = f.of(m, &above)

	slopes[share] = f.of(m, &change{sideways: sideways * h.across()})
	slopes[restitution] = f.of(m, &change{a: m.a / (1 + h.Restitution)})
	slopes[logSpin] = f.of(m, &change{spinScale: h.SpinScale})
	slopes[gear] = f.of(m, &change{gear: drag})
	return slopes
}

// A frame is what the slopes of one meeting's launch have in common.
type frame struct {
	along, across, above vec
	level, speed         float64
	side, back, squared  float64 // the spin's parts, and its square
	limited              bool    // by friction
	sideways, spinScale  float64 // the head's: what of slide is added, and of grip
	more                 float64 // what of slide is added to the grip
}

func (h *Head) frameOf(m *meeting) (f frame) {
	f.along, f.across, f.above, f.level, f.speed = launchFrame(m.ball)
	f.side, f.back = m.spin.dot(f.above), -m.spin.dot(f.across)
	f.squared = f.side*f.side + f.back*f.back
	most := h.most(m)
	more := h.across()
	f.sideways, f.spinScale, f.more = h.Sideways*more-1, h.SpinScale, more-1
	f.limited = f.squared > most*most
	return f
}

// of is the launch's slope for a change.
func (f *frame) of(m *meeting, by *change) (s launchSlope) {
	cosPhi := by.n.dot(m.v) + m.n.dot(by.v)
	c := by.c
	if m.sliding {
		c = m.c * (by.a/m.a + cosPhi/(m.cosPhi*m.sinPhi*m.sinPhi))
	}
	into := m.a * m.cosPhi
	dInto := by.a*m.cosPhi + m.a*cosPhi
	slide := by.v.dot(m.across) + m.v.dot(by.across)

	pull := m.gear * into
	dPull := by.gear*into + m.gear*dInto
	push := m.across.times(dPull*m.toe + pull*by.toe).plus(by.across.times(pull * m.toe)).
		plus(m.above.times(dPull*m.up + pull*by.up)).plus(by.above.times(pull * m.up))

	grip := m.v.plus(m.across.times(f.more * m.slide)).times(by.spinScale*m.c + f.spinScale*c).
		plus(by.v.plus(m.across.times(f.more * slide)).plus(by.across.times(f.more * m.slide)).times(f.spinScale * m.c)).plus(push)
	spin := grip.cross(m.n).plus(m.grip.cross(by.n)).times(1 / spinArm)
	ball := m.n.times(dInto - c*m.cosPhi - m.c*cosPhi).plus(by.n.times(into - m.c*m.cosPhi)).
		plus(m.v.times(c)).plus(by.v.times(m.c)).
		plus(m.across.times(by.sideways*m.c*m.slide + f.sideways*(c*m.slide+m.c*slide))).
		plus(by.across.times(f.sideways * m.c * m.slide)).plus(push)

	s.direction = f.across.dot(ball) / f.level
	s.angle = f.above.dot(ball) / f.speed
	s.speed = f.along.dot(ball) / f.speed
	// The frame turns with the ball.
	ahead := vec{f.across.y, -f.across.x, 0}
	above := f.along.times(-s.angle).plus(f.across.times(-f.along.z * s.direction))
	side := spin.dot(f.above) + m.spin.dot(above)
	back := -spin.dot(f.across) + m.spin.dot(ahead)*s.direction
	s.axis = (f.back*side - f.side*back) / f.squared
	s.spin = (f.side*side + f.back*back) / f.squared
	if f.limited {
		s.spin = dInto / into
	}
	return s
}
