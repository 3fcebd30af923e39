package stat

import (
	"math"
	"slices"
)

// A Mixture is values seen as two groups of one scale, each Student's t about its
// own centre, as robust mixtures are (Peel & McLachlan 2000, Stat. Comput. 10:339
// [S]).
type Mixture struct {
	Low, High float64   // centres
	Scale     float64   // of both
	Share     float64   // of the values in the higher group, 0..1
	InHigh    []float64 // the probability that each value is of the higher group

	// Ratio is twice the logarithm of how much likelier the values are of two
	// groups than of one that may lean to a side: t with a scale of its own on
	// either side of its mode (Fernandez & Steel 1998, J. Am. Stat. Assoc. 93:359
	// [S]). Heavy tails and skew do not pass for a second group then.
	Ratio float64
}

// leastGroup is the number of values under which a group is none.
const leastGroup = 4

// MixtureOfTwo fits two groups to values by the EM algorithm, from the split in
// two that leaves the least squares about the means. ok is false where neither
// split has four on either side: under 8 values, or with too many that are the
// same.
func MixtureOfTwo(values []float64) (m Mixture, ok bool) {
	sorted := slices.Clone(values)
	slices.Sort(sorted)
	at, ok := bestSplit(sorted)
	if !ok {
		return m, false
	}
	m.Low, m.High = meanOf(sorted[:at]), meanOf(sorted[at:])
	m.Share = float64(len(sorted)-at) / float64(len(sorted))
	m.Scale = leastScale(sorted)
	spread := 0.0
	for i, v := range sorted {
		if i < at {
			spread += math.Abs(v - m.Low)
		} else {
			spread += math.Abs(v - m.High)
		}
	}
	m.Scale = max(m.Scale, spread/float64(len(sorted)))
	likelihood := m.fit(sorted)
	m.Ratio = 2 * (likelihood - leaning(sorted))
	m.InHigh = make([]float64, len(values))
	for i, v := range values {
		low, high := m.parts(v)
		m.InHigh[i] = high / (low + high)
	}
	return m, true
}

// Apart is how far the centres are from each other in scales.
func (m Mixture) Apart() float64 { return (m.High - m.Low) / m.Scale }

// tails is the t density of five degrees of freedom at squared distance z2, but
// for a constant, and tailWeight what a value there counts in a mean.
func tails(z2 float64) float64      { k := 1 + z2/5; return 1 / (k * k * k) }
func tailWeight(z2 float64) float64 { return 6 / (5 + z2) }

func (m Mixture) parts(v float64) (low, high float64) {
	a, b := (v-m.Low)/m.Scale, (v-m.High)/m.Scale
	return (1 - m.Share) * tails(a*a), m.Share * tails(b*b)
}

// fit improves the mixture until it no longer does, and gives the logarithm of
// its likelihood but for a constant.
func (m *Mixture) fit(sorted []float64) (likelihood float64) {
	n := float64(len(sorted))
	floor := leastScale(sorted)
	likelihood = math.Inf(-1)
	for range 200 {
		var sumLow, sumHigh, weightLow, weightHigh, share, l float64
		for _, v := range sorted {
			low, high := m.parts(v)
			l += math.Log(low + high)
			p := high / (low + high)
			a, b := (v-m.Low)/m.Scale, (v-m.High)/m.Scale
			wl, wh := (1-p)*tailWeight(a*a), p*tailWeight(b*b)
			share += p / n
			sumLow, weightLow = sumLow+wl*v, weightLow+wl
			sumHigh, weightHigh = sumHigh+wh*v, weightHigh+wh
		}
		l -= n * math.Log(m.Scale)
		if l-likelihood < 1e-3 {
			return max(l, likelihood)
		}
		likelihood = l
		next := Mixture{Low: sumLow / weightLow, High: sumHigh / weightHigh, Share: share, Scale: m.Scale}
		square := 0.0
		for _, v := range sorted {
			low, high := m.parts(v)
			p := high / (low + high)
			a, b := (v-m.Low)/m.Scale, (v-m.High)/m.Scale
			dl, dh := v-next.Low, v-next.High
			square += (1-p)*tailWeight(a*a)*dl*dl + p*tailWeight(b*b)*dh*dh
		}
		next.Scale = max(floor, math.Sqrt(square/n))
		*m = next
	}
	return likelihood
}

// leaning is the logarithm of the likelihood, but for the same constant, of values
// as one group that may lean to a side, its mode sought among them.
func leaning(sorted []float64) (likelihood float64) {
	n := float64(len(sorted))
	floor := leastScale(sorted)
	likelihood = math.Inf(-1)
	const modes = 16
	for k := range modes + 1 {
		mode := SortedQuantile(sorted, float64(k)/modes)
		left, right := floor, floor
		if spread := meanDistance(sorted, mode); spread > floor {
			left, right = spread, spread
		}
		for range 12 {
			var below, above float64 // weighted squares
			for _, v := range sorted {
				d := v - mode
				if d < 0 {
					below += tailWeight(d*d/(left*left)) * d * d
				} else {
					above += tailWeight(d*d/(right*right)) * d * d
				}
			}
			// The two scales that make given weighted squares likeliest.
			a, b := math.Cbrt(below), math.Cbrt(above)
			left = max(floor, math.Sqrt(a*a*(a+b)/n))
			right = max(floor, math.Sqrt(b*b*(a+b)/n))
		}
		l := -n * math.Log((left+right)/2)
		for _, v := range sorted {
			z := (v - mode) / right
			if v < mode {
				z = (v - mode) / left
			}
			l += math.Log(tails(z * z))
		}
		likelihood = max(likelihood, l)
	}
	return likelihood
}

func meanDistance(values []float64, from float64) (mean float64) {
	for _, v := range values {
		mean += math.Abs(v-from) / float64(len(values))
	}
	return mean
}

func meanOf(values []float64) (mean float64) {
	for _, v := range values {
		mean += v / float64(len(values))
	}
	return mean
}

// leastScale is the scale under which no group goes: values are rounded, and those
// that share a figure are no group for that. It is the least step between them.
func leastScale(sorted []float64) float64 {
	whole := sorted[len(sorted)-1] - sorted[0]
	step := whole
	for i, v := range sorted[1:] {
		if d := v - sorted[i]; d > 1e-9*whole {
			step = min(step, d)
		}
	}
	return max(step/2, 1e-3*whole)
}

// bestSplit is where sorted values fall into two groups, of four or more, with the
// least squares about their means (Engelman & Hartigan 1969, J. Am. Stat. Assoc.
// 64:1647 [M]).
func bestSplit(sorted []float64) (at int, ok bool) {
	total, n := 0.0, len(sorted)
	for _, v := range sorted {
		total += v
	}
	best, sum := 0.0, 0.0
	for k := 1; k <= n-leastGroup; k++ {
		sum += sorted[k-1]
		if k < leastGroup || !(sorted[k] > sorted[k-1]) {
			continue
		}
		d := sum/float64(k) - (total-sum)/float64(n-k)
		if between := float64(k) * float64(n-k) * d * d; between > best {
			best, at = between, k
		}
	}
	return at, at > 0
}
