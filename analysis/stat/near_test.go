package stat_test

import (
	"math"
	"testing"
)

// near checks got against want to a relative tolerance, absolute below 1.
func near(t *testing.T, what string, got, want, tol float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tol*max(1, math.Abs(want))) {
		t.Errorf("%s = %.15g, want %.15g (tolerance %g)", what, got, want, tol)
	}
}
