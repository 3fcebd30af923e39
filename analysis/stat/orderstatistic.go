package stat

import (
	"math"

	"gonum.org/v1/gonum/stat/distuv"
)

// ExpectedBest is the expected mean of the best k of n standard normal values:
// how many standard deviations choosing afterwards is worth (Harter 1961,
// Biometrika 48:151). The r-th smallest has expectation
//
//	n!/((r-1)!(n-r)!) Int x Phi(x)^(r-1) (1-Phi(x))^(n-r) phi(x) dx
//
// ok is false unless 1 <= k <= n.
func ExpectedBest(k, n int) (sds float64, ok bool) {
	if k < 1 || k > n {
		return 0, false
	}
	lg := func(m int) float64 { v, _ := math.Lgamma(float64(m + 1)); return v }
	for r := n - k + 1; r <= n; r++ {
		logCount := lg(n) - lg(r-1) - lg(n-r)
		density := func(x float64) float64 {
			below, above := distuv.UnitNormal.CDF(x), distuv.UnitNormal.Survival(x)
			return x * math.Exp(logCount+float64(r-1)*math.Log(below)+float64(n-r)*math.Log(above)-x*x/2) / math.Sqrt(2*math.Pi)
		}
		sds += (gauss48.integral(density, -8, 0) + gauss48.integral(density, 0, 8)) / float64(k)
	}
	return sds, true
}
