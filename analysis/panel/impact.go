package panel

import (
	"math"

	"rangepost/analysis"
)

// A contact is a law of impact: the ball's velocity and spin in the head's axes
// after a head moving at speed along toward (head's axes too) has met it at a
// place on the face. Toe lies to the right: the golfer is right-handed here.
type contact interface {
	meet(h head, toward vec, speed, toe, up float64) (v, spin vec)
}

// strike is the launch that a delivery gives. A left-handed golfer is a
// right-handed one in a mirror.
func (w *World) strike(c analysis.Club, hand analysis.Hand, d analysis.Delivery) analysis.Launch {
	return w.meet(w.head(c), hand, d)
}

func (w *World) meet(h head, hand analysis.Hand, d analysis.Delivery) analysis.Launch {
	side := hand.Mirror()
	face, path := side*d.Face, side*d.Path
	axes := matrix{
		direction(face, d.DynamicLoft),
		{-math.Sin(face), math.Cos(face), 0},
		direction(face, d.DynamicLoft+math.Pi/2),
	}
	v, spin := w.contact.meet(h, axes.transposed(direction(path, d.Attack)), d.ClubSpeed, d.StrikeToe, d.StrikeUp)
	l := launchOf(axes.times(v), axes.times(spin).scale(h.spin))
	l.Direction *= side
	l.Axis *= side
	return l
}

// launchOf is a ball's velocity and spin as they are measured. Spin about the
// line of flight does not lift and is left out: a degree or two of gear effect
// on a ball struck well off the middle.
func launchOf(v, spin vec) analysis.Launch {
	u := v.unit()
	across := spin.without(u)
	l := analysis.Launch{
		Speed:     v.size(),
		Angle:     math.Asin(u[2]),
		Direction: math.Atan2(u[1], u[0]),
		Spin:      across.size(),
	}
	flat := analysis.Launch{Direction: l.Direction, Angle: l.Angle}
	_, up := launchFrame(flat)
	flat.Axis = math.Pi / 2
	_, right := launchFrame(flat)
	lift := across.cross(u)
	l.Axis = math.Atan2(lift.dot(right), lift.dot(up))
	return l
}
