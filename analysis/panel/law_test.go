package panel

import (
	"math"
	"testing"
)

// What the papers print, or what readers of them print, against what flies.
func TestLawsSayWhatTheirSourcesSay(t *testing.T) {
	for _, c := range []struct {
		source    string
		law       airLaw
		spin, re  float64
		drag, by  float64
		lift, byL float64
	}{
		// [S: Crabill, Witherden & Jameson 2018, reading the figure]
		{"Bearman & Harvey", newTunnel1976(), 0.15, 1.5e5, 0.28, 0.005, 0.18, 0.005},
		{"Bearman & Harvey", newTunnel1976(), 0.30, 1.5e5, 0.32, 0.005, 0.25, 0.005},
		{"Bearman & Harvey", newTunnel1976(), 0.02, 1.5e5, 0.25, 0.01, 0.08, 0.005},
		// [C] from the printed constants
		{"Smits & Smith", tunnel1994{}, 0.10, 0.9e5, 0.258, 1e-3, 0.215, 1e-3},
		{"Smits & Smith", tunnel1994{}, 0.10, 1.9e5, 0.318, 1e-3, 0.215, 1e-3},
		// [S: a review that evaluates the polynomials]
		{"Naruo et al.", quartic2004{}, 0.1, 1e5, 0.236, 6e-4, 0.171, 6e-4},
		{"Naruo et al.", quartic2004{}, 0.2, 1e5, 0.279, 6e-4, 0.253, 6e-4},
		{"Naruo et al.", quartic2004{}, 0.5, 1e5, 0.414, 6e-4, 0.388, 6e-4}, // lift [C], see quartic2004
		// [C] the parabolas' own extremes
		{"Lyu et al. 2018", stillAir2018{}, 0.09, 1.41e5, 0.178, 1e-3, 0.153, 1e-3},
		{"Lyu et al. 2018", stillAir2018{}, 0.30, 1.41e5, 0.220, 1e-3, 0.305, 1e-3},
		// [S] the patent's example data, means of six shots
		{"US 6,186,002", indoor1998{}, 0.218, 0.81e5, 0.305, 0.008, 0.278, 0.004},
		{"US 6,186,002", indoor1998{}, 0.153, 1.23e5, 0.256, 0.008, 0.214, 0.004},
		{"US 6,186,002", indoor1998{}, 0.092, 2.00e5, 0.241, 0.008, 0.153, 0.004},
		{"US 6,186,002", indoor1998{}, 0.044, 1.98e5, 0.231, 0.008, 0.115, 0.004},
		// [S: figures 3 to 7 as read by others] drag 0.42 to 0.44 near 54,000, 0.25 to 0.27 near 72,000
		{"Lyu et al. 2020", crisis2020{}, 0.10, 0.54e5, 0.41, 0.03, 0.0, 0.03},
		{"Lyu et al. 2020", crisis2020{}, 0.10, 0.73e5, 0.235, 0.03, 0.14, 0.04},
	} {
		drag, lift := c.law.coefficients(c.spin, c.re)
		if math.Abs(drag-c.drag) > c.by || math.Abs(lift-c.lift) > c.byL {
			t.Errorf("%s at spin %.3f, Re %.0f: drag %.4f, lift %.4f, want %.3f and %.3f", c.source, c.spin, c.re, drag, lift, c.drag, c.lift)
		}
	}
}

// Wherever a ball can be, a law has no jump in it: its integrator leans on that.
func TestLawsAreContinuous(t *testing.T) {
	for _, w := range Worlds() {
		// 1.4 is the largest spin parameter anyone measured.
		for s := 0.01; s < 1.4; s += 0.001 {
			for _, re := range []float64{3e4, 6e4, 7.5e4, 9e4, 1e5, 1.5e5, 2.2e5} {
				drag, lift := w.law.coefficients(s, re)
				drag2, lift2 := w.law.coefficients(s+1e-6, re*(1+1e-6))
				if math.Abs(drag-drag2) > 1e-4 || math.Abs(lift-lift2) > 1e-4 || !(drag > 0.1 && drag < 0.8) || !(lift > -0.2 && lift < 0.6) {
					t.Fatalf("%s at spin %.3f, Re %.0f: drag %.4f then %.4f, lift %.4f then %.4f", w.Name, s, re, drag, drag2, lift, lift2)
				}
			}
		}
	}
}
