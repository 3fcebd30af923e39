package stat

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/stat/distuv"
)

// QuantileLimits are distribution-free limits of the p quantile by order
// statistics (David & Nagaraja, Order Statistics, 3rd ed., section 7.1): the
// r-th and s-th smallest values, with r and s from the binomial tails. The
// actual confidence is at least the level asked. ok is false when there are
// too few values to reach it.
func QuantileLimits(values []float64, p, level float64) (low, high, actual float64, ok bool) {
	n := len(values)
	if n == 0 {
		return 0, 0, 0, false
	}
	below := distuv.Binomial{N: float64(n), P: p}
	tail := (1 - level) / 2
	r := 0
	for r < n && below.CDF(float64(r)) <= tail {
		r++
	}
	s := n + 1
	for s > 1 && 1-below.CDF(float64(s-2)) <= tail {
		s--
	}
	if r == 0 || s == n+1 {
		return 0, 0, 0, false
	}
	sorted := slices.Clone(values)
	slices.Sort(sorted)
	return sorted[r-1], sorted[s-1], below.CDF(float64(s-1)) - below.CDF(float64(r-1)), true
}

// HoldingInterval is the interval, the same share of values cut off at either
// end, that the next value falls in with the given probability, whatever the
// distribution: between the order statistics of rank r = (n+1)(1-share)/2 and
// n+1-r, interpolated. ok is false when n is under 2/(1-share) - 1, where no
// order statistic reaches far enough (9 values for 80 %).
func HoldingInterval(values []float64, share float64) (low, high float64, ok bool) {
	n := len(values)
	rank := float64(n+1) * (1 - share) / 2
	const rounding = 1e-9
	if n == 0 || rank < 1-rounding {
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
