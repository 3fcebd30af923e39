package stat

import (
	"math"

	"gonum.org/v1/gonum/interp"
)

// MAD is the median absolute deviation from the median times 1.4826, which
// estimates the standard deviation of normal values. ok is false without
// values.
func MAD(values []float64) (mad float64, ok bool) {
	m, ok := Median(values)
	if !ok {
		return 0, false
	}
	away := make([]float64, len(values))
	for i, v := range values {
		away[i] = math.Abs(v - m)
	}
	mad, _ = Median(away)
	return 1.4826 * mad, true
}

// Hampel gives each value's distance from the median in units of MAD (Hampel
// 1974, J. Am. Stat. Assoc. 69:383), signed. ok is false when the MAD is zero:
// more than half of the values are the same.
func Hampel(values []float64) (z []float64, ok bool) {
	m, ok := Median(values)
	mad, _ := MAD(values)
	if !ok || mad == 0 {
		return nil, false
	}
	z = make([]float64, len(values))
	for i, v := range values {
		z[i] = (v - m) / mad
	}
	return z, true
}

// HampelCut is the |z| of Hampel that a clean normal set of n exceeds anywhere
// with a chance of 5 %: the whole set is controlled, not the value. The usual
// 3 flags a good value in one clean set of five. ok is false under 5 values,
// where no distance is out of the question.
//
// The cut-offs were simulated, 100,000 sets each up to 60 values and 40,000
// beyond (about 1 % off at most).
func HampelCut(n int) (cut float64, ok bool) {
	return cutAt(n, hampelSizes, hampelCuts)
}

var (
	hampelSizes = []float64{5, 6, 7, 8, 9, 10, 12, 15, 20, 25, 30, 40, 50, 60, 100, 200, 400}
	hampelCuts  = []float64{7.821, 5.554, 5.813, 4.899, 5.100, 4.576, 4.360, 4.264, 3.994, 3.931, 3.849, 3.779, 3.760, 3.745, 3.745, 3.817, 3.915}
)

// cutAt reads a table of cut-offs, linear in 1/n between its rows. Beyond the
// last row the cut-off grows as the expected largest of n normal values does,
// in proportion to sqrt(2 ln n).
func cutAt(n int, sizes, cuts []float64) (float64, bool) {
	if float64(n) < sizes[0] {
		return 0, false
	}
	last := len(sizes) - 1
	if float64(n) >= sizes[last] {
		return cuts[last] * math.Sqrt(math.Log(float64(n))/math.Log(sizes[last])), true
	}
	inverse, rising := make([]float64, last+1), make([]float64, last+1)
	for i := range sizes {
		inverse[last-i], rising[last-i] = 1/sizes[i], cuts[i]
	}
	var line interp.PiecewiseLinear
	if err := line.Fit(inverse, rising); err != nil {
		return 0, false
	}
	return line.Predict(1 / float64(n)), true
}
