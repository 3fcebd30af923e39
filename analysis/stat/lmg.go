package stat

import (
	"math"
	"math/bits"

	"gonum.org/v1/gonum/mat"
)

// LMG divides R2 of a regression among its regressors: the Shapley value of
// the R2 of every subset (Lindeman, Merenda & Gold 1980; Groemping 2006, J.
// Stat. Softw. 17(1)). The parts are not negative and add up to R2, where the
// products of slope and covariance go negative as soon as two regressors
// offset each other.
//
// cov is the covariance of the response (first) and the regressors. A
// regressor that is constant, or that the others determine, adds nothing to
// them. The cost is 2^p small fits. ok is false when the response does not
// vary.
func LMG(cov mat.Symmetric) (parts []float64, r2 float64, ok bool) {
	p := cov.SymmetricDim() - 1
	if p < 1 || !(cov.At(0, 0) > 0) {
		return nil, 0, false
	}
	fit := make([]float64, 1<<p)
	for subset := range fit {
		fit[subset] = subsetR2(cov, uint(subset))
	}
	parts = make([]float64, p)
	for j := range parts {
		for subset := range fit {
			if subset&(1<<j) != 0 {
				continue
			}
			k := bits.OnesCount(uint(subset))
			weight := factorial(k) * factorial(p-1-k) / factorial(p)
			parts[j] += weight * (fit[subset|1<<j] - fit[subset])
		}
	}
	return parts, fit[len(fit)-1], true
}

// subsetR2 is R2 on the regressors in the bit set, by Cholesky with the
// dependent columns left out.
func subsetR2(cov mat.Symmetric, subset uint) float64 {
	const dependent = 1e-10 // of a column's own variance
	var rows [][]float64    // rows of the Cholesky factor
	var cols []int
	explained := 0.0
	var scores []float64 // the response against each orthogonal direction
	for j := 1; j < cov.SymmetricDim(); j++ {
		if subset&(1<<(j-1)) == 0 {
			continue
		}
		row := make([]float64, 0, len(rows)+1)
		left, score := cov.At(j, j), cov.At(j, 0)
		for i, r := range rows {
			v := cov.At(j, cols[i])
			for k := range i {
				v -= row[k] * r[k]
			}
			v /= r[i]
			row = append(row, v)
			left -= v * v
			score -= v * scores[i]
		}
		if !(left > dependent*cov.At(j, j)) {
			continue
		}
		root := math.Sqrt(left)
		rows, cols = append(rows, append(row, root)), append(cols, j)
		scores = append(scores, score/root)
		explained += score * score / left
	}
	return explained / cov.At(0, 0)
}

func factorial(n int) float64 {
	f := 1.0
	for i := 2; i <= n; i++ {
		f *= float64(i)
	}
	return f
}
