package sessionfile

import "slices"

// median is the middle of some values, 0 of none.
func median(vs []float64) float64 { return medianOf(slices.Clone(vs)) }

// medianOf is median of values whose order is nobody's: it sorts them.
func medianOf(vs []float64) float64 {
	n := len(vs)
	if n == 0 {
		return 0
	}
	slices.Sort(vs)
	return (vs[(n-1)/2] + vs[n/2]) / 2
}
