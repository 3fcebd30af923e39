package player

import (
	"math"
	"math/rand/v2"

	"rangepost/analysis"
	"rangepost/analysis/ball"
	"rangepost/analysis/flight"
)

// Foreign is a world that is not the standard model's: lift and drag after
// another source, a face that holds the ball by another tangential
// restitution, more or less spin than the standard club gives, another gear
// effect, and some wind nobody wrote down.
func Foreign(c analysis.Club, hand analysis.Hand, rng *rand.Rand) World {
	m := ball.Of(c, hand, analysis.Conditions{})
	between := func(low, high float64) float64 { return low + (high-low)*rng.Float64() }

	m.Flight.Coefficients = flight.SmitsSmith{}
	if rng.Float64() < 0.5 {
		m.Flight.Coefficients = flight.HighSpin{}
	}
	m.Flight.SpinDecay *= between(0.5, 1)
	m.Flight.Wind = flight.Wind{Speed: math.Abs(0.7 * rng.NormFloat64()), From: between(0, 2*math.Pi)}

	h := &m.Head
	h.Sideways = 1
	h.Tangential = between(0, 0.5)
	spin := between(1, 1.4) // against the rolling contact
	if c.Family == analysis.Driver {
		spin = between(0.6, 0.9)
	}
	h.SpinScale = spin / (1 + h.Tangential)
	h.GearScale = between(0.4, 1)
	h.Mass *= between(0.97, 1.03)
	h.Restitution *= between(0.97, 1)
	h.InertiaAcross *= between(0.85, 1.2)
	return World{Ball: m, Gust: 0.4}
}

// Standard is the standard model's world in still air.
func Standard(c analysis.Club, hand analysis.Hand) World {
	return World{Ball: ball.Of(c, hand, analysis.Conditions{})}
}
