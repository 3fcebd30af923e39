package stat

import (
	"math"

	"gonum.org/v1/gonum/stat/distuv"
)

// DeviationLimits are the limits of the standard deviation behind a sample
// standard deviation sd of n normal values:
//
//	sd sqrt((n-1)/chi2(1-a/2; n-1)), sd sqrt((n-1)/chi2(a/2; n-1))
//
// Heavy tails make them too narrow. ok is false for n < 2.
func DeviationLimits(sd float64, n int, level float64) (low, high float64, ok bool) {
	if n < 2 {
		return 0, 0, false
	}
	df := float64(n - 1)
	chi := distuv.ChiSquared{K: df}
	return sd * math.Sqrt(df/chi.Quantile((1+level)/2)), sd * math.Sqrt(df/chi.Quantile((1-level)/2)), true
}

// C4 is the expectation of a sample standard deviation of n normal values over
// the true one,
//
//	sqrt(2/(n-1)) Gamma(n/2) / Gamma((n-1)/2),
//
// for n >= 2; sd/C4(n) is unbiased.
func C4(n int) float64 {
	a, _ := math.Lgamma(float64(n) / 2)
	b, _ := math.Lgamma(float64(n-1) / 2)
	return math.Sqrt(2/float64(n-1)) * math.Exp(a-b)
}
