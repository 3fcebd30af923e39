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

// stray is how one ball differs from the player's mean: of the delivery and of
// the wind.
type stray struct {
	delivery     analysis.Delivery
	windX, windY float64 // m/s
}

func (p Player) stray(rng *rand.Rand) stray {
	stretch := 1.0
	if v := math.Round(p.Spread.Tails); v > 2 {
		// A multivariate t of the asked standard deviations.
		chi := 0.0
		for range int(v) {
			z := rng.NormFloat64()
			chi += z * z
		}
		stretch = math.Sqrt((v - 2) / chi)
	}
	z := func() float64 { return stretch * rng.NormFloat64() }
	s, r := p.Spread, p.Spread.FacePath
	face := z()
	return stray{
		delivery: analysis.Delivery{
			ClubSpeed: s.ClubSpeed * z(), Attack: s.Attack * z(), DynamicLoft: s.DynamicLoft * z(),
			Face: s.Face * face, Path: s.Path * (r*face + math.Sqrt(1-r*r)*z()),
			StrikeToe: s.StrikeToe * z(), StrikeUp: s.StrikeUp * z(),
		},
		windX: p.World.Gust * rng.NormFloat64(), windY: p.World.Gust * rng.NormFloat64(),
	}
}

// hit is the ball that strays by so much, times by.
func (p Player) hit(s stray, by float64) Struck {
	d, off := p.Delivery, s.delivery
	d.ClubSpeed += by * off.ClubSpeed
	d.Attack += by * off.Attack
	d.DynamicLoft += by * off.DynamicLoft
	d.Face += by * off.Face
	d.Path += by * off.Path
	d.StrikeToe += by * off.StrikeToe
	d.StrikeUp += by * off.StrikeUp
	b := Struck{Delivery: d, model: p.World.Ball}
	if p.World.Gust > 0 {
		w := &b.model.Flight.Wind
		sin, cos := math.Sincos(w.From)
		x, y := w.Speed*cos+by*s.windX, w.Speed*sin+by*s.windY
		w.Speed, w.From = math.Hypot(x, y), math.Atan2(y, x)
	}
	return b.fly()
}

func (b Struck) fly() Struck {
	b.Launch = b.model.Head.Strike(b.Delivery)
	b.Landing = b.model.Flight.Fly(b.Launch)
	return b
}

// Strike is one ball.
func (p Player) Strike(rng *rand.Rand) Struck {
	b := p.hit(p.stray(rng), 1)
	if rng.Float64() < p.Spread.Mishits {
		b.Mishit = true
		b.Delivery.ClubSpeed *= 0.7
		b.Delivery.DynamicLoft *= 0.3 + 0.5*rng.Float64()
		b.Delivery.Face += (rng.Float64() - 0.5) * 30 * analysis.Degree
		b = b.fly()
	}
	return b
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
func (b Struck) lateral(face, path float64, centred bool) float64 {
	d := b.Delivery
	d.Face, d.Path = face, path
	if centred {
		d.StrikeToe, d.StrikeUp = 0, 0
	}
	return b.model.Flight.Fly(b.model.Head.Strike(d)).Lateral
}
