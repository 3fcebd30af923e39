package ball

import (
	"math"

	"rangepost/analysis"
	"rangepost/analysis/flight"
)

// A Flight is what a golfer asks of a ball: where it starts, how it curves, how
// high and how far it flies, and where that leaves it.
type Flight struct {
	Start   float64 // rad right of the target line, as it leaves
	Curve   float64 // m that it lands right of its start line
	Apex    float64 // m above the ground
	Carry   float64 // m along the target line
	Lateral float64 // m that it lands right of the target line
}

// FlightOf is the flight of a ball that started so and came down there.
func FlightOf(start float64, l flight.Landing) Flight {
	return Flight{start, Curve(start, l.Carry, l.Lateral), l.Apex, l.Carry, l.Lateral}
}

// Curve is how far right of its start line a ball lands, m.
func Curve(start, carry, lateral float64) float64 {
	sin, cos := math.Sincos(start)
	return lateral*cos - carry*sin
}

// Fly is the flight of a delivery by a ball with this departure.
func (m *Model) Fly(d analysis.Delivery, own Departure) Flight {
	l := m.Launch(d, own)
	return FlightOf(l.Direction, m.Flight.Fly(l))
}

// each lists the numbers of a flight.
func (f *Flight) each() [5]*float64 {
	return [5]*float64{&f.Start, &f.Curve, &f.Apex, &f.Carry, &f.Lateral}
}

// Plus is one flight and the difference to another, added up.
func (f Flight) Plus(g Flight) Flight {
	for i, v := range g.each() {
		*f.each()[i] += *v
	}
	return f
}

// Minus is what one flight differs from another by.
func (f Flight) Minus(g Flight) Flight {
	for i, v := range g.each() {
		*f.each()[i] -= *v
	}
	return f
}

// Times is a flight with every number so many times as large.
func (f Flight) Times(by float64) Flight {
	for _, v := range f.each() {
		*v *= by
	}
	return f
}

// Each are the numbers of a flight in their order.
func (f Flight) Each() [5]float64 { return [5]float64{f.Start, f.Curve, f.Apex, f.Carry, f.Lateral} }
