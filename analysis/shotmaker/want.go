package shotmaker

import (
	"math"

	"rangepost/analysis/panel"
)

// A Band is what counts as done of one number, ends included; an open side is
// infinite.
type Band struct{ Low, High float64 }

// Open is the band that everything is in.
func Open() Band { return Band{math.Inf(-1), math.Inf(1)} }

// Holds reports whether v lies in the band.
func (b Band) Holds(v float64) bool { return v >= b.Low && v <= b.High }

// A Want is what a shot is to the world.
type Want struct {
	Start Band // launch direction, rad, right of target positive
	Curve Band // landing right of the start line, m, square to it, as it flew: wind and all
	Apex  Band // highest point, m
	Carry Band // straight line over the ground to the landing, m
}

// Done reports whether the ball did the shot, by the world's own flight.
func (w Want) Done(b panel.Ball) bool {
	f := flew(b)
	return w.Start.Holds(f.Start) && w.Curve.Holds(f.Curve) && w.Apex.Holds(f.Apex) && w.Carry.Holds(f.Carry)
}

// Mirrored is the same shot of a golfer of the other hand.
func (w Want) Mirrored() Want {
	w.Start = Band{-w.Start.High, -w.Start.Low}
	w.Curve = Band{-w.Curve.High, -w.Curve.Low}
	return w
}

// An Outcome is what a ball did: rad and m, right positive.
type Outcome struct{ Start, Curve, Apex, Carry, Lateral float64 }

func flew(b panel.Ball) Outcome {
	return Outcome{b.Launch.Direction, b.Curve(), b.Flight.Apex, b.Flight.Carry, b.Flight.Lateral}
}

// Mean is the mean outcome of some balls.
func Mean(balls []panel.Ball) Outcome {
	var m Outcome
	for _, b := range balls {
		f, n := flew(b), float64(len(balls))
		m.Start += f.Start / n
		m.Curve += f.Curve / n
		m.Apex += f.Apex / n
		m.Carry += f.Carry / n
		m.Lateral += f.Lateral / n
	}
	return m
}
