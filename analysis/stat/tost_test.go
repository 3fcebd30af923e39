package stat_test

import (
	"testing"

	"rangepost/analysis/stat"
)

// Lakens 2017, Soc. Psychol. Pers. Sci. 8:355, first example, from its means
// and standard deviations [S].
func TestTOST(t *testing.T) {
	a := stat.Sample{N: 95, Mean: 5.25, Variance: 0.95 * 0.95}
	b := stat.Sample{N: 89, Mean: 5.22, Variance: 0.83 * 0.83}
	w, _ := stat.Welch(a, b)
	e := stat.TOST(w, 0.384)
	near(t, "df", w.DF, 181.1344, 1e-6)
	near(t, "t lower", e.TLower, 3.153015, 1e-6)
	near(t, "p lower", e.PLower, 0.0009458745, 1e-9)
	near(t, "t upper", e.TUpper, -2.696056, 1e-6)
	near(t, "p upper", e.PUpper, 0.003838994, 1e-9)
	near(t, "p", e.P, 0.00383899428323745, 1e-12)
	low, high := w.Limits(0.90)
	near(t, "low", low, -0.1870843, 1e-7)
	near(t, "high", high, 0.2470843, 1e-7)

	pooled, _ := stat.PooledT(a, b)
	near(t, "pooled p", stat.TOST(pooled, 0.429).P, 0.00142109379580399, 1e-12) // R [C]; the paper prints t(182) = -3.03
}
