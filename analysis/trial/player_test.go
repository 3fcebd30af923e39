package trial_test

import (
	"math"
	"math/rand/v2"

	"rangepost/analysis"
)

var iron = analysis.Club{Family: analysis.Iron, Number: 7}

// What a radian of face and of path is worth to the simulated player, m of
// carry lateral: 4.6 and -1.8 yd a degree, a mid-iron's.
const (
	faceWorth = 4.6 * analysis.Yard / analysis.Degree
	pathWorth = -1.8 * analysis.Yard / analysis.Degree
)

// delivery is a mean delivery, in degrees and m/s.
type delivery struct{ face, path, attack, loft, speed float64 }

var neutral = delivery{0, 0, -4, 24, 38}

func (d delivery) with(face, path float64) delivery {
	d.face += face
	d.path += path
	return d
}

// hit is a set of n balls at a mean delivery, spread times as scattered as
// usual. Face and path of a ball go together (correlation 0.4), and the
// lateral follows from both and from what is not measured.
func hit(rng *rand.Rand, label string, first, n int, d delivery, spread float64) analysis.Set {
	s := analysis.Set{Club: iron, Label: label}
	normal := func(sd float64) float64 { return spread * sd * rng.NormFloat64() }
	for i := range n {
		common := normal(1)
		face := (d.face + 0.9*common + normal(1.4)) * analysis.Degree
		path := (d.path + 0.8*common + normal(1.2)) * analysis.Degree
		shot := analysis.Shot{N: first + i, Club: iron, Label: label}.
			With(analysis.Face, face).With(analysis.Path, path).
			With(analysis.Attack, (d.attack+normal(1))*analysis.Degree).
			With(analysis.DynamicLoft, (d.loft+normal(1.4))*analysis.Degree).
			With(analysis.ClubSpeed, d.speed+normal(0.5)).
			With(analysis.Carry, 3.9*d.speed+normal(5)).
			With(analysis.Lateral, faceWorth*face+pathWorth*path+normal(3)).Derived()
		s.Shots = append(s.Shots, shot)
	}
	return s
}

// unequal is a spread between 0.4 and 2.5.
func unequal(rng *rand.Rand) float64 { return math.Pow(2.5, 2*rng.Float64()-1) }
