package stat

import "math"

// A StudentMixture is a mixture of Student's t of the same degrees of freedom,
// each about its mean with its own standard error; one without an error is a
// point. The weights add up to 1.
type StudentMixture struct {
	Mean, SE, Weight []float64
	DF               int
}

// Below is the probability of being at or below x.
func (m StudentMixture) Below(x float64) (p float64) {
	for i, w := range m.Weight {
		switch d := x - m.Mean[i]; {
		case m.SE[i] > 0:
			p += w * StudentBelow(d/m.SE[i], m.DF)
		case d >= 0:
			p += w
		}
	}
	return p
}

// Quantile is where the probability of being at or below is p.
func (m StudentMixture) Quantile(p float64) float64 {
	z := StudentQuantile(p, m.DF)
	low, high := math.Inf(1), math.Inf(-1) // the mixture's lies among its parts'
	for i := range m.Mean {
		q := m.Mean[i] + z*m.SE[i]
		low, high = min(low, q), max(high, q)
	}
	if !(low < high) {
		return low
	}
	return root(func(x float64) float64 { return m.Below(x) - p }, low, high, 1e-6)
}

// Sided is the two-sided p of being zero: twice the probability of the less
// likely side.
func (m StudentMixture) Sided() float64 {
	below := m.Below(0)
	return min(1, 2*min(below, 1-below))
}
