package stat_test

import (
	"testing"

	"rangepost/analysis/stat"
)

// scipy 1.10: t.ppf(0.975, 7), and brentq on 0.3 t.cdf((x+1)/2, 7) +
// 0.7 t.cdf(x-3, 7) [C];
// a part that is a point jumps there.
func TestStudentMixture(t *testing.T) {
	one := stat.StudentMixture{Mean: []float64{0}, SE: []float64{1}, Weight: []float64{1}, DF: 7}
	near(t, "one part", one.Quantile(0.975), 2.364624251593, 1e-9)
	two := stat.StudentMixture{Mean: []float64{-1, 3}, SE: []float64{2, 1}, Weight: []float64{0.3, 0.7}, DF: 7}
	near(t, "below 0", two.Below(0), 0.212118673793, 1e-9)
	near(t, "quantile", two.Quantile(0.1), -1.9107562280, 1e-6)
	near(t, "two-sided p", two.Sided(), 2*0.212118673793, 1e-9)
	point := stat.StudentMixture{Mean: []float64{0, 3}, SE: []float64{0, 1}, Weight: []float64{0.5, 0.5}, DF: 7}
	near(t, "at the point", point.Quantile(0.3), 0, 1e-6)
	near(t, "p with a point at zero", point.Sided(), 2*(1-0.5-0.5*0.009971063066), 1e-9)
}
