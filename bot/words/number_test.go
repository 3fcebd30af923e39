package words

import (
	"testing"

	"rangepost/analysis"
)

// Limits of what moved that have come back to nothing since stop there, and do not
// say that nothing moved.
func TestLimitsThatStopAtNothing(t *testing.T) {
	for _, c := range []struct {
		low, high float64
		want      string
	}{
		{-4 * analysis.Degree, 0, " (at most 4°)"}, {0, 4 * analysis.Degree, " (at most 4°)"},
		{0.2 * analysis.Degree, 7 * analysis.Degree, " (under 1 to 7°)"}, {-4 * analysis.Degree, -2 * analysis.Degree, " (2 to 4°)"},
	} {
		check(t, Voice{}.changeBracket(analysis.Path, c.low, c.high), c.want)
	}
}
