package stat

import (
	"math"
	"testing"
)

// within checks got against want to an absolute tolerance.
func within(t *testing.T, what string, got, want, tol float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tol) {
		t.Errorf("%s = %.15g, want %.15g (tolerance %g)", what, got, want, tol)
	}
}
