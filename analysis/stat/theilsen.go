package stat

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/stat/distuv"
)

// TheilSen is the median of the slopes between all pairs of points (Theil
// 1950; Sen 1968, J. Am. Stat. Assoc. 63:1379), which a quarter of wild points
// do not upset.
type TheilSen struct {
	Slope     float64
	Low, High float64 // limits of the slope
	Intercept float64 // median of y - Slope x
}

// NewTheilSen fits y on x. The limits are the slopes of rank
// (N -+ z sqrt(Var S))/2, rounded, of N pairs, with Kendall's variance of S.
// Pairs at the same x are left out. ok is false when no pair is left.
func NewTheilSen(x, y []float64, level float64) (t TheilSen, ok bool) {
	var slopes []float64
	if n := len(x); n > 1 {
		slopes = make([]float64, 0, n*(n-1)/2)
	}
	for i := range x {
		for j := i + 1; j < len(x); j++ {
			if x[j] != x[i] {
				slopes = append(slopes, (y[j]-y[i])/(x[j]-x[i]))
			}
		}
	}
	if len(slopes) == 0 {
		return TheilSen{}, false
	}
	slices.Sort(slopes)
	t.Slope = SortedQuantile(slopes, 0.5)
	mk, ok := NewMannKendall(y)
	if ok {
		half := distuv.UnitNormal.Quantile((1+level)/2) * math.Sqrt(mk.VarS)
		n := float64(len(slopes))
		rank := func(r float64) float64 { return slopes[min(max(int(math.Round(r)), 1), len(slopes))-1] }
		t.Low, t.High = rank((n-half)/2), rank((n+half)/2+1)
	} else {
		t.Low, t.High = slopes[0], slopes[len(slopes)-1]
	}
	rest := make([]float64, len(x))
	for i := range x {
		rest[i] = y[i] - t.Slope*x[i]
	}
	t.Intercept, _ = Median(rest)
	return t, true
}
