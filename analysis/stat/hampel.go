package stat

import "math"

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
