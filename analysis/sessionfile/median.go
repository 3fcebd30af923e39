package sessionfile

import (
	"math"
	"slices"
)

// median is the middle of some values, 0 of none.
func median(vs []float64) float64 { return medianOf(slices.Clone(vs)) }

// medianOf is median of values whose order is nobody's: it changes it. The middle
// is selected, not sorted for, since a file's laws are medians of medians
// (Hoare 1961, Algorithm 65: Find, Comm. ACM 4:321 [M]).
func medianOf(vs []float64) float64 {
	n := len(vs)
	if n == 0 {
		return 0
	}
	k := n / 2
	if slices.ContainsFunc(vs, math.IsNaN) { // which is not in order with others
		slices.Sort(vs)
		return (vs[(n-1)/2] + vs[k]) / 2
	}
	selectAt(vs, k)
	if n%2 == 0 {
		return (slices.Max(vs[:k]) + vs[k]) / 2
	}
	return vs[k]
}

// selectAt puts the value at k that would stand there in order, none above it
// before it and none below it after it.
func selectAt(vs []float64, k int) {
	for low, high := 0, len(vs)-1; low < high; {
		pivot := vs[low+(high-low)/2]
		i, j := low, high
		for i <= j {
			for vs[i] < pivot {
				i++
			}
			for vs[j] > pivot {
				j--
			}
			if i <= j {
				vs[i], vs[j] = vs[j], vs[i]
				i, j = i+1, j-1
			}
		}
		switch {
		case k <= j:
			high = j
		case k >= i:
			low = i
		default:
			return
		}
	}
}
