package stat

import "math"

// EWMA is an exponentially weighted moving average chart of readings x, with
// standard deviations sd of their own, about a target (Roberts 1959,
// Technometrics 1:239; NIST/SEMATECH e-Handbook 6.3.2.4):
//
//	z(i) = lambda x(i) + (1-lambda) z(i-1),       z(0) = target
//	V(i) = lambda^2 sd(i)^2 + (1-lambda)^2 V(i-1), V(0) = 0
//	limits: target +- L sqrt(V(i))
//
// which for one sd throughout are the exact limits, of variance
// lambda/(2-lambda) (1-(1-lambda)^(2i)) sd^2. lambda is in (0, 1]; sd has the
// length of x.
func EWMA(x, sd []float64, target, lambda, width float64) (z, low, high []float64) {
	z, low, high = make([]float64, len(x)), make([]float64, len(x)), make([]float64, len(x))
	at, v := target, 0.0
	for i := range x {
		at = lambda*x[i] + (1-lambda)*at
		v = lambda*lambda*sd[i]*sd[i] + (1-lambda)*(1-lambda)*v
		z[i], low[i], high[i] = at, target-width*math.Sqrt(v), target+width*math.Sqrt(v)
	}
	return z, low, high
}
