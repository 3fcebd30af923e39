package player

import (
	"math"
	"math/rand/v2"

	"rangepost/analysis"
	"rangepost/analysis/ball"
	"rangepost/analysis/flight"
)

// A Player is one golfer with one club on one day.
type Player struct {
	Hand     analysis.Hand
	Club     analysis.Club
	Delivery analysis.Delivery // mean
	Spread   Spread
	World    World
	Device   Device
}

// Spread is the shot-to-shot standard deviation of each number of a delivery.
type Spread struct {
	ClubSpeed           float64 // m/s
	Attack, DynamicLoft float64 // rad
	Face, Path          float64 // rad
	FacePath            float64 // correlation of the two
	StrikeToe, StrikeUp float64 // m
	Tails               float64 // degrees of freedom of the scatter, above 2; 0 is normal
	Mishits             float64 // share of balls struck far off the pattern
}

// World is how impact and flight truly go for this player.
type World struct {
	Ball ball.Model
	Gust float64 // m/s, standard deviation of the wind from ball to ball
}

// Struck is one ball as it truly was.
type Struck struct {
	Delivery analysis.Delivery
	Launch   analysis.Launch
	Landing  flight.Landing
	Mishit   bool
	model    ball.Model // with this ball's own wind
}

// Strike is one ball.
func (p Player) Strike(rng *rand.Rand) Struck {
	stretch := 1.0
	if p.Spread.Tails > 2 {
		// A multivariate t of the asked standard deviations.
		v, chi := p.Spread.Tails, 0.0
		for range int(math.Round(v)) {
			z := rng.NormFloat64()
			chi += z * z
		}
		stretch = math.Sqrt((math.Round(v) - 2) / chi)
	}
	z := func() float64 { return stretch * rng.NormFloat64() }
	d := p.Delivery
	d.ClubSpeed += p.Spread.ClubSpeed * z()
	d.Attack += p.Spread.Attack * z()
	d.DynamicLoft += p.Spread.DynamicLoft * z()
	face, own := z(), z()
	r := p.Spread.FacePath
	d.Face += p.Spread.Face * face
	d.Path += p.Spread.Path * (r*face + math.Sqrt(1-r*r)*own)
	d.StrikeToe += p.Spread.StrikeToe * z()
	d.StrikeUp += p.Spread.StrikeUp * z()

	s := Struck{model: p.World.Ball}
	if p.World.Gust > 0 {
		w := s.model.Flight.Wind
		x := w.Speed*math.Cos(w.From) + p.World.Gust*rng.NormFloat64()
		y := w.Speed*math.Sin(w.From) + p.World.Gust*rng.NormFloat64()
		s.model.Flight.Wind.Speed, s.model.Flight.Wind.From = math.Hypot(x, y), math.Atan2(y, x)
	}
	if rng.Float64() < p.Spread.Mishits {
		s.Mishit = true
		d.ClubSpeed *= 0.7
		d.DynamicLoft *= 0.3 + 0.5*rng.Float64()
		d.Face += (rng.Float64() - 0.5) * 30 * analysis.Degree
	}
	s.Delivery = d
	s.Launch = s.model.Head.Strike(d)
	s.Landing = s.model.Flight.Fly(s.Launch)
	return s
}

// Shots are n balls of the player as the device saw them, numbered from 1.
func (p Player) Shots(n int, label string, rng *rand.Rand) []analysis.Shot {
	shots := make([]analysis.Shot, n)
	for i := range shots {
		s := p.Device.Measure(p.Strike(rng), rng)
		s.N, s.Club, s.Label = i+1, p.Club, label
		shots[i] = s.Derived()
	}
	return shots
}

// Set is the same as a set.
func (p Player) Set(n int, label string, rng *rand.Rand) analysis.Set {
	return analysis.Set{Club: p.Club, Label: label, Shots: p.Shots(n, label, rng)}
}

// lateral is where the ball would have landed with another face and path, and
// with or without its strike off the centre.
func (s Struck) lateral(face, path float64, centred bool) float64 {
	d := s.Delivery
	d.Face, d.Path = face, path
	if centred {
		d.StrikeToe, d.StrikeUp = 0, 0
	}
	return s.model.Flight.Fly(s.model.Head.Strike(d)).Lateral
}
