package stat

import (
	"math"

	"gonum.org/v1/gonum/stat/distuv"

	"rangepost/analysis"
)

// A Streak is how far the values of a series resemble the ones before them, and
// what that costs: n values of which each resembles the last by r tell no more
// of their mean than n (1-r)/(1+r) independent ones (Bayley & Hammersley 1946,
// Suppl. J. R. Stat. Soc. 8:184; the first-order autoregression).
//
// One short series says little of its own r, so it is not plugged in. Each r is
// weighed by how well it explains the ones seen, corrected for the bias of a
// short series (Marriott & Pope 1954, Biometrika 41:390), and by a prior: even
// chances that there is no streak at all, else anything up to a half (our
// choice). Limits are those of the mixture. What is measured of the same balls
// shares its streaks, so that several series of theirs say more than one.
type Streak struct {
	N       int
	R       float64 // mean over what it may be
	r, prob []float64
	wide    float64 // widthOf(N), 0 where that is not worked out yet
}

// streakRs are the values of r that are weighed.
var streakRs = [...]float64{0, 0.05, 0.1, 0.15, 0.2, 0.25, 0.3, 0.35, 0.4, 0.45, 0.5}

// leastStreak is the length under which a series says nothing of its streaks.
const leastStreak = 5

// leastAcross is the same of one of many: the longer ones say enough without it.
const leastAcross = 8

// noStreak is the prior probability that a golfer's balls do not resemble the
// ones before.
const noStreak = 0.6

// StreakOf weighs what series of the same balls, each in the order they were
// hit, say of their streaks: each counts by how little it goes with the others.
// The first is the one whose mean is asked for. Under five balls they say
// nothing, and there are none.
func StreakOf(series ...[]float64) Streak {
	s := Streak{r: streakRs[:1], prob: []float64{1}}
	if len(series) == 0 {
		return s
	}
	n := len(series[0])
	s.N = n
	if n < leastStreak {
		return s
	}
	var unit [][]float64 // standardised
	for _, values := range series {
		if u, ok := standard(values); ok && len(values) == n {
			unit = append(unit, u)
		}
	}
	if len(unit) == 0 {
		return s
	}
	// So many independent series are as good as these: the squares of serial
	// correlations vary together as the squares of the correlations.
	together := 0.0
	for _, a := range unit {
		for _, b := range unit {
			c := dot(a, b)
			together += c * c
		}
	}
	return s.weigh(unit, float64(len(unit))/together)
}

// StreakAcross weighs what series of different balls, each in the order they
// were hit, say of the streaks they have in common: a golfer's sessions. Its
// N is 0; For says of how many balls it is to speak.
func StreakAcross(series [][]float64) Streak {
	s := Streak{r: streakRs[:1], prob: []float64{1}}
	var unit [][]float64
	for _, values := range series {
		if u, ok := standard(values); ok && len(values) >= leastAcross {
			unit = append(unit, u)
		}
	}
	if len(unit) == 0 {
		return s
	}
	return s.weigh(unit, 1)
}

// For is the streak of n balls.
func (s Streak) For(n int) Streak {
	s.N, s.wide = n, 0
	return s
}

// weigh weighs each r by the serial correlations of standardised series, each
// counted so many times.
func (s Streak) weigh(unit [][]float64, share float64) Streak {
	s.r, s.prob = streakRs[:], make([]float64, len(streakRs))
	type lag struct{ seen, n float64 }
	lags := make([]lag, len(unit))
	for i, u := range unit {
		lags[i] = lag{dot(u[1:], u[:len(u)-1]), float64(len(u))}
	}
	most := math.Inf(-1)
	for i, r := range streakRs {
		prior := noStreak
		if i > 0 {
			prior = (1 - noStreak) / float64(len(streakRs)-1)
		}
		s.prob[i] = math.Log(prior)
		for _, l := range lags {
			// The serial correlation of n values centres at r - (1 + 4r)/n.
			z := (l.seen - r + (1+4*r)/l.n) / math.Sqrt((1-r*r)/l.n)
			s.prob[i] -= share * (z*z/2 + math.Log(1-r*r)/2)
		}
		most = max(most, s.prob[i])
	}
	total := 0.0
	for i := range s.prob {
		s.prob[i] = math.Exp(s.prob[i] - most)
		total += s.prob[i]
	}
	for i, r := range streakRs {
		s.prob[i] /= total
		s.R += s.prob[i] * r
	}
	if s.N > 1 {
		s.wide = s.widthOf(s.N)
	}
	return s
}

// standard is a series less its mean and of length 1; ok is false when it does
// not vary.
func standard(values []float64) (u []float64, ok bool) {
	mean := 0.0
	for _, v := range values {
		mean += v / float64(len(values))
	}
	u = make([]float64, len(values))
	square := 0.0
	for i, v := range values {
		u[i] = v - mean
		square += u[i] * u[i]
	}
	if scale := mean * mean * float64(len(values)); !(square > 1e-24*scale) || math.IsInf(square, 1) {
		return nil, false
	}
	for i := range u {
		u[i] /= math.Sqrt(square)
	}
	return u, true
}

func dot(a, b []float64) float64 {
	sum := 0.0
	for i := range a {
		sum += a[i] * b[i]
	}
	return sum
}

// inflation is the standard error of a mean over that of independent values.
// The spread of a streaky series is itself a little too small.
func (s Streak) inflation(r float64) float64 {
	n := float64(s.N)
	if r == 0 || n < 2 {
		return 1
	}
	// The variance of the mean over that of one value, exactly, and what the
	// sample variance has of it.
	sum := 0.0
	for k, rk := 1, r; k < s.N && rk > 1e-9; k, rk = k+1, rk*r {
		sum += (1 - float64(k)/n) * rk
	}
	of := (1 + 2*sum) / n
	return math.Sqrt(n * of / ((1 - of) * n / (n - 1)))
}

// Effective is the number of independent values that tell as much of the mean.
func (s Streak) Effective() float64 {
	v := 0.0
	for i, r := range s.r {
		f := s.inflation(r)
		v += s.prob[i] * f * f
	}
	return float64(s.N) / max(1, v)
}

// Draw is an inflation of the standard error as it might as well be: the one
// below which a share u of the probability lies, u in 0..1.
func (s Streak) Draw(u float64) float64 {
	for i, p := range s.prob {
		if u -= p; u < 0 || i == len(s.prob)-1 {
			return s.inflation(s.r[i])
		}
	}
	return 1
}

// Mean is Mean of a series with these streaks: its limits are those of the
// mixture over what the streaks may be.
func (s Streak) Mean(values []float64) analysis.Estimate {
	e := Mean(values)
	if !e.OK || len(s.r) == 1 {
		return e
	}
	wide := s.wide
	if e.N != s.N || wide == 0 {
		wide = s.widthOf(e.N)
	}
	half := wide * e.SD / math.Sqrt(float64(e.N))
	e.Low, e.High = e.Mean-half, e.Mean+half
	return e
}

// widthOf is how many standard errors of n independent values lie between their
// mean and either of its limits.
func (s Streak) widthOf(n int) float64 {
	t := distuv.StudentsT{Sigma: 1, Nu: float64(n - 1)}
	outside := func(half float64) float64 {
		p := 0.0
		for i, r := range s.r {
			p += s.prob[i] * t.Survival(half/s.inflation(r))
		}
		return p - 0.025
	}
	one := StudentQuantile(0.975, n-1)
	return root(outside, one, one*s.inflation(s.r[len(s.r)-1]), 1e-6)
}

// Means are the means of several series with these streaks, in limits for the
// values they count for: many series tell their streaks well enough for that.
func (s Streak) Means(series [][]float64) []analysis.Estimate {
	all := make([]analysis.Estimate, len(series))
	for i, values := range series {
		e := Mean(values)
		if e.OK && len(s.r) > 1 {
			wider := math.Sqrt(float64(e.N) / s.For(e.N).Effective())
			e.Low, e.High = e.Mean-wider*(e.Mean-e.Low), e.Mean+wider*(e.High-e.Mean)
		}
		all[i] = e
	}
	return all
}
