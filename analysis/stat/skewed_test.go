package stat_test

import (
	"math"
	"math/rand/v2"
	"testing"

	"rangepost/analysis/stat"
)

// Limits hold a known mean as often as they say, also of values with a long tail.
func TestSkewedLimitsHold(t *testing.T) {
	shapes := map[string]struct {
		draw func(rng *rand.Rand) float64
		mean float64
	}{
		"normal":    {(*rand.Rand).NormFloat64, 0},
		"t3":        {func(rng *rand.Rand) float64 { return student(rng, 3) }, 0},
		"gamma":     {func(rng *rand.Rand) float64 { return -rng.ExpFloat64() - rng.ExpFloat64() }, -2},
		"lognormal": {func(rng *rand.Rand) float64 { return math.Exp(0.6 * rng.NormFloat64()) }, math.Exp(0.18)},
		"loss":      {func(rng *rand.Rand) float64 { z := student(rng, 5); return rng.NormFloat64() - 0.4*z*z }, -0.4 * 5 / 3},
	}
	for name, shape := range shapes {
		for _, n := range []int{6, 12, 30, 100} {
			rng := rand.New(rand.NewPCG(1, uint64(n)))
			const sets = 4000
			held, plain := 0, 0
			for range sets {
				values := make([]float64, n)
				for i := range values {
					values[i] = shape.draw(rng)
				}
				e := stat.Mean(values)
				if e.Low <= shape.mean && shape.mean <= e.High {
					plain++
				}
				if e = stat.Skewed(e, values); e.Low <= shape.mean && shape.mean <= e.High {
					held++
				}
			}
			share := float64(held) / sets
			t.Logf("%s, %d: Student's hold %.3f, these %.3f", name, n, float64(plain)/sets, share)
			if share < 0.915 || share > 0.975 {
				t.Errorf("%s, %d values: limits hold %.3f", name, n, share)
			}
		}
	}
}
