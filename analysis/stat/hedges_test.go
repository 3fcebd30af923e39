package stat_test

import (
	"testing"

	"rangepost/analysis/stat"
)

// Outputs of R 4.2.2 with the exact J and limits by pt(ncp) [C].
func TestHedges(t *testing.T) {
	for _, c := range []struct {
		name         string
		a, b         []float64
		g, low, high float64
	}{
		{"sets", strong, base, -1.89690593817303, -2.97705024863144, -0.778389105704137},
		{"sleep", sleepA, sleepB, -0.796935239191122, -1.66517179067478, 0.0914077328051609},
	} {
		got, ok := stat.Hedges(stat.SampleOf(c.a), stat.SampleOf(c.b), 0.95)
		if !ok {
			t.Fatalf("%s: not ok", c.name)
		}
		near(t, c.name+" g", got.G, c.g, 1e-12)
		// R solves for the limits with uniroot to about 1e-9.
		near(t, c.name+" low", got.Low, c.low, 1e-7)
		near(t, c.name+" high", got.High, c.high, 1e-7)
	}
}
