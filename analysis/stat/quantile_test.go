package stat

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"
)

// R 4.2.2: median, quantile (type 7), mad. [C]
func TestQuantile(t *testing.T) {
	four := []float64{3, 10, 1, 2}
	m, _ := Median(four)
	within(t, "median of 1, 2, 3, 10", m, 2.5, 0)
	q, _ := Quantile(four, 0.25)
	within(t, "lower quartile", q, 1.75, 1e-15)
	q, _ = Quantile(four, 0.75)
	within(t, "upper quartile", q, 4.75, 1e-14)
	m, _ = Median(twelveX)
	within(t, "median", m, 3.6, 1e-15)
	mad, _ := MAD(twelveX)
	within(t, "mad", mad, 3.40998, 1e-12)
	if !slices.Equal(four, []float64{3, 10, 1, 2}) {
		t.Errorf("the input was sorted: %v", four)
	}
	if _, ok := Median(nil); ok {
		t.Error("nothing has a median")
	}
	if q, ok := Quantile([]float64{7}, 0.99); !ok || q != 7 {
		t.Errorf("quantile of one value: %v %v", q, ok)
	}
}

func TestQuantileMirrors(t *testing.T) {
	rng := rand.New(rand.NewPCG(1, 2))
	for n := 1; n < 40; n++ {
		x := normals(rng, n)
		mirrored := make([]float64, n)
		for i := range x {
			mirrored[i] = -x[i]
		}
		for _, p := range []float64{0.025, 0.1, 0.3, 0.5} {
			a, _ := Quantile(x, p)
			b, _ := Quantile(mirrored, 1-p)
			if math.Abs(a+b) > 1e-15 {
				t.Fatalf("n %d p %v: %v and %v", n, p, a, b)
			}
		}
	}
}

// A share is between 0 and 1.
func TestQuantilesOutside(t *testing.T) {
	v := []float64{3, 1, 2}
	for _, p := range []float64{-0.1, 1.1, math.Inf(1), math.NaN()} {
		if q, ok := Quantile(v, p); ok {
			t.Errorf("Quantile(%v) = %v", p, q)
		}
	}
	sorted := []float64{1, 2, 3}
	if a, b := SortedQuantile(sorted, -1), SortedQuantile(sorted, 2); a != 1 || b != 3 {
		t.Errorf("SortedQuantile outside = %v, %v", a, b)
	}
	if q := SortedQuantile(sorted, math.NaN()); !math.IsNaN(q) {
		t.Errorf("SortedQuantile(NaN) = %v", q)
	}
}

func normals(rng *rand.Rand, n int) []float64 {
	v := make([]float64, n)
	for i := range v {
		v[i] = rng.NormFloat64()
	}
	return v
}
