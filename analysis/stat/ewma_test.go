package stat_test

import (
	"slices"
	"testing"

	"rangepost/analysis/stat"
)

// The worked example of the NIST/SEMATECH e-Handbook, 6.3.2.4: lambda 0.3,
// target 50, s 2.0539, three sigma. All 21 printed values and both limits
// (52.5884 and 47.4115) [S].
func TestEWMAHandbook(t *testing.T) {
	x := []float64{52, 47, 53, 49.3, 50.1, 47, 51, 50.1, 51.2, 50.5, 49.6, 47.6, 49.9, 51.3, 47.8, 51.2, 52.6, 52.4, 53.6, 52.1}
	printed := []float64{50.00, 50.60, 49.52, 50.56, 50.18, 50.16, 49.21, 49.75, 49.85, 50.26, 50.33, 50.11, 49.36, 49.52, 50.05, 49.38, 49.92, 50.73, 51.23, 51.94, 51.99}
	z, low, high := stat.EWMA(x, slices.Repeat([]float64{2.0539}, len(x)), 50, 0.3, 3)
	near(t, "start", printed[0], 50, 0)
	for i := range z {
		near(t, "z", z[i], printed[i+1], 0.0051/50) // printed to two decimals
	}
	near(t, "z at the end", z[19], 51.9882432586446, 1e-13) // R [C]
	// The page's limits are the asymptotic ones; after 20 points the exact ones
	// have come within 1e-6 of them. It cuts sqrt(0.3/1.7) to 0.4201.
	near(t, "high at the end", high[19], 52.5884, 1e-6)
	near(t, "low at the end", low[19], 47.4115, 2e-6)
	// Exact limits from the start, R [C].
	for i, want := range []float64{51.84851, 52.256394012124, 52.4314055707954, 52.5127153468809} {
		near(t, "high", high[i], want, 1e-13)
		near(t, "low", low[i], 100-want, 1e-13)
	}
}
