package shapes

import (
	"math"
	"testing"

	"rangepost/analysis"
)

// What the trade expects of a good player's clubs (common practice, no
// source).
func TestFliesAsTheTradeExpects(t *testing.T) {
	for _, c := range []struct {
		name                          string
		mph, launch, rpm              float64
		carryYd, apexYd, descentUpper float64
	}{
		{"driver", 167, 10.9, 2690, 275, 32, 42},
		{"7-iron", 120, 16.3, 7100, 172, 32, 55},
		{"pitching wedge", 102, 24.2, 9300, 136, 29, 56},
	} {
		l := fly(c.mph*analysis.MilePerHour, rad(c.launch), 0, c.rpm*analysis.RevPerMinute, 0, 1)
		t.Logf("%s: %.1f yd, %.1f high, %.1f deg, %.2f s", c.name, l.carry/analysis.Yard, l.apex/analysis.Yard, l.descent/analysis.Degree, l.time)
		if got := l.carry / analysis.Yard; math.Abs(got/c.carryYd-1) > 0.03 {
			t.Errorf("%s carries %.1f yd, want within 3 %% of %.0f", c.name, got, c.carryYd)
		}
		if got := l.apex / analysis.Yard; math.Abs(got/c.apexYd-1) > 0.2 {
			t.Errorf("%s rises %.1f yd, want within 20 %% of %.0f", c.name, got, c.apexYd)
		}
		if got := l.descent / analysis.Degree; got > c.descentUpper {
			t.Errorf("%s comes down at %.1f deg, want under %.0f", c.name, got, c.descentUpper)
		}
	}
}
