package stat_test

import (
	"math"
	"testing"

	"rangepost/analysis/stat"
)

// R package pwr 1.3-0, pwr.t.test [C]; its manual prints 63.77 for d = 0.5
// (Cohen 1988) [M]. Equivalence sizes by the exact integral in R [C].
func TestSampleSize(t *testing.T) {
	for _, c := range []struct {
		d, n80, n90 float64
		equivalence int
	}{
		{0.2, 393.405696021649, 526.333188574822, 0},
		{0.3, 175.384666619316, 234.46274357134, 191},
		{0.5, 63.7656104441418, 85.0312849575175, 70},
		{0.8, 25.524581615622, 33.8255494696529, 28},
		{1, 16.7147224663508, 22.021088546403, 18},
		{1.25, 11.0942000487917, 14.4809895937203, 12},
		{1.5, 8.06032097834746, 10.4014691052553, 9},
		{2, 5.08999483245122, 6.38675263040796, 6},
		{2.5, 3.76181513606066, 4.57479203684173, 4},
	} {
		// pwr solves with uniroot at its default tolerance.
		near(t, "n for 80 %", stat.SampleSize(c.d, 0.05, 0.8), c.n80, 2e-5)
		near(t, "n for 90 %", stat.SampleSize(c.d, 0.05, 0.9), c.n90, 2e-5)
		if c.equivalence != 0 {
			if got := stat.EquivalenceSize(c.d, 0.05, 0.8); got != c.equivalence {
				t.Errorf("EquivalenceSize(%v) = %d, want %d", c.d, got, c.equivalence)
			}
		}
	}
}

// pwr.t.test(n =, power = .8)$d and pwr.t.test(n =, d = 1)$power [C].
func TestDetectable(t *testing.T) {
	for _, c := range []struct {
		n        int
		d, power float64
	}{
		{3, 3.07091721407561, 0.158790870006124},
		{5, 2.02443932255725, 0.286295493381156},
		{8, 1.50664974044016, 0.46123884950425},
		{10, 1.32494658047579, 0.562006646586232},
		{15, 1.05979708203164, 0.752923034503489},
		{20, 0.909158705134689, 0.868953027724586},
		{30, 0.735629236718451, 0.967708258242515},
	} {
		near(t, "d", stat.Detectable(c.n, c.n, 0.05, 0.8), c.d, 1e-4) // R's uniroot stops at 1.2e-4
		near(t, "power", stat.Power(1, float64(c.n), float64(c.n), 0.05), c.power, 1e-9)
	}
}

// One set fixed at 10, the other takes fewer than the textbook rule
// n n0/(2 n0 - n) says, for that rule keeps the t quantile of the balanced
// design where more values bring it down. Against half the balanced size or
// less no number of values will do.
func TestSampleSizeAgainst(t *testing.T) {
	n, ok := stat.SampleSizeAgainst(10, 1, 0.05, 0.8)
	if !ok {
		t.Fatal("not ok")
	}
	near(t, "power at the answer", stat.Power(1, 10, n, 0.05), 0.8, 1e-9)
	if rule := 16.7147 * 10 / (20 - 16.7147); !(n > 40 && n < rule) {
		t.Errorf("n = %v, want over 40 and under the textbook's %v", n, rule)
	}
	if n, ok := stat.SampleSizeAgainst(7, 1, 0.05, 0.8); ok {
		t.Errorf("against 7: %v, want none", n)
	}
	balanced := int(math.Ceil(stat.SampleSize(1, 0.05, 0.8)))
	if n, ok := stat.SampleSizeAgainst(balanced, 1, 0.05, 0.8); !ok || math.Ceil(n) > float64(balanced) {
		t.Errorf("against %d: %v, %v; want no more than that", balanced, n, ok)
	}
}
