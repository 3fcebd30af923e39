package stat

import (
	"math"

	"gonum.org/v1/gonum/stat/distuv"
)

// Power is the chance of a two-sided comparison of two means with equal
// standard deviations, of na and nb values at significance alpha, to find a
// true difference of d standard deviations (Cohen 1988, Statistical Power
// Analysis, ch. 2). Student's t is then noncentral with
//
//	df = na + nb - 2,  mu = d / sqrt(1/na + 1/nb)
//
// Sizes need not be whole; na + nb > 2. Neither this nor what follows is to be
// fed with a difference that was observed (Hoenig & Heisey 2001, Am. Stat.
// 55:19).
func Power(d, na, nb, alpha float64) float64 {
	df := na + nb - 2
	critical := distuv.StudentsT{Sigma: 1, Nu: df}.Quantile(1 - alpha/2)
	return powerAt(critical, d/math.Sqrt(1/na+1/nb), df)
}

func powerAt(critical, mu, df float64) float64 {
	t := distuv.NoncentralT{Nu: df, Mu: math.Abs(mu)}
	return 1 - t.CDF(critical) + t.CDF(-critical)
}

// SampleSize is how many values each of two equal samples needs to find d with
// the given power, as a real number: round up. d is not 0.
func SampleSize(d, alpha, power float64) float64 {
	return smallestSize(1+1e-6, func(n float64) float64 { return Power(d, n, n, alpha) - power })
}

// SampleSizeAgainst is the same when one sample is fixed at n0 values; ok is
// false when no number of values will do.
func SampleSizeAgainst(n0 int, d, alpha, power float64) (n float64, ok bool) {
	fixed := float64(n0)
	if n0 < 1 || Power(d, fixed, 1e7, alpha) < power {
		return 0, false
	}
	return smallestSize(max(1e-6, 2.001-fixed), func(n float64) float64 { return Power(d, fixed, n, alpha) - power }), true
}

func smallestSize(low float64, short func(n float64) float64) float64 {
	high := max(4, 2*low)
	for short(high) < 0 && high < 1e7 {
		low, high = high, 2*high
	}
	return root(short, low, high, 1e-10)
}

// Detectable is the smallest d that na and nb values find with the given
// power.
func Detectable(na, nb int, alpha, power float64) float64 {
	a, b := float64(na), float64(nb)
	high := 1.0
	for Power(high, a, b, alpha) < power {
		high *= 2
	}
	return root(func(d float64) float64 { return Power(d, a, b, alpha) - power }, 0, high, 1e-10)
}

// EquivalencePower is the chance that two one-sided tests at alpha show a true
// difference of zero to lie inside +-margin, in standard deviations (Owen
// 1965, Biometrika 52:437, as an integral over the pooled standard deviation).
func EquivalencePower(margin, na, nb, alpha float64) float64 {
	df := na + nb - 2
	critical := distuv.StudentsT{Sigma: 1, Nu: df}.Quantile(1 - alpha)
	se := math.Sqrt(1/na + 1/nb)
	// Shown when |difference| < margin - critical s se, so only for s up to
	// margin/(critical se).
	chi := distuv.ChiSquared{K: df}
	high := min(margin/(critical*se), math.Sqrt(chi.Quantile(1-1e-14)/df))
	low := min(high, math.Sqrt(chi.Quantile(1e-14)/df))
	g, _ := math.Lgamma(df / 2)
	logNorm := math.Ln2 + df/2*math.Log(df/2) - g
	return gauss48.integral(func(s float64) float64 {
		density := math.Exp(logNorm + (df-1)*math.Log(s) - df*s*s/2)
		return math.Erf((margin-critical*s*se)/(se*math.Sqrt2)) * density
	}, low, high)
}

// EquivalenceSize is how many values each of two equal samples needs to show
// so: the smallest whole number, at least 2.
func EquivalenceSize(margin, alpha, power float64) int {
	low, high := 1, 4
	for EquivalencePower(margin, float64(high), float64(high), alpha) < power && high < 1e7 {
		low, high = high, 2*high
	}
	for high-low > 1 {
		if mid := (low + high) / 2; EquivalencePower(margin, float64(mid), float64(mid), alpha) < power {
			low = mid
		} else {
			high = mid
		}
	}
	return high
}
