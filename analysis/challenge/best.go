package challenge

import (
	"cmp"
	"math"

	"gonum.org/v1/gonum/integrate/quad"
	"gonum.org/v1/gonum/stat/distuv"

	"rangepost/analysis/stat"
)

// equally is the prior chance that the entries are of equals. It is high on
// purpose: too much said of a first place is what hurts, and where members do
// differ it takes two or three balls more to say so (our choice).
const equally = 0.8

// differ is how much members truly differ where they do, as a standard
// deviation: of distances as a share of themselves, of shares as they are
// (common practice, no source).
func (t Terms) differ() float64 {
	switch {
	case t.Shares():
		return 0.15
	case t.Rule == Progress:
		return GainDeviation
	}
	return 0.25
}

// best is the chance that the first of the scores truly is the best. How much
// the entries differ in truth, tau, is not known, and of ten balls each one
// learns little of it; so every tau is weighed by how well it explains the
// scores seen (the likelihood, with the mean integrated out) and by a prior:
// equally of none at all, else a half-normal about differ. With no
// difference everybody is as likely the best; with one, a mean y of squared
// standard error v is drawn in toward the others, w = tau2/(tau2 + v), and has
// the squared error w v. Plugging in the one tau that explains most
// called the first of equals the best with far too much confidence.
//
// Distances are compared by their logarithms, since who scatters wide varies
// widely. It is 0, which says nothing, under three entries.
func (t Terms) best(scores []Score, streak stat.Streak) float64 {
	if len(scores) < 3 {
		return 0
	}
	y, v, ok := t.onScale(scores, streak)
	if !ok {
		return 0
	}
	k := float64(len(scores))
	none := evidence(y, v, 0)
	weight, chance := equally, equally/k // relative to the evidence of none
	const steps = 8
	total := 0.0
	for i := range steps {
		total += halfNormal(i, steps)
	}
	for i := range steps {
		tau := t.differ() * 3 * (float64(i) + 0.5) / steps
		share := (1 - equally) * halfNormal(i, steps) / total * math.Exp(min(500, evidence(y, v, tau*tau)-none))
		weight += share
		chance += share * firstLeast(y, v, tau*tau)
	}
	return chance / weight
}

// halfNormal is the density at the middle of a step of three deviations.
func halfNormal(i, steps int) float64 {
	return distuv.UnitNormal.Prob(3 * (float64(i) + 0.5) / float64(steps))
}

// onScale are the scores on the scale they are compared on, the smaller the
// better, with their squared standard errors: of the scatter of all of them
// together, which so few balls of one tell little of.
func (t Terms) onScale(scores []Score, streak stat.Streak) (y, v []float64, ok bool) {
	pooled, balls, scale := 0.0, 0.0, 1.0
	if !t.Shares() && t.Rule != Progress { // of all together: a far ball of one is in its mean, too
		mean := 0.0
		for _, s := range scores {
			mean += s.marks.Mean / float64(len(scores))
		}
		scale = mean * mean
	}
	for _, s := range scores {
		m := s.marks
		switch {
		case t.Shares():
			n := float64(s.Of)
			// Agresti & Coull's two more of either (1998, Am. Stat. 52:119 [M]).
			m.Mean = (float64(s.In) + 2) / (n + 4)
			m.N, m.Variance = s.Of, m.Mean*(1-m.Mean)
			m.Mean = -s.Value
		case t.Rule == Progress:
			m.Mean = -m.Mean
		default:
			if !(m.Mean > 0) {
				return nil, nil, false
			}
			m.Mean = math.Log(m.Mean)
		}
		if m.N < 2 {
			return nil, nil, false
		}
		pooled += float64(m.N-1) * m.Variance / scale
		balls += float64(m.N - 1)
		counted := streaky(s, streak).Counted
		if t.Shares() && streak.R > 0 {
			counted = streak.For(s.Of).Effective()
		}
		y, v = append(y, m.Mean), append(v, 1/cmp.Or(counted, float64(m.N)))
	}
	for i := range v {
		v[i] *= pooled / balls
	}
	return y, v, pooled > 0
}

// evidence is the log likelihood of means y of squared standard errors v that
// differ in truth by tau2 about a mean of which nothing is known.
func evidence(y, v []float64, tau2 float64) float64 {
	var sum, w, wy, log float64
	for i, one := range v {
		weight := 1 / (one + tau2)
		w, wy, log = w+weight, wy+weight*y[i], log+math.Log(weight)
	}
	for i, one := range v {
		sum += (y[i] - wy/w) * (y[i] - wy/w) / (one + tau2)
	}
	return (log - math.Log(w) - sum) / 2
}

// firstLeast is the chance that the first of the means is truly the least.
func firstLeast(y, v []float64, tau2 float64) float64 {
	var w, wy float64
	for i, one := range v {
		w, wy = w+1/(one+tau2), wy+y[i]/(one+tau2)
	}
	drawn, sds := make([]float64, len(y)), make([]float64, len(y))
	for i, one := range v {
		drawn[i] = stat.Shrink(y[i], one, wy/w, tau2)
		sds[i] = math.Sqrt(one * tau2 / (one + tau2))
	}
	return ChanceLeast(drawn, sds, 0)
}

// ChanceLeast is the chance that one of some independent normal variables of
// the given means and standard deviations is the least of them:
//
//	Int phi_i(x) Prod_{j != i} (1 - Phi_j(x)) dx
func ChanceLeast(means, sds []float64, i int) float64 {
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
	return quad.Fixed(density, -9, 0, 60, nil, 0) + quad.Fixed(density, 0, 9, 60, nil, 0)
}
