package pattern

import (
	"math"
	"math/rand/v2"
	"reflect"
	"testing"

	"rangepost/analysis"
)

// swung makes n balls of which the first so many swing 20 degrees further to the
// right, and curve that much more.
func swung(rng *rand.Rand, n, right int) analysis.Set {
	set := scattered(rng, n, 150, -8, 6, 7)
	for i, s := range set.Shots {
		path := -9 + 2.5*rng.NormFloat64()
		if i < right {
			path += 20
			y, _ := s.Value(analysis.Lateral)
			s = s.With(analysis.Lateral, y-25)
		}
		set.Shots[i] = s.With(analysis.Path, path*analysis.Degree)
	}
	return set
}

// Two swings in one set are told, half and half and one in five, with the balls of
// each as they were hit.
func TestTwoSwings(t *testing.T) {
	for _, of := range []struct{ n, right int }{{24, 12}, {20, 4}, {60, 12}, {12, 6}} {
		rng := rand.New(rand.NewPCG(7, uint64(of.n)))
		said, strays := 0, 0
		for range 100 {
			p := Of(swung(rng, of.n, of.right))
			if len(p.Parts) == 0 {
				continue
			}
			said++
			for i, s := range append(append([]analysis.Shot(nil), p.Parts[0].Shots...), p.Parts[1].Shots...) {
				if s.N != i+1 {
					strays++
				}
			}
			if !(p.Parts[0].Lateral.Mean < p.Parts[1].Lateral.Mean) {
				t.Fatalf("%.1f m and %.1f m", p.Parts[0].Lateral.Mean, p.Parts[1].Lateral.Mean)
			}
		}
		if strays > 2*said {
			t.Errorf("%d of %d balls: %d strays in %d sets", of.right, of.n, strays, said)
		}
		if said < 85 {
			t.Errorf("%d of %d balls: told %d times of 100", of.right, of.n, said)
		}
	}
}

// One pattern, wide or skewed or with heavy tails, is one.
func TestOnePatternIsOne(t *testing.T) {
	shapes := map[string]func(rng *rand.Rand) float64{
		"wide": func(rng *rand.Rand) float64 { return 25 * rng.NormFloat64() },
		"slice": func(rng *rand.Rand) float64 {
			return 12 * (rng.ExpFloat64() + rng.ExpFloat64())
		},
		"tails": func(rng *rand.Rand) float64 {
			square := 0.0
			for range 3 {
				z := rng.NormFloat64()
				square += z * z
			}
			return 8 * rng.NormFloat64() / math.Sqrt(square/3)
		},
	}
	for name, draw := range shapes {
		for _, n := range []int{10, 12, 24, 60} {
			rng := rand.New(rand.NewPCG(8, uint64(n)))
			const sets = 400
			said := 0
			for range sets {
				set := scattered(rng, n, 150, 0, 6, 7)
				for i, s := range set.Shots {
					face := draw(rng)
					set.Shots[i] = s.With(analysis.Lateral, face).With(analysis.Face, face/8*analysis.Degree).
						With(analysis.Path, 3*rng.NormFloat64()*analysis.Degree)
				}
				if len(Of(set).Parts) > 0 {
					said++
				}
			}
			if said > sets/50 {
				t.Errorf("%s, %d balls: two patterns in %d of %d", name, n, said, sets)
			}
		}
	}
}

// The mirror image of two patterns is two patterns, of the same balls.
func TestTwoSwingsMirrored(t *testing.T) {
	set := swung(rand.New(rand.NewPCG(9, 9)), 24, 12)
	mirrored := analysis.Set{}
	for _, s := range set.Shots {
		mirrored.Shots = append(mirrored.Shots, s.Mirrored())
	}
	a, b := Of(set), Of(mirrored)
	if len(a.Parts) != 2 || len(b.Parts) != 2 || !reflect.DeepEqual(a.Warnings, b.Warnings) {
		t.Fatalf("%+v, %+v", a.Warnings, b.Warnings)
	}
	for i := range a.Parts {
		within(t, "mean", b.Parts[i].Lateral.Mean, -a.Parts[i].Lateral.Mean, 1e-9)
	}
}
