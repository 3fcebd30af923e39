package stat_test

import (
	"math"
	"slices"
	"testing"

	"rangepost/analysis/stat"
)

// The Nile's flow as a level that walks: Durbin & Koopman 2012, 2.10.3 and
// table 2.1, give variances of 15099 and 1469.1 at the greatest likelihood [S],
// whose ratio is .09730, and a log likelihood of -632.54.
func TestLocalLevelNile(t *testing.T) {
	l := stat.LocalLevel{Y: nile, W: make([]float64, len(nile))}
	for i := range l.W {
		l.W[i] = 1
	}
	best, at := stat.LevelFit{LogLik: math.Inf(-1)}, 0.0
	for q := 0.05; q < 0.2; q *= 1.0001 {
		if f, ok := l.Innovations(q).Fit(nil, nil, stat.Known{}); ok && f.LogLik > best.LogLik {
			best, at = f, q
		}
	}
	near(t, "noise variance", best.Scale, 15099, 1e-4)
	near(t, "walk variance", best.Scale*at, 1469.1, 1e-3)
	n := float64(best.DF)
	near(t, "log likelihood", best.LogLik+n/2*(math.Log(n)-1-math.Log(2*math.Pi)), -632.54, 2e-5)
}

// A dam was built at Aswan in 1899: with the variances as they are, least
// squares on the whole covariance matrix of the hundred years, inverted by
// numpy 1.24, give the level's step and its standard error [C].
func TestLocalLevelIntervention(t *testing.T) {
	const year = 28
	l := stat.LocalLevel{Y: nile, W: make([]float64, len(nile)), X: [][]float64{make([]float64, len(nile))}}
	for i := range l.W {
		l.W[i] = 15099
		if i >= year {
			l.X[0][i] = 1
		}
	}
	in := l.Innovations(1469.1)
	f, ok := in.Fit([]int{0}, []float64{math.Inf(1)}, stat.Known{})
	if !ok || f.DF != 98 {
		t.Fatalf("OK, DF = %v, %d; want true, 98", ok, f.DF)
	}
	near(t, "step", f.B[0], -315.73726826, 1e-9)
	near(t, "its error", math.Sqrt(f.Cov[0][0]), 97.6392142, 1e-8)
	near(t, "residual squares", f.Scale*98, 88.54118687369709, 1e-10)

	// A level that is unknown anew has any step.
	l.Start = make([]bool, len(nile))
	l.Start[year] = true
	if f, ok := l.Innovations(1469.1).Fit([]int{0}, []float64{math.Inf(1)}, stat.Known{}); ok {
		t.Errorf("a step where the level starts anew: %v", f)
	}
	// What is known for sure does not move.
	if f, ok := in.Fit([]int{0}, []float64{1e-12}, stat.Known{}); !ok || math.Abs(f.B[0]) > 1e-6 {
		t.Errorf("a step known to be none: %v, %v", f.B[0], ok)
	}
}

// Years that are left out are bridged by the walk: numpy as above, the
// covariance matrix without the rows of 1890 to 1898 [C].
func TestLocalLevelAbsent(t *testing.T) {
	l := stat.LocalLevel{Y: nile, W: make([]float64, len(nile)), X: [][]float64{make([]float64, len(nile))}, Absent: make([]bool, len(nile))}
	for i := range l.W {
		l.W[i] = 15099
		l.Absent[i] = i >= 19 && i < 28
		if i >= 28 {
			l.X[0][i] = 1
		}
	}
	f, ok := l.Innovations(1469.1).Fit([]int{0}, []float64{math.Inf(1)}, stat.Known{})
	if !ok || f.DF != 89 {
		t.Fatalf("OK, DF = %v, %d; want true, 89", ok, f.DF)
	}
	near(t, "step", f.B[0], -167.268144084360, 1e-9)
	near(t, "its error", math.Sqrt(f.Cov[0][0]), 150.848888046671, 1e-9)
}

// How much likelier readings of a level that stands still are with a step than
// without, where the step is known to have a variance about zero: the two-sample
// Bayes factor in closed form (Gonen, Johnson, Lu & Westfall 2005, Am. Stat.
// 59:252 [M]).
func TestOddsOfAStep(t *testing.T) {
	y := []float64{5.1, 4.2, 6.3, 5.5, 3.2, 2.9, 4.4, 3.8, 2.5}
	const before, after, variance = 4, 5, 2.25
	step := make([]float64, len(y))
	var means, squares [2]float64
	for i, v := range y {
		side, n := 0, float64(before)
		if i >= before {
			step[i], side, n = 1, 1, after
		}
		means[side] += v / n
	}
	for i, v := range y {
		squares[int(step[i])] += (v - means[int(step[i])]) * (v - means[int(step[i])])
	}
	n := 1 / (1./before + 1./after)
	df := float64(before + after - 2)
	tt := (means[1] - means[0]) * math.Sqrt(n/((squares[0]+squares[1])/df))
	want := (df+1)/2*(math.Log1p(tt*tt/df)-math.Log1p(tt*tt/(df*(1+n*variance)))) - math.Log1p(n*variance)/2

	l := stat.LocalLevel{Y: y, W: slices.Repeat([]float64{1}, len(y)), X: [][]float64{step}}
	in := l.Innovations(0)
	with, ok := in.Fit([]int{0}, []float64{variance}, stat.Known{})
	without, ok2 := in.Fit(nil, nil, stat.Known{})
	if !ok || !ok2 {
		t.Fatal("not fitted")
	}
	near(t, "log odds", with.LogLik-without.LogLik, want, 1e-9)
}
