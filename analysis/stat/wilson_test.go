package stat_test

import (
	"testing"

	"rangepost/analysis/stat"
)

// Newcombe 1998, Stat. Med. 17:857, table I, prints the first four to four
// decimals [M]; the figures are R's prop.test(correct = FALSE) [C].
func TestWilson(t *testing.T) {
	for _, c := range []struct {
		x, n      int
		low, high float64
	}{
		{81, 263, 0.255288519878274, 0.3662095769828},
		{15, 148, 0.0623863995307363, 0.160487241723308},
		{0, 20, 0, 0.161125158052819},
		{1, 29, 0.00611321429276265, 0.171755218793203},
		{7, 12, 0.31951131254955, 0.806739686341243},
		{3, 5, 0.230724281276013, 0.882379225767352},
		{0, 5, 0, 0.434482464783175},
		{5, 5, 0.565517535216825, 1},
	} {
		low, high, ok := stat.Wilson(c.x, c.n, 0.95)
		if !ok {
			t.Fatalf("%d of %d: not ok", c.x, c.n)
		}
		near(t, "low", low, c.low, 1e-12)
		near(t, "high", high, c.high, 1e-12)
	}
	if _, _, ok := stat.Wilson(0, 0, 0.95); ok {
		t.Error("0 of 0: ok, want not")
	}
}
