package stat

import (
	"math"

	"gonum.org/v1/gonum/stat/distuv"
)

// BehrensFisher is the difference of two normal means whose variances are
// unknown and not taken for equal, each variance owning up to the few values
// it was told from:
//
//	a - b  ~  (ma - mb) + (sa/sqrt(na)) T(na-1) - (sb/sqrt(nb)) T(nb-1)
//
// with independent Student variables T. It is Fisher's answer (1935, Ann.
// Eugenics 6:391), equally the posterior under flat priors for the means and
// the log variances, and errs on the safe side at every ratio of variances
// (Robinson 1976, Ann. Stat. 4:963). Welch's test errs badly on the other side
// where a sample is very small: two values that happen to lie close together
// make its standard error tiny and hand their difference the other sample's
// degrees of freedom.
//
// Use NewBehrensFisher to make one.
type BehrensFisher struct {
	Difference   float64
	SE           float64
	small, large component // by share of the standard error
}

// component is one Student variable of the sum, its share of SE and its
// degrees of freedom.
type component struct {
	share float64
	df    int
}

// NewBehrensFisher compares a with b. ok is false when either has under two
// values, neither varies or the figures overflow.
func NewBehrensFisher(a, b Sample) (d BehrensFisher, ok bool) {
	if a.N < 2 || b.N < 2 {
		return d, false
	}
	se := math.Sqrt(a.ofMean() + b.ofMean())
	if !usable(a, b, se) {
		return d, false
	}
	ca := component{math.Sqrt(a.ofMean()) / se, a.N - 1}
	cb := component{math.Sqrt(b.ofMean()) / se, b.N - 1}
	if ca.share > cb.share {
		ca, cb = cb, ca
	}
	return BehrensFisher{a.Mean - b.Mean, se, ca, cb}, true
}

// P is the two-sided probability of a difference as far from value.
func (d BehrensFisher) P(value float64) float64 {
	return min(1, 2*d.tail(math.Abs(d.Difference-value)/d.SE))
}

// Equivalence is the p of two one-sided tests that the difference lies inside
// +-margin, as TOST's for Student's t.
func (d BehrensFisher) Equivalence(margin float64) float64 {
	above := func(t float64) float64 {
		if t < 0 {
			return 1 - d.tail(-t)
		}
		return d.tail(t)
	}
	return max(above((margin+d.Difference)/d.SE), above((margin-d.Difference)/d.SE))
}

// Limits are the limits of the difference at the given confidence.
func (d BehrensFisher) Limits(level float64) (low, high float64) {
	half := d.quantile((1-level)/2) * d.SE
	return d.Difference - half, d.Difference + half
}

// tail is P(small.share T1 + large.share T2 > t) for t >= 0.
//
// With T1 = sqrt(v) tan(x) the density of x is proportional to cos(x)^(v-1) on
// a finite interval, so that even one degree of freedom leaves a smooth
// integrand. It is cut where the sum crosses t.
func (d BehrensFisher) tail(t float64) float64 {
	if d.small.share == 0 {
		return studentTail(t, d.large.df)
	}
	v := float64(d.small.df)
	scale := d.small.share * math.Sqrt(v)
	g1, _ := math.Lgamma((v + 1) / 2)
	g2, _ := math.Lgamma(v / 2)
	norm := math.Exp(g1-g2) / math.Sqrt(math.Pi)
	f := func(x float64) float64 {
		sin, cos := math.Sincos(x)
		return norm * math.Pow(cos, v-1) * studentTail((t-scale*sin/cos)/d.large.share, d.large.df)
	}
	end := min(math.Pi/2, 12/math.Sqrt(v)) // beyond, cos^(v-1) is under 1e-30
	cut := min(math.Atan(t/scale), end)
	rule := gauss24 // good to 1e-8
	if d.small.df < 3 {
		rule = gauss48 // the integrand is steep beside the cut: good to 1e-5
	}
	return rule.integral(f, -end, cut) + rule.integral(f, cut, end)
}

// quantile is the t with tail(t) = p, for p < 1/2. It lies between the normal
// quantile, which no Student variable undercuts, and twice the larger of the
// two Student quantiles.
func (d BehrensFisher) quantile(p float64) float64 {
	low := distuv.UnitNormal.Quantile(1 - p)
	high := 2 * StudentQuantile(1-p, min(d.small.df, d.large.df))
	return root(func(t float64) float64 { return math.Log(d.tail(t) / p) }, low*0.99, high, 1e-9)
}

// studentTail is P(T > x) of Student's t with whole degrees of freedom, by the
// finite series of Abramowitz & Stegun 26.7.3 and 26.7.4: ten times as fast as
// the incomplete beta function.
func studentTail(x float64, df int) float64 {
	if df > 1000 {
		return distuv.StudentsT{Sigma: 1, Nu: float64(df)}.Survival(x)
	}
	v := float64(df)
	r := math.Sqrt(v + x*x)
	sin, cos2 := x/r, v/(v+x*x)
	if df%2 == 0 {
		term, sum := 1.0, 1.0
		for k := 2; k <= df-2; k += 2 {
			term *= cos2 * float64(k-1) / float64(k)
			sum += term
		}
		return (1 - sin*sum) / 2
	}
	sum := 0.0
	if df > 1 {
		term := 1.0
		sum = 1
		for k := 3; k <= df-2; k += 2 {
			term *= cos2 * float64(k-1) / float64(k)
			sum += term
		}
		sum *= sin * math.Sqrt(cos2)
	}
	return 0.5 - (math.Atan(x/math.Sqrt(v))+sum)/math.Pi
}
