package cause

import (
	"math"

	"rangepost/analysis"
	"rangepost/analysis/ball"
)

// moved is a delivery that differs from the usual one.
func (s *Swing) moved(by Move) analysis.Delivery {
	d := s.Usual
	d.Face += by.Face
	d.Path += by.Path
	d.DynamicLoft += by.DynamicLoft
	d.ClubSpeed += by.ClubSpeed
	d.Attack += by.Attack
	return d
}

// A Move is a change of a delivery: rad, positive as the number is, and m/s.
type Move struct{ Face, Path, DynamicLoft, ClubSpeed, Attack float64 }

// Of is what a move changes of one number.
func (m Move) Of(n analysis.Number) float64 {
	switch n {
	case analysis.Face:
		return m.Face
	case analysis.Path:
		return m.Path
	case analysis.FaceToPath:
		return m.Face - m.Path
	case analysis.DynamicLoft:
		return m.DynamicLoft
	case analysis.ClubSpeed:
		return m.ClubSpeed
	case analysis.Attack:
		return m.Attack
	}
	return 0
}

// gives is what a move changes of the flight, in a model.
func (s *Swing) gives(m *ball.Model, own ball.Departure, by Move) ball.Flight {
	return m.Fly(s.moved(by), own).Minus(m.Fly(s.Usual, own))
}

// Follows is the ball that follows from a move: the mean of as many as one
// likes, with 95 % limits from the balls it is reckoned from and from what the
// model leaves open. The fields are in the order of ball.Flight; limits are not
// OK with one ball.
func (s *Swing) Follows(by Move) (f [5]analysis.Estimate) {
	change := s.gives(&s.standard, s.own, by)
	var models [5]spread
	for i := range s.models {
		p := &s.models[i]
		other := s.gives(&p.model, p.own, by)
		for k, v := range other.Each() {
			models[k].add(v - change.Each()[k])
		}
	}
	for k := range f {
		values := make([]float64, len(s.flights))
		for i, flight := range s.flights {
			values[i] = flight.Each()[k]
		}
		e := s.streak.Mean(values)
		e.Mean += change.Each()[k]
		off := math.Hypot(models[k].root(), s.FlightOff.Each()[k])
		off = math.Hypot(off, changeDoubt*change.Each()[k])
		if k == 3 { // of the carry: how far a loft flies is what sources differ in most
			off = math.Hypot(off, loftDoubt*s.Flight.Carry*by.DynamicLoft)
		}
		half := math.Hypot((e.High-e.Low)/2, normal95*off)
		if e.Low, e.High = 0, 0; e.OK {
			e.Low, e.High = e.Mean-half, e.Mean+half
		}
		f[k] = e
	}
	return f
}

const normal95 = 1.96

// changeDoubt is what the change of a flight may be off beyond that, a fraction
// (likewise).
const changeDoubt = 0.1

// loftDoubt is a fraction of the carry a rad of loft (likewise).
const loftDoubt = 0.25

// spread is a root mean square.
type spread struct{ n, squares float64 }

func (s *spread) add(v float64) { s.n, s.squares = s.n+1, s.squares+v*v }

func (s *spread) root() float64 {
	if s.n == 0 {
		return 0
	}
	return math.Sqrt(s.squares / s.n)
}
