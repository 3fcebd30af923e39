package stat_test

import (
	"testing"

	"rangepost/analysis/stat"
)

// R 4.2.2 p.adjust(p, "holm") [C].
func TestHolm(t *testing.T) {
	got := stat.Holm([]float64{0.01, 0.02, 0.03, 0.04, 0.05, 0.0001})
	for i, want := range []float64{0.05, 0.08, 0.09, 0.09, 0.09, 0.0006} {
		near(t, "adjusted p", got[i], want, 1e-15)
	}
}
