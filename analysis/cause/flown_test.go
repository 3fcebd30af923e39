package cause

import (
	"testing"

	"rangepost/analysis"
)

// At the loft that carries farthest a little more or less of it is worth nothing, and
// three degrees either way cost what the flight says.
func TestBends(t *testing.T) {
	m := ModelOf(driver, Config{})
	at := flier{speed: 48, smash: 1.47, launch: 10 * degree, spin: 3000 * analysis.RevPerMinute}
	s := slopesAt(at, &m)
	for s.loft > 0 { // higher, to where it carries farthest
		at = s.unlofted(at, flier{launch: -0.1 * degree})
		s = slopesAt(at, &m)
	}
	b := s.bends(at, &m)[byLoft]
	carry := func(f flier) float64 { return m.Flight.Fly(f.launched()).Carry }
	for _, more := range []float64{-3 * degree, 3 * degree} {
		costs := carry(s.unlofted(at, flier{launch: -more})) - carry(at)
		if costs > -1 {
			t.Fatalf("%.0f degrees are worth %.1f m: no best loft", more/degree, costs)
		}
		within(t, "worth", b.of(more), costs, 0.3*-costs)
	}
	within(t, "a little", b.of(0.3*degree), 0, 0.5)
}
