package stat

import (
	"math"
	"math/rand/v2"
	"testing"
)

// The interval holds the next value with the asked probability whatever the
// distribution: here the normal and a t with 3 degrees of freedom.
func TestHoldingInterval(t *testing.T) {
	if _, _, ok := HoldingInterval(make([]float64, 8), 0.8); ok {
		t.Error("eight values hold 80 %")
	}
	if low, high, ok := HoldingInterval([]float64{9, 1, 2, 3, 4, 5, 6, 7, 8}, 0.8); !ok || low != 1 || high != 9 {
		t.Errorf("of nine values: %v to %v", low, high)
	}
	for _, share := range []float64{math.NaN(), math.Inf(-1), -1, 0, 1, 2} {
		if _, _, ok := HoldingInterval([]float64{1}, share); ok {
			t.Errorf("one value holds a share of %v", share)
		}
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
