package ball

import (
	"rangepost/analysis"
	"rangepost/analysis/flight"
	"rangepost/analysis/impact"
)

// A Model is a club head and the air the ball flies through.
type Model struct {
	Head   impact.Head
	Flight flight.Model
}

// Of is the standard model of a golfer's club in the conditions of a session.
func Of(c analysis.Club, hand analysis.Hand, weather analysis.Conditions) Model {
	head := impact.HeadOf(c)
	head.Hand = hand
	return Model{Head: head, Flight: flight.Of(weather)}
}

// Departure is how a measured launch departs from the modelled one: speed and
// spin as fractions of the model's, angles in rad. The zero Departure is a ball
// that did as the model says, or of which nothing was measured.
type Departure struct {
	Speed, Spin            float64
	Angle, Direction, Axis float64
}

// Departure compares what was measured of the ball, not inferred, with what
// the delivery should have done.
func (m *Model) Departure(d analysis.Delivery, s analysis.Shot) Departure {
	l := m.Head.Strike(d)
	var own Departure
	ratio := func(n analysis.Number, model float64, to *float64) {
		if v, _ := s.Value(n); s.Measured(n) && model > 0 {
			*to = v/model - 1
		}
	}
	difference := func(n analysis.Number, model float64, to *float64) {
		if v, _ := s.Value(n); s.Measured(n) {
			*to = v - model
		}
	}
	ratio(analysis.BallSpeed, l.Speed, &own.Speed)
	ratio(analysis.Spin, l.Spin, &own.Spin)
	difference(analysis.LaunchAngle, l.Angle, &own.Angle)
	difference(analysis.Direction, l.Direction, &own.Direction)
	difference(analysis.SpinAxis, l.Axis, &own.Axis)
	return own
}

// Launch is the launch of a delivery by a ball with this departure.
func (m *Model) Launch(d analysis.Delivery, own Departure) analysis.Launch {
	l := m.Head.Strike(d)
	l.Speed *= 1 + own.Speed
	l.Spin *= 1 + own.Spin
	l.Angle += own.Angle
	l.Direction += own.Direction
	l.Axis += own.Axis
	return l
}

// Land is where that ball comes down.
func (m *Model) Land(d analysis.Delivery, own Departure) flight.Landing {
	return m.Flight.Fly(m.Launch(d, own))
}
