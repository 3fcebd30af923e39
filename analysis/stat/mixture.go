package stat

import "gonum.org/v1/gonum/stat/distuv"

// MixtureQuantile is the p quantile of a mixture of normals with the given
// means, standard deviations and weights, which add up to 1.
func MixtureQuantile(p float64, means, sds, weights []float64) float64 {
	z := distuv.UnitNormal.Quantile(p)
	low, high := means[0]+z*sds[0], means[0]+z*sds[0] // the mixture's lies among its parts'
	for i := range means {
		q := means[i] + z*sds[i]
		low, high = min(low, q), max(high, q)
	}
	if low == high {
		return low
	}
	return root(func(x float64) float64 {
		sum := -p
		for i := range means {
			sum += weights[i] * distuv.UnitNormal.CDF((x-means[i])/sds[i])
		}
		return sum
	}, low, high, 1e-10)
}
