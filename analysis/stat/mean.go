package stat

import (
	"math"

	"gonum.org/v1/gonum/stat"

	"rangepost/analysis"
)

// Mean is the mean of values with Student's limits:
//
//	mean +- t(0.975; n-1) s / sqrt(n)
//
// It presumes independent values with no tail heavy enough to dominate the
// mean; at n of 10 and more the limits stand up to the tails of shot patterns.
// With one value the limits are not OK.
func Mean(values []float64) analysis.Estimate {
	n := len(values)
	if n == 0 {
		return analysis.Estimate{}
	}
	if n == 1 {
		return analysis.Estimate{N: 1, Mean: values[0]}
	}
	mean, sd := stat.MeanStdDev(values, nil)
	half := StudentQuantile(0.975, n-1) * sd / math.Sqrt(float64(n))
	return analysis.Estimate{N: n, Mean: mean, Low: mean - half, High: mean + half, SD: sd, OK: true}
}

// NextValue is the interval that one further value from the same normal source
// falls in with probability level:
//
//	mean +- t((1+level)/2; n-1) s sqrt(1 + 1/n)
//
// ok is false for n < 2.
func NextValue(values []float64, level float64) (low, high float64, ok bool) {
	n := len(values)
	if n < 2 {
		return 0, 0, false
	}
	mean, sd := stat.MeanStdDev(values, nil)
	half := StudentQuantile((1+level)/2, n-1) * sd * math.Sqrt(1+1/float64(n))
	return mean - half, mean + half, true
}
