package plan

import (
	"math"

	"rangepost/analysis/stat"
)

// What is believed of a plan before its first ball, for what is still to come
// only, never for a verdict: a change of up to about twice the one that matters
// either way, and the planned scatter as if four blocks had shown it (common
// practice, no source).
const (
	believedChange = 2
	believedBlocks = 4
)

// ahead is the chance that a set's number of interest, of which so much was seen,
// has its answer with so many blocks left, and how many blocks that is expected to
// take, all of them where it does not come.
//
// The mean of the blocks to come is Student's t under a normal-inverse-chi-squared
// belief (Gelman et al., Bayesian Data Analysis, 3rd ed., section 3.3 [M]). For
// each number of them the answer is either that the mean of all passes what moved
// wants, or that it is inside what held leaves, the spread taken as it is believed.
// The chance by then is taken for the largest of these: an answer that was there
// and would have gone again is left out, so that the chance is a little low.
func (p Plan) ahead(b bounds, seen stat.Sequence, left int) (chance, blocks float64) {
	planned := p.blockSD(p.SD)
	kappa0 := planned / (believedChange * p.Change)
	kappa0 *= kappa0
	n := float64(seen.N)
	kappa, nu := kappa0+n, believedBlocks+n
	centre := n * seen.Mean / kappa
	spread := math.Sqrt((believedBlocks*planned*planned + seen.Squares + kappa0*n*seen.Mean*seen.Mean/kappa) / nu)
	for l := 1; l <= left; l++ {
		blocks += 1 - chance
		k := seen.N + l
		if k >= len(b.half) {
			break
		}
		m, all := float64(l), float64(k)
		t := stat.StudentMixture{
			Mean:   []float64{(n*seen.Mean + m*centre) / all},
			SE:     []float64{spread * m / all * math.Sqrt(1/kappa+1/m)},
			Weight: []float64{1}, DF: int(nu),
		}
		chance = max(chance, answers(t, b.half[k], b.inside[k], spread*math.Sqrt(1-1/all), p.Change))
	}
	return chance, blocks
}

// answers is the chance that a mean is as far from zero as moved wants, half roots
// of its squares, or as near as held leaves.
func answers(mean stat.StudentMixture, half, inside, root, change float64) float64 {
	far, near := half*root, change-inside*root
	if math.IsInf(half, 1) {
		far = math.Inf(1)
	}
	if math.IsInf(inside, 1) || near < 0 {
		near = 0
	}
	if near >= far {
		return 1
	}
	within := func(x float64) float64 {
		if math.IsInf(x, 1) {
			return 1
		}
		return mean.Below(x) - mean.Below(-x)
	}
	return 1 - within(far) + within(near)
}
