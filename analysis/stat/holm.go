package stat

import (
	"cmp"
	"slices"
)

// Holm adjusts p values for being several (Holm 1979, Scand. J. Stat. 6:65):
// with p(1) <= ... <= p(m), the i-th becomes the largest of (m-j+1) p(j) for
// j <= i, at most 1. Calling those under 0.05 keeps the chance of any false
// call at 5 % whatever their dependence. The result is in the order given.
func Holm(p []float64) []float64 {
	order := make([]int, len(p))
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(i, j int) int { return cmp.Compare(p[i], p[j]) })
	adjusted := make([]float64, len(p))
	least := 0.0
	for rank, i := range order {
		least = max(least, min(1, float64(len(p)-rank)*p[i]))
		adjusted[i] = least
	}
	return adjusted
}
