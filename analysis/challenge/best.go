package challenge

import (
	"cmp"
	"math"

	"gonum.org/v1/gonum/integrate/quad"
	"gonum.org/v1/gonum/stat/distuv"

	"rangepost/analysis/stat"
)

// best is the chance that the first of the scores truly is the best. Means are
// drawn in toward each other first (random effects, REML), or three lucky balls
// would win: a mean y with squared standard error v among means that differ by
// t2 has, given all of them,
//
//	w y + (1-w) mu,  squared error w v + (1-w)^2 Var(mu),  w = t2/(t2 + v).
//
// It is 0, which says nothing, under three entries and for shares.
func (t Terms) best(scores []Score, streak stat.Streak) float64 {
	if len(scores) < 3 || t.Shares() {
		return 0
	}
	var means, v []float64
	for _, s := range scores {
		if s.marks.N < 2 || !(s.marks.Variance > 0) {
			return 0
		}
		m := s.marks.Mean
		if !t.Less() {
			m = -m
		}
		marks := streaky(s, streak)
		means, v = append(means, m), append(v, marks.Variance/cmp.Or(marks.Counted, float64(marks.N)))
	}
	drawn, errors, ok := DrawnIn(means, v)
	if !ok {
		return 0
	}
	return ChanceLeast(drawn, errors)[0]
}

// DrawnIn draws means with squared standard errors v toward each other, and
// says the standard error of each. ok is false when they cannot be.
func DrawnIn(means, v []float64) (drawn, errors []float64, ok bool) {
	r, ok := stat.NewRandomEffects(means, v, nil, stat.REML)
	if !ok {
		return nil, nil, false
	}
	for i, one := range v {
		w := r.Tau2 / (r.Tau2 + one)
		drawn = append(drawn, stat.Shrink(means[i], one, r.B[0], r.Tau2))
		errors = append(errors, math.Hypot(math.Sqrt(w*one), (1-w)*r.Wald[0]))
	}
	return drawn, errors, true
}

// ChanceLeast is, for each of some independent normal variables of the given
// means and standard deviations, the chance that it is the least of them:
//
//	Int phi_i(x) Prod_{j != i} (1 - Phi_j(x)) dx
func ChanceLeast(means, sds []float64) []float64 {
	chances := make([]float64, len(means))
	for i := range means {
		density := func(z float64) float64 {
			x, p := means[i]+sds[i]*z, distuv.UnitNormal.Prob(z)
			for j := range means {
				if j != i {
					p *= distuv.UnitNormal.Survival((x - means[j]) / sds[j])
				}
			}
			return p
		}
		// Two halves of 60 nodes: to 1e-9 where the deviations are within a
		// factor of ten of each other.
		chances[i] = quad.Fixed(density, -9, 0, 60, nil, 0) + quad.Fixed(density, 0, 9, 60, nil, 0)
	}
	return chances
}
