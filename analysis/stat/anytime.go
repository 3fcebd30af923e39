package stat

import (
	"math"

	"gonum.org/v1/gonum/stat/distuv"
)

// A Sequence is what anytime-valid tests need of the values so far. The zero
// value is none yet.
type Sequence struct {
	N       int
	Mean    float64
	Squares float64 // sum of squares about Mean
}

// And is the sequence with one more value.
func (s Sequence) And(x float64) Sequence {
	s.N++
	d := x - s.Mean
	s.Mean += d / float64(s.N)
	s.Squares += d * (x - s.Mean)
	return s
}

// AnytimeT tests the mean of independent normal values of unknown variance, and
// stays honest however often one looks and whenever one stops: the chance that
// an evidence ever reaches 1/alpha, while what it is against is true, is at most
// alpha (Ville 1939).
//
// Evidence is the likelihood ratio of what of the values does not depend on their
// scale, mixed over a true mean of N(0, 1/Precision) standard deviations. With c2
// the precision, S the sum of n values less the mean in question and V the sum of
// their squares it is
//
//	sqrt(c2/(n+c2)) (1 - S^2/((n+c2)V))^(-n/2)
//
// (Wang & Ramdas 2023, Anytime-valid t-tests and confidence sequences for Gaussian
// means with unknown variance, arXiv 2310.03722, theorem 4.9, after Lai 1976, Ann.
// Stat. 4:265 [S]; the formula from its two integrals [C]). The mixture decides
// what is found soonest, never how often it is found falsely, as long as it was
// chosen before the values were seen.
//
// It presumes neither that the variance is known nor that there are many values.
// Where values are symmetric about the mean with other tails or with variances that
// change, a sum over the root of its squares strays less far in heavy tails than it
// does for the normal (Efron 1969, J. Am. Stat. Assoc. 64:1278 [M]).
type AnytimeT struct{ Precision float64 } // above 0

// Evidence is against a true mean of just so much: a test martingale with respect
// to the ratios of the values.
func (a AnytimeT) Evidence(s Sequence, mean float64) float64 {
	if s.N == 0 {
		return 1
	}
	n, c2, d2 := float64(s.N), a.Precision, (s.Mean-mean)*(s.Mean-mean)
	front := math.Sqrt(c2 / (n + c2))
	v := s.Squares + n*d2
	if v == 0 { // every value is the mean in question
		return front
	}
	return front * math.Pow(((n+c2)*s.Squares+c2*n*d2)/((n+c2)*v), -n/2)
}

// Above is the evidence that the true mean lies above, against its being so much
// or less: the mixture is over the half of the normal above it. What is left of
// the normal, given the values, is Student's t [C]. That it is a supermartingale
// under every mean at or below, and not under the mean alone, follows from the
// monotone likelihood ratio of t [C].
func (a AnytimeT) Above(s Sequence, mean float64) float64 {
	n, c2, d := float64(s.N), a.Precision, s.Mean-mean
	half := 0.5
	if under := (n+c2)*s.Squares + c2*n*d*d; under > 0 {
		t := n * d * math.Sqrt(n/under)
		half = StudentBelow(t, s.N)
		if half < 1e-6 { // the whole is then so large that its rounding would count
			half = distuv.StudentsT{Sigma: 1, Nu: n}.CDF(t)
		}
	}
	if half == 0 {
		return 0 // whatever the whole
	}
	return 2 * half * a.Evidence(s, mean)
}

// Below is the evidence that the true mean lies below.
func (a AnytimeT) Below(s Sequence, mean float64) float64 {
	return a.Above(Sequence{s.N, -s.Mean, s.Squares}, -mean)
}

// Half is how many times the root of Squares/N a mean of n values must be away
// from another for the evidence against that to reach 1/alpha; infinite while n
// are too few for it.
func (a AnytimeT) Half(n int, alpha float64) float64 {
	m, c2 := float64(n), a.Precision
	q := math.Pow(alpha*alpha*c2/(m+c2), 1/m)
	under := m - (1-q)*(m+c2)
	if n == 0 || under <= 0 {
		return math.Inf(1)
	}
	return math.Sqrt((1 - q) * (m + c2) / under)
}

// HalfSided is the same for the evidence that the true mean lies on one side.
func (a AnytimeT) HalfSided(n int, alpha float64) float64 {
	two := a.Half(n, alpha)
	if n == 0 {
		return two
	}
	// In units of the root of Squares/N.
	short := func(d float64) float64 { return a.Above(Sequence{n, d, float64(n)}, 0) - 1/alpha }
	high := 1.0
	for short(high) < 0 {
		if high *= 2; high > 1e6 {
			return math.Inf(1)
		}
	}
	return root(short, 0, high, 1e-9)
}

// Limits hold the true mean with chance 1 - alpha, at every n together. ok is
// false while the values are too few to have any.
func (a AnytimeT) Limits(s Sequence, alpha float64) (low, high float64, ok bool) {
	return around(s, a.Half(s.N, alpha))
}

// LimitsSided are, likewise, a limit below and one above of which each is exceeded
// with chance alpha at most.
func (a AnytimeT) LimitsSided(s Sequence, alpha float64) (low, high float64, ok bool) {
	return around(s, a.HalfSided(s.N, alpha))
}

func around(s Sequence, half float64) (low, high float64, ok bool) {
	if math.IsInf(half, 1) {
		return 0, 0, false
	}
	half *= math.Sqrt(s.Squares / float64(s.N))
	return s.Mean - half, s.Mean + half, true
}
