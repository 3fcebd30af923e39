package stat

import (
	"math"
	"slices"
)

// HoldingInterval is the interval, the same share of values cut off at either
// end, that the next value falls in with the given probability, whatever the
// distribution: between the order statistics of rank r = (n+1)(1-share)/2 and
// n+1-r, interpolated. ok is false when n is under 2/(1-share) - 1, where no
// order statistic reaches far enough (9 values for 80 %), or when the share is no share.
func HoldingInterval(values []float64, share float64) (low, high float64, ok bool) {
	n := len(values)
	rank := float64(n+1) * (1 - share) / 2
	const rounding = 1e-9
	if n == 0 || !(share > 0 && share < 1) || rank < 1-rounding {
		return 0, 0, false
	}
	sorted := slices.Clone(values)
	slices.Sort(sorted)
	i := min(int(math.Floor(rank+rounding)), n-1)
	f := max(0, rank-float64(i))
	low = sorted[i-1] + f*(sorted[i]-sorted[i-1])
	high = sorted[n-i] + f*(sorted[n-i-1]-sorted[n-i])
	return low, high, true
}
