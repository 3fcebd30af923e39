package stat_test

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"rangepost/analysis/stat"
)

// All 43,758 splits counted in R with combn [C].
func TestPermutationExact(t *testing.T) {
	p, exact, ok := stat.Permutation(strong, base, 43758, nil)
	if !ok || !exact {
		t.Fatalf("exact, ok = %v, %v", exact, ok)
	}
	near(t, "p", p, 0.000982677453265689, 1e-15)
}

// Fisher's lady tasting tea (1935, The Design of Experiments, ch.
// 2): four cups of eight told right is 1 of 70 splits, 2 of 70 two-sided.
func TestPermutationTea(t *testing.T) {
	p, _, _ := stat.Permutation([]float64{1, 1, 1, 1}, []float64{0, 0, 0, 0}, 70, nil)
	near(t, "p", p, 2.0/70, 1e-15)
}

// Too many splits to count: the draws agree with Student's p, which is near
// the permutation p at 20 values a set, within their own Monte-Carlo error.
func TestPermutationDrawn(t *testing.T) {
	rng := rand.New(rand.NewPCG(1, 2))
	a, b := make([]float64, 20), make([]float64, 20)
	for i := range a {
		a[i], b[i] = rng.NormFloat64(), rng.NormFloat64()+0.6
	}
	before := slices.Clone(a)
	const draws = 20000
	p, exact, ok := stat.Permutation(a, b, draws, rng)
	if !ok || exact {
		t.Fatalf("exact, ok = %v, %v", exact, ok)
	}
	want, _ := stat.PooledT(stat.SampleOf(a), stat.SampleOf(b))
	near(t, "p", p, want.P, 3*math.Sqrt(want.P/draws)+0.003)
	if !slices.Equal(a, before) {
		t.Error("Permutation changed its input")
	}
}
