package stat

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/stat/distuv"
)

// Dunnett compares k samples with one control, all taken to share one variance
// (Dunnett 1955, J. Am. Stat. Assoc. 50:1096). With lj = sqrt(nj/(n0+nj)) the
// chance that no |t| exceeds c is
//
//	P(c) = Int Int Prod_j [Phi((lj z + c s)/rj) - Phi((lj z - c s)/rj)] phi(z) dz f(s) ds
//
// with rj = sqrt(1 - lj^2), z the control's own error and s the pooled
// standard deviation over the true one, df s^2 ~ chi-square(df). The double
// integral is done by Gauss-Legendre quadrature to about 1e-10; the two-sided
// table of the 1955 paper is only approximate for k > 2.
type Dunnett struct {
	Each []TTest   // every sample against the control, with P for that one alone
	P    []float64 // two-sided, adjusted for the k comparisons
	DF   int

	lambda []float64
}

// NewDunnett compares samples with the control. ok is false when a sample or
// the control is empty, no variance can be told, or nothing varies.
func NewDunnett(control Sample, samples []Sample) (d Dunnett, ok bool) {
	variance, df, ok := Pooled(append([]Sample{control}, samples...)...)
	if !ok || control.N == 0 || len(samples) == 0 {
		return Dunnett{}, false
	}
	d.DF = df
	for _, s := range samples {
		if s.N == 0 {
			return Dunnett{}, false
		}
		t, ok := studentTest(s, control, math.Sqrt(variance*(1/float64(s.N)+1/float64(control.N))), float64(df))
		if !ok {
			return Dunnett{}, false
		}
		d.Each = append(d.Each, t)
		d.lambda = append(d.lambda, math.Sqrt(float64(s.N)/float64(control.N+s.N)))
	}
	for _, t := range d.Each {
		d.P = append(d.P, DunnettTail(math.Abs(t.T), d.lambda, d.DF))
	}
	return d, true
}

// Limits are the simultaneous limits of sample j's difference from the
// control, at a critical value from Critical.
func (d Dunnett) Limits(j int, critical float64) (low, high float64) {
	half := critical * d.Each[j].SE
	return d.Each[j].Difference - half, d.Each[j].Difference + half
}

// Critical is the two-sided critical value for these samples.
func (d Dunnett) Critical(level float64) float64 { return DunnettQuantile(level, d.lambda, d.DF) }

// DunnettTail is the chance that some |t| reaches c > 0 when no sample differs
// from the control; df = 0 stands for a known variance.
func DunnettTail(c float64, lambda []float64, df int) float64 {
	lambda = slices.Sorted(slices.Values(lambda)) // samples of one size share a factor
	within := func(s float64) float64 {           // the integrand is even in z
		return gauss48.integral(func(z float64) float64 {
			product := math.Sqrt(2/math.Pi) * math.Exp(-z*z/2)
			factor := 0.0
			for i, l := range lambda {
				if i == 0 || l != lambda[i-1] {
					r := math.Sqrt(2 * (1 - l*l))
					factor = (math.Erf((l*z+c*s)/r) - math.Erf((l*z-c*s)/r)) / 2
				}
				product *= factor
			}
			return product
		}, 0, 8.5)
	}
	if df == 0 {
		return 1 - within(1)
	}
	// f(s) = 2 (df/2)^(df/2)/Gamma(df/2) s^(df-1) exp(-df s^2/2), negligible
	// outside sqrt of the chi-square quantiles at 1e-14.
	v := float64(df)
	chi := distuv.ChiSquared{K: v}
	g, _ := math.Lgamma(v / 2)
	logNorm := math.Ln2 + v/2*math.Log(v/2) - g
	low, high := math.Sqrt(chi.Quantile(1e-14)/v), math.Sqrt(chi.Quantile(1-1e-14)/v)
	p := gauss48.integral(func(s float64) float64 {
		return (1 - within(s)) * math.Exp(logNorm+(v-1)*math.Log(s)-v*s*s/2)
	}, low, high)
	return min(1, max(0, p))
}

// DunnettQuantile is the c that no |t| exceeds with the given confidence when
// no sample differs from the control; df = 0 stands for a known variance.
func DunnettQuantile(level float64, lambda []float64, df int) float64 {
	// Between one comparison's critical value and Bonferroni's.
	one := func(p float64) float64 {
		if df == 0 {
			return distuv.UnitNormal.Quantile(1 - p/2)
		}
		return StudentQuantile(1-p/2, df)
	}
	p := 1 - level
	return root(func(c float64) float64 { return math.Log(DunnettTail(c, lambda, df) / p) },
		one(p)*(1-1e-9), one(p/float64(len(lambda)))*(1+1e-9), 1e-10)
}
