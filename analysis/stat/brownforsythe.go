package stat

import (
	"math"

	"gonum.org/v1/gonum/stat/distuv"
)

// BrownForsythe tests whether k samples share one spread (Brown & Forsythe
// 1974, J. Am. Stat. Assoc. 69:364): an analysis of variance of the distances
// from each sample's median,
//
//	F = [Sum n (m - M)^2/(k-1)] / [Sum Sum (d - m)^2/(N-k)] ~ F(k-1, N-k)
//
// It stands up to heavy tails, and sees little in small samples. Samples under
// two values are left out. ok is false with fewer than two left, or when the
// distances do not vary.
func BrownForsythe(samples [][]float64) (p float64, ok bool) {
	var groups []Sample
	n := 0
	for _, x := range samples {
		if len(x) < 2 {
			continue
		}
		median, _ := Median(x)
		distances := make([]float64, len(x))
		for i, v := range x {
			distances[i] = math.Abs(v - median)
		}
		groups = append(groups, SampleOf(distances))
		n += len(x)
	}
	if len(groups) < 2 {
		return 0, false
	}
	within, df, _ := Pooled(groups...)
	if df == 0 || !(within > 0) {
		return 0, false
	}
	mean := 0.0
	for _, g := range groups {
		mean += float64(g.N) * g.Mean / float64(n)
	}
	between := 0.0
	for _, g := range groups {
		between += float64(g.N) * (g.Mean - mean) * (g.Mean - mean)
	}
	k := float64(len(groups) - 1)
	return distuv.F{D1: k, D2: float64(df)}.Survival(between / k / within), true
}
