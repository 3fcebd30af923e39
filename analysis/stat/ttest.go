package stat

import (
	"math"

	"gonum.org/v1/gonum/stat/distuv"
)

// A TTest compares two means: the difference a - b, its standard error, and
// Student's t with its degrees of freedom and two-sided p.
type TTest struct {
	Difference float64
	SE         float64
	T, DF, P   float64
}

// Limits are the limits of the difference at the given confidence.
func (t TTest) Limits(level float64) (low, high float64) {
	half := distuv.StudentsT{Sigma: 1, Nu: t.DF}.Quantile((1+level)/2) * t.SE
	return t.Difference - half, t.Difference + half
}

// Welch compares two means without taking the variances for equal (Welch 1947,
// Biometrika 34:28; Satterthwaite 1946, Biometrics Bull. 2:110):
//
//	t = (ma - mb)/sqrt(ua + ub),  u = s^2/n
//	df = (ua + ub)^2 / (ua^2/(na-1) + ub^2/(nb-1))
//
// It presumes independent, roughly normal values. Far out in the tail it is
// too bold when one sample is very small and the other is not: see
// BehrensFisher. ok is false when either sample has under two values, neither
// varies or the figures overflow.
func Welch(a, b Sample) (t TTest, ok bool) {
	if a.N < 2 || b.N < 2 {
		return TTest{}, false
	}
	ua, ub := a.ofMean(), b.ofMean()
	return studentTest(a, b, math.Sqrt(ua+ub), (ua+ub)*(ua+ub)/(ua*ua/a.df()+ub*ub/b.df()))
}

func studentTest(a, b Sample, se, df float64) (TTest, bool) {
	if !usable(a, b, se) {
		return TTest{}, false
	}
	difference := a.Mean - b.Mean
	t := difference / se
	return TTest{difference, se, t, df, twoSided(t, df)}, true
}

// twoSided is the chance of a Student variable as far from zero as t.
func twoSided(t, df float64) float64 {
	return 2 * distuv.StudentsT{Sigma: 1, Nu: df}.Survival(math.Abs(t))
}

// usable reports whether a standard error of the difference of two means is
// more than their rounding, and finite.
func usable(a, b Sample, se float64) bool {
	const rounding = 1e-12
	return se > 0 && se > rounding*max(math.Abs(a.Mean), math.Abs(b.Mean)) && !math.IsInf(se, 0)
}
