package stat_test

import (
	"math"
	"testing"

	"rangepost/analysis/stat"
)

// Harter 1961, Biometrika 48:151, prints the largest of 5, 10 and 20 as
// 1.16296, 1.53875 and 1.86748 [M]; of 2 it is 1/sqrt(pi). The rest by R's
// integrate [C].
func TestExpectedBest(t *testing.T) {
	for _, c := range []struct {
		k, n int
		want float64
	}{
		{1, 1, 0}, {1, 2, 1 / math.Sqrt(math.Pi)}, {1, 3, 0.846284375321634}, {1, 5, 1.16296447364052}, {1, 10, 1.53875273083518},
		{1, 20, 1.86747505979832}, {1, 50, 2.24907362938987},
		{3, 10, 1.06538962692525}, {5, 20, 1.21447838282862}, {8, 20, 0.928244228816141}, {5, 10, 0.738920266011596}, {10, 10, 0},
	} {
		got, ok := stat.ExpectedBest(c.k, c.n)
		if !ok {
			t.Fatalf("best %d of %d: not ok", c.k, c.n)
		}
		near(t, "best", got, c.want, 1e-9)
	}
	if _, ok := stat.ExpectedBest(3, 2); ok {
		t.Error("best 3 of 2: ok, want not")
	}
}
