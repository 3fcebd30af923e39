package stat

import "math"

// CentreRadius2 is the squared Mahalanobis radius of the region that holds the
// true centre with the given confidence:
//
//	[2(n-1)/(n-2)] F(level; 2, n-2) / n
//
// ok is false for n < 3. Under 5 it is too wide to be of use.
func CentreRadius2(n int, level float64) (r2 float64, ok bool) {
	if n < 3 {
		return 0, false
	}
	v := float64(n)
	return 2 * (v - 1) / (v - 2) * fQuantile2(level, v-2) / v, true
}

// NextRadius2 is the squared Mahalanobis radius of the region that holds the
// next point with the given probability, the centre and the scatter being
// estimates themselves:
//
//	2(n^2-1)/(n(n-2)) F(level; 2, n-2)
//
// At n = 10 and 95 % it is 11.04, where the chi-square with known scatter has
// 5.99. ok is false for n < 3.
func NextRadius2(n int, level float64) (r2 float64, ok bool) {
	if n < 3 {
		return 0, false
	}
	v := float64(n)
	return 2 * (v*v - 1) / (v * (v - 2)) * fQuantile2(level, v-2), true
}

// fQuantile2 is the quantile of F with 2 and v degrees of freedom, which has a
// closed form: (v/2)((1-q)^(-2/v) - 1).
func fQuantile2(q, v float64) float64 { return v / 2 * math.Expm1(-2/v*math.Log1p(-q)) }
