package stat

import (
	"math"

	"rangepost/analysis"
)

// PooledT compares two means taking the variances for equal (Student 1908):
//
//	t = (ma - mb)/(s sqrt(1/na + 1/nb)),  df = na + nb - 2
//
// ok is false when the samples have under three values together, either has
// none, or nothing varies.
func PooledT(a, b Sample) (t TTest, ok bool) {
	variance, df, ok := Pooled(a, b)
	if !ok || a.N == 0 || b.N == 0 {
		return TTest{}, false
	}
	se := math.Sqrt(variance * (1/float64(a.N) + 1/float64(b.N)))
	return studentTest(a, b, se, float64(df))
}

// StreakMean is Mean with limits that allow for streaks. Others are further
// series of the same balls, which share their streaks.
func StreakMean(values []float64, others ...[]float64) analysis.Estimate {
	return StreakOf(append([][]float64{values}, others...)...).Mean(values)
}
