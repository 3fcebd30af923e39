package stat

import (
	"math"

	"rangepost/analysis"
)

// Skewed widens the limits of a mean on the side that its values' skew hides. Of
// values with a long tail below, most samples have too little of it: their mean is
// too high and their spread too small, together. Hall's transformation of the
// Student ratio takes that out (Hall 1992, J. R. Stat. Soc. B 54:221 [M]):
//
//	T(x) = 3/g ((1 + g (x - g/(6n)))^(1/3) - 1),  x = +-t / sqrt(n)
//
// with g the skewness, in place of x. The other side stays as it is, as the
// skewness of a sample is itself unsure.
func Skewed(e analysis.Estimate, values []float64) analysis.Estimate {
	n := float64(len(values))
	if !e.OK || n < 3 || !(e.SD > 0) {
		return e
	}
	g := 0.0
	for _, v := range values {
		z := (v - e.Mean) / e.SD
		g += z * z * z / n
	}
	if math.Abs(g) < 1e-6 {
		return e
	}
	at := func(x float64) float64 { return 3 / g * (math.Cbrt(1+g*(x-g/(6*n))) - 1) }
	half := e.High - e.Mean
	e.Low = min(e.Low, e.Mean-e.SD*at(half/e.SD))
	e.High = max(e.High, e.Mean-e.SD*at(-half/e.SD))
	return e
}
