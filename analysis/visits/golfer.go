package visits

import (
	"math"
	"math/rand/v2"

	"rangepost/analysis"
)

// Tails are how a golfer's balls lie about their mean.
type Tails uint8

// Heavy is Student's t of 5 degrees of freedom; Skewed a gamma of shape 4, its
// long tail to the golfer's open side, and to less club speed.
const (
	Normal Tails = iota
	Heavy
	Skewed
	NumTails = iota
)

// A Golfer is a student with one club. All deliveries are SI, sideways positive
// to the right of target.
type Golfer struct {
	Hand analysis.Hand
	Club analysis.Club

	Level analysis.Delivery // the long-run mean as usual
	SD    analysis.Delivery // of a ball about the mean of its turn

	VisitSD analysis.Delivery // of a visit about the level
	TurnSD  analysis.Delivery // of a turn, which is set up for anew, about its visit

	Serial   float64 // correlation of a ball with the one before it in its visit
	FacePath float64 // correlation of face and path, ball by ball

	Warm      analysis.Delivery // how far off the first ball of a visit is
	WarmBalls int               // of a visit, after which that is gone, going down evenly
	Tire      analysis.Delivery // how far off the last ball of a visit is, from 0 at the first, going up evenly

	Tails   Tails
	Mishits float64 // share of the balls
}

// VisitSD is how much a visit's mean of an angle scatters, rad (the task's
// figure; common practice, no source).
const VisitSD = 0.8 * analysis.Degree

// NewGolfer draws a golfer: every figure evenly between the limits doc.go gives.
func NewGolfer(rng *rand.Rand) Golfer {
	between := func(low, high float64) float64 { return low + (high-low)*rng.Float64() }
	about := func(most float64) float64 { return between(-most, most) }
	const deg, mm = analysis.Degree, analysis.Millimetre

	g := Golfer{Club: practised(rng)}
	if rng.IntN(8) == 0 {
		g.Hand = analysis.LeftHanded
	}
	level := modelOf(g.Club).average()
	level[speed] *= between(0.82, 1.1)
	level[attack] += about(2 * deg)
	level[loft] += about(3 * deg)
	level[path] = about(5 * deg)
	level[face] = level[path]/2 + about(3*deg)
	level[toe] = about(8 * mm)
	level[up] = about(5 * mm)
	g.Level = level.delivery()

	sd := vector{
		speed:  between(0.5, 1.2),
		attack: between(1, 2) * deg,
		path:   between(1.5, 3.5) * deg,
		face:   between(1.5, 3) * deg,
		loft:   between(1, 2.5) * deg,
		toe:    between(5, 10) * mm,
		up:     between(5, 10) * mm,
	}
	g.SD = sd.delivery()
	g.VisitSD = alike(VisitSD, sd)
	g.TurnSD = alike(between(0, 0.6)*deg, sd)

	g.Serial = between(0, 0.35)
	g.FacePath = about(0.3)
	g.WarmBalls = 10 + rng.IntN(6)
	g.Warm = vector{
		speed:  -between(0, 1),
		attack: about(1 * deg),
		path:   about(2 * deg),
		face:   about(2 * deg),
		loft:   about(1 * deg),
		toe:    about(4 * mm),
		up:     about(4 * mm),
	}.delivery()
	g.Tire = vector{
		speed: -between(0, 1),
		path:  about(2 * deg),
		face:  about(2 * deg),
		loft:  about(1 * deg),
	}.delivery()
	g.Tails = Tails(rng.IntN(NumTails))
	g.Mishits = between(0, 0.06)
	return g
}

// alike is an effect of so much on every angle, and on speed and strike the same
// part of a ball's scatter that it is of a face's middling one.
func alike(angle float64, sd vector) analysis.Delivery {
	const middling = 2.25 * analysis.Degree
	v := vector{attack: angle, path: angle, face: angle, loft: angle}
	for _, i := range []int{speed, toe, up} {
		v[i] = sd[i] * angle / middling
	}
	return v.delivery()
}

// at is the golfer with another club: as far from its average as with their own.
func (g Golfer) at(club analysis.Club) Golfer {
	own, other := modelOf(g.Club).average(), modelOf(club).average()
	level := of(g.Level)
	faster := level[speed] / own[speed]
	level = level.plus(-1, own).plus(1, other)
	level[speed] = other[speed] * faster
	g.Level, g.Club = level.delivery(), club
	return g
}

// own is a ball's own part of its scatter, of unit variance, apart from the ball
// before.
func (g Golfer) own(rng *rand.Rand) (z vector) {
	for i := range z {
		switch g.Tails {
		case Normal:
			z[i] = rng.NormFloat64()
		case Heavy:
			chi := 0.0
			for range 5 {
				x := rng.NormFloat64()
				chi += x * x
			}
			// t of 5 degrees of freedom has a variance of 5/3 [C].
			z[i] = rng.NormFloat64() / math.Sqrt(chi/5) / math.Sqrt(5.0/3)
		case Skewed:
			// A gamma of shape 4 has mean 4 and variance 4 [C].
			sum := 0.0
			for range 4 {
				sum += rng.ExpFloat64()
			}
			z[i] = (sum - 4) / 2
			switch i {
			case face, path:
				z[i] *= g.Hand.Mirror()
			case speed:
				z[i] = -z[i]
			}
		}
	}
	z[face] = g.FacePath*z[path] + math.Sqrt(1-g.FacePath*g.FacePath)*z[face]
	return z
}

// mishit spoils a ball: off the toe or the heel, or thin or fat, slower and with
// the face twisted.
func mishit(v vector, rng *rand.Rand) vector {
	const deg, mm = analysis.Degree, analysis.Millimetre
	side := float64(1 - 2*rng.IntN(2))
	if rng.IntN(2) == 0 {
		v[toe] += side * (15 + 10*rng.Float64()) * mm
		v[face] += side * 3 * rng.Float64() * deg
	} else {
		v[up] += side * (12 + 8*rng.Float64()) * mm
		v[attack] += 3 * rng.NormFloat64() * deg
	}
	v[face] += 3 * rng.NormFloat64() * deg
	v[speed] *= 0.90 + 0.07*rng.Float64()
	return v
}
