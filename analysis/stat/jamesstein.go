package stat

import "math"

// JamesStein draws means toward their common mean (Efron & Morris 1975, J. Am.
// Stat. Assoc. 70:311): with k means of one known variance v,
//
//	m + c (y - m),  c = max(0, 1 - (k-3) v / Sum (y-m)^2)
//
// the positive part, which is never worse. ok is false for k < 4 or v <= 0.
func JamesStein(y []float64, v float64) (drawn []float64, c float64, ok bool) {
	k := len(y)
	if k < 4 || !(v > 0) {
		return nil, 0, false
	}
	m, ss := 0.0, 0.0
	for _, x := range y {
		m += x / float64(k)
	}
	for _, x := range y {
		ss += (x - m) * (x - m)
	}
	c = max(0, 1-float64(k-3)*v/math.Max(ss, math.SmallestNonzeroFloat64))
	for _, x := range y {
		drawn = append(drawn, m+c*(x-m))
	}
	return drawn, c, true
}

// Shrink draws a mean with squared standard error v toward the group's mean,
// where the group's own variance is between: weight between/(between + v) on
// the mean itself, so that few balls count for little.
func Shrink(mean, v, group, between float64) float64 {
	if between+v <= 0 {
		return mean
	}
	w := between / (between + v)
	return group + w*(mean-group)
}
