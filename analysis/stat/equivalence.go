package stat

import (
	"math"

	"gonum.org/v1/gonum/stat/distuv"
)

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
