package stat

import (
	"math"
	"slices"
)

// Quantile is the p quantile of values by linear interpolation between order
// statistics at h = (n-1)p, type 7 of Hyndman & Fan 1996 (Am. Stat. 50:361),
// which makes Quantile(x, 0.5) the usual median. ok is false without values and
// for a p outside 0 to 1.
func Quantile(values []float64, p float64) (q float64, ok bool) {
	if len(values) == 0 || !(p >= 0 && p <= 1) {
		return 0, false
	}
	sorted := slices.Clone(values)
	slices.Sort(sorted)
	return SortedQuantile(sorted, p), true
}

// SortedQuantile is Quantile of values already in rising order, of which there
// is at least one. Outside 0 to 1 it is the nearest value, of a p that is no
// number it is none.
//
// The position is counted from the nearer end, so that the quantiles of a
// sample and of its negative are each other's negatives to the last bit.
func SortedQuantile(sorted []float64, p float64) float64 {
	n := len(sorted)
	if math.IsNaN(p) {
		return p
	}
	p = min(1, max(0, p))
	at := func(p float64, value func(i int) float64) float64 {
		h := float64(n-1) * p
		i := int(math.Floor(h))
		if i+1 >= n {
			return value(n - 1)
		}
		f := h - float64(i)
		return value(i) + f*(value(i+1)-value(i))
	}
	if p > 0.5 {
		return at(1-p, func(i int) float64 { return sorted[n-1-i] })
	}
	if p == 0.5 && n%2 == 0 {
		return (sorted[n/2-1] + sorted[n/2]) / 2
	}
	return at(p, func(i int) float64 { return sorted[i] })
}

// Median is the middle value, or the mean of the middle two.
func Median(values []float64) (m float64, ok bool) { return Quantile(values, 0.5) }
