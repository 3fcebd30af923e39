package stat

import (
	"math"

	"gonum.org/v1/gonum/stat/distuv"
)

// Effect is a difference of two means in units of their common standard
// deviation, with limits.
type Effect struct {
	G, Low, High float64
}

// Hedges is the standardised difference a - b (Hedges 1981, J. Educ. Stat.
// 6:107), unbiased by
//
//	J = Gamma(m/2) / (sqrt(m/2) Gamma((m-1)/2)),  m = na + nb - 2,
//
// with limits that turn around the noncentral t. It takes the variances for
// equal. ok is false for m < 2, where J does not exist, or when nothing varies.
func Hedges(a, b Sample, level float64) (e Effect, ok bool) {
	t, ok := PooledT(a, b)
	if !ok || t.DF < 2 {
		return Effect{}, false
	}
	g1, _ := math.Lgamma(t.DF / 2)
	g2, _ := math.Lgamma((t.DF - 1) / 2)
	j := math.Exp(g1-g2) / math.Sqrt(t.DF/2)
	perSD := math.Sqrt(1/float64(a.N) + 1/float64(b.N)) // d = t perSD
	at := func(p float64) float64 {
		// The noncentrality under which t is the p quantile. It is within a few
		// standard errors of t itself.
		reach := 8 * math.Sqrt(1+t.T*t.T/(2*t.DF))
		return root(func(mu float64) float64 {
			return distuv.NoncentralT{Nu: t.DF, Mu: mu}.CDF(t.T) - p
		}, t.T-reach, t.T+reach, 1e-12)
	}
	tail := (1 - level) / 2
	return Effect{j * t.T * perSD, j * at(1-tail) * perSD, j * at(tail) * perSD}, true
}
