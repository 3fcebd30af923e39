package stat_test

import (
	"testing"

	"rangepost/analysis/stat"
)

// The smallest equal samples that show equivalence at 80 %, by the exact
// integral in R [C]: one value fewer falls short.
func TestEquivalencePower(t *testing.T) {
	for _, c := range []struct {
		margin float64
		n      int
	}{{0.3, 191}, {0.5, 70}, {0.8, 28}, {1, 18}, {1.25, 12}, {1.5, 9}, {2, 6}, {2.5, 4}} {
		n := float64(c.n)
		if enough, short := stat.EquivalencePower(c.margin, n, n, 0.05), stat.EquivalencePower(c.margin, n-1, n-1, 0.05); enough < 0.8 || short >= 0.8 {
			t.Errorf("margin %v: %.4f with %d values each and %.4f with one fewer; want 80 %% reached just there", c.margin, enough, c.n, short)
		}
	}
}
