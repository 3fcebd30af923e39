package stat

import (
	"math"
	"math/rand/v2"
	"testing"
)

// Ranks of the limits of a median, and their true confidence: binomial tails,
// as in the tables of nonparametric texts (Conover 1999, table A3 [M]).
func TestMedianLimits(t *testing.T) {
	for _, r := range []struct {
		n, low, high int
		actual       float64
	}{
		{6, 1, 6, 0.96875},
		{10, 2, 9, 0.978515625},
		{15, 4, 12, 0.96484375},
		{20, 6, 15, 0.958610534667969},
	} {
		x := make([]float64, r.n)
		for i := range x {
			x[i] = float64(r.n - i) // rank as value, in falling order
		}
		low, high, actual, ok := QuantileLimits(x, 0.5, 0.95)
		if !ok || low != float64(r.low) || high != float64(r.high) {
			t.Errorf("n %d: ranks %v to %v, want %d to %d", r.n, low, high, r.low, r.high)
		}
		within(t, "actual confidence", actual, r.actual, 1e-9)
	}
	if _, _, _, ok := QuantileLimits([]float64{1, 2, 3, 4, 5}, 0.5, 0.95); ok {
		t.Error("five values cannot reach 95 %")
	}
}

// The interval holds the next value with the asked probability whatever the
// distribution: here the normal and a t with 3 degrees of freedom.
func TestHoldingInterval(t *testing.T) {
	if _, _, ok := HoldingInterval(make([]float64, 8), 0.8); ok {
		t.Error("eight values hold 80 %")
	}
	if low, high, ok := HoldingInterval([]float64{9, 1, 2, 3, 4, 5, 6, 7, 8}, 0.8); !ok || low != 1 || high != 9 {
		t.Errorf("of nine values: %v to %v", low, high)
	}
	heavy := func(rng *rand.Rand) float64 {
		a, b, c := rng.NormFloat64(), rng.NormFloat64(), rng.NormFloat64()
		return rng.NormFloat64() / math.Sqrt((a*a+b*b+c*c)/3)
	}
	for name, draw := range map[string]func(*rand.Rand) float64{"normal": (*rand.Rand).NormFloat64, "heavy": heavy} {
		rng := rand.New(rand.NewPCG(6, 6))
		const sets, n = 20000, 23
		held := 0
		for range sets {
			x := make([]float64, n)
			for i := range x {
				x[i] = draw(rng)
			}
			low, high, _ := HoldingInterval(x, 0.8)
			if next := draw(rng); low <= next && next <= high {
				held++
			}
		}
		// 4 standard errors are 1.1 %; interpolating between ranks adds a little.
		if share := float64(held) / sets; math.Abs(share-0.8) > 0.014 {
			t.Errorf("%s: %.3f held, want 0.8", name, share)
		}
	}
}
