package stat

import (
	"math"

	"gonum.org/v1/gonum/stat/distuv"
)

// Wilson are the score limits of a share, x of n (Wilson 1927, J. Am. Stat.
// Assoc. 22:209; method 3 of Newcombe 1998, Stat. Med. 17:857):
//
//	(x + z^2/2 +- z sqrt(x(n-x)/n + z^2/4)) / (n + z^2)
//
// They stay inside 0..1 and hold at small n. ok is false when n < 1 or x is
// not among 0..n.
func Wilson(x, n int, level float64) (low, high float64, ok bool) {
	if n < 1 || x < 0 || x > n {
		return 0, 0, false
	}
	low, high = WilsonCounted(float64(x)/float64(n), float64(n), level)
	return low, high, true
}

// WilsonCounted are the score limits of a share of values that count for n
// independent ones, n > 0, not whole as a rule.
func WilsonCounted(share, n, level float64) (low, high float64) {
	z := distuv.UnitNormal.Quantile((1 + level) / 2)
	k, m := share*n, n
	centre, half := k+z*z/2, z*math.Sqrt(k*(m-k)/m+z*z/4)
	low, high = (centre-half)/(m+z*z), (centre+half)/(m+z*z)
	if share == 0 {
		low = 0 // exactly, not a rounding of it
	}
	if share == 1 {
		high = 1
	}
	return low, high
}
