package stat_test

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"rangepost/analysis/stat"
)

// Eighteen invented values; the likelihoods were made as large as they go by a
// random search over plain formulas of the densities in Python. [C]
func TestMixtureOfTwoIsTheLikeliest(t *testing.T) {
	values := []float64{-8.9, -7.2, -6.8, -6.1, -5.7, -5.2, -4.6, -3.3, 2.4, 3.9, 4.4, 5.0, 5.8, 6.5, 7.7, 9.6, -6.4, 5.3}
	m, ok := stat.MixtureOfTwo(values)
	if !ok {
		t.Fatal("no groups")
	}
	near(t, "low", m.Low, -6.0133, 0.02)
	near(t, "high", m.High, 5.4512, 0.02)
	near(t, "scale", m.Scale, 1.4944, 0.02)
	near(t, "share", m.Share, 0.4996, 0.005)
	near(t, "ratio", m.Ratio, 15.991, 0.2)
	for i, v := range values {
		if (v > 0) != (m.InHigh[i] > 0.95) || (v < 0) != (m.InHigh[i] < 0.05) {
			t.Errorf("%v is of the higher group with %v", v, m.InHigh[i])
		}
	}
}

// singles are shapes of one pattern.
var singles = map[string]func(rng *rand.Rand) float64{
	"normal":      (*rand.Rand).NormFloat64,
	"t5":          func(rng *rand.Rand) float64 { return student(rng, 5) },
	"t3":          func(rng *rand.Rand) float64 { return student(rng, 3) },
	"flat":        (*rand.Rand).Float64,
	"exponential": (*rand.Rand).ExpFloat64,
	"gamma":       func(rng *rand.Rand) float64 { return rng.ExpFloat64() + rng.ExpFloat64() },
	"rounded":     func(rng *rand.Rand) float64 { return math.Round(1.2 * rng.NormFloat64()) },
}

func student(rng *rand.Rand, df int) float64 {
	square := 0.0
	for range df {
		z := rng.NormFloat64()
		square += z * z
	}
	return rng.NormFloat64() / math.Sqrt(square/float64(df))
}

// A large ratio and centres far apart are rare in values of one group, whatever
// their shape, and common where there are two.
func TestMixtureOfTwoTellsOneFromTwo(t *testing.T) {
	two := func(values []float64) bool {
		m, ok := stat.MixtureOfTwo(values)
		return ok && m.Ratio > 12 && m.Apart() > 5 && min(m.Share, 1-m.Share) > 0.125
	}
	const sets = 500
	for name, draw := range singles {
		for _, n := range []int{8, 12, 20, 40, 100} {
			rng := rand.New(rand.NewPCG(1, uint64(n)))
			said := 0
			for range sets {
				values := make([]float64, n)
				for i := range values {
					values[i] = draw(rng)
				}
				if two(values) {
					said++
				}
			}
			if said > sets/50 {
				t.Errorf("%d values, %s: two groups in %d of %d", n, name, said, sets)
			}
		}
	}
	for _, of := range []struct{ n, high int }{{20, 10}, {20, 4}, {60, 12}} {
		rng := rand.New(rand.NewPCG(2, uint64(of.n)))
		said := 0
		for range sets {
			values := make([]float64, of.n)
			for i := range values {
				if values[i] = rng.NormFloat64(); i < of.high {
					values[i] += 10
				}
			}
			rng.Shuffle(of.n, func(i, j int) { values[i], values[j] = values[j], values[i] })
			if two(values) {
				said++
			}
		}
		if said < 9*sets/10 {
			t.Errorf("%d of %d values ten deviations off: two groups in %d of %d", of.high, of.n, said, sets)
		}
	}
}

func TestMixtureOfTwoOfNone(t *testing.T) {
	same := slices.Repeat([]float64{3}, 20)
	for _, values := range [][]float64{nil, {1, 2, 3, 4, 5, 6, 7}, same, append([]float64{1, 2, 9}, same...)} {
		if _, ok := stat.MixtureOfTwo(values); ok {
			t.Errorf("%v has two groups", values)
		}
	}
	m, ok := stat.MixtureOfTwo([]float64{1, 1, 1, 1, 5, 5, 5, 5})
	if !ok || m.Low > 3 || m.High < 3 || math.IsNaN(m.Ratio) {
		t.Errorf("two figures: %+v, %v", m, ok)
	}
}

func BenchmarkMixtureOfTwo60(b *testing.B) {
	rng := rand.New(rand.NewPCG(1, 1))
	values := make([]float64, 60)
	for i := range values {
		values[i] = rng.NormFloat64()
	}
	for b.Loop() {
		stat.MixtureOfTwo(values)
	}
}
