package timeline

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/stat/distuv"

	"rangepost/analysis"
	"rangepost/analysis/stat"
)

// A Contrast says what two sides of a number show.
type Contrast string

// The contrasts.
const (
	Differ    Contrast = "differ"     // the limits, of all numbers compared together, exclude nothing
	Alike     Contrast = "alike"      // the difference is inside the practical zero, by two one-sided tests at 5 %
	Varies    Contrast = "varies"     // from day to day by more than luck: see Days
	CannotSay Contrast = "cannot say" // neither
	TooLittle Contrast = "too little" // fewer than two sessions on a side, and not the same one, so that the days may be what differs; or nothing varies
)

// A Side is one side of a comparison.
type Side struct {
	Sessions, Balls int
	Mean            float64 // of its sessions, SI; of the balls of the only one
}

// Comparison is a number of two sides: two clubs, two spans of time or two
// setups.
type Comparison struct {
	Number        analysis.Number
	First, Second Side
	Paired        int     // sessions that have both sides, which are compared within themselves; 0 where sessions are not
	Within        bool    // those sessions are too few to tell how much the difference changes from day to day: the limits are of those days alone
	Difference    float64 // second minus first, SI
	Low, High     float64 // limits that hold for all numbers compared together 95 % of the time; 0 for TooLittle
	Contrast      Contrast
	Days          []float64 // the difference in each session that has both sides, by time, where Within
}

// Compare compares a number of two sides, one of so many numbers compared
// together. zero is its practical zero, 0 for none; ok is false when a side has
// no value.
//
// What differs from day to day is no difference of the sides, so sessions are
// what is counted, not balls. Where two sessions or more have both sides, they
// are compared within each, and
//
//	difference(i) ~ N(d, tau2 + v(i))
//
// with v the squared error of a session's difference; under five of them tau2 is
// taken for nothing, which Within says, unless Cochran's Q says otherwise: then
// it varies, and no one difference is told. Else all sessions are compared across:
// mean(i) ~ N(m + d [second](i), tau2 + v(i)). Both are fitted as
// stat.NewRandomEffects does (REML, Knapp and Hartung's limits, of differences within
// sessions without a floor under their error: with one they held 99.5 % and
// more, since what differs between the sessions is out of them). Where one session
// alone has both and there is no other, its balls are compared (Behrens and
// Fisher), as in a trial. Limits are Bonferroni's.
func Compare(number analysis.Number, first, second []analysis.SessionValues, zero float64, together int) (c Comparison, ok bool) {
	first, second = alikeBalls(number, first, second)
	a, b := newModel(first), newModel(second)
	a.within, b.within = max(a.within, 0), max(b.within, 0)
	if len(a.sessions) == 0 || len(b.sessions) == 0 {
		return c, false
	}
	d, v, df := differences(a, b)
	if len(d) >= 2 {
		a, b = shared(first, second), shared(second, first)
	}
	c = Comparison{Number: number, First: a.side(), Second: b.side(), Contrast: TooLittle}
	c.Difference = c.Second.Mean - c.First.Mean
	level := 1 - 0.05/float64(max(1, together))
	var limits func(level float64) (low, high float64)
	switch {
	case len(d) >= 2 && len(d) < toVary && df > 0:
		weight, sum, q := 0.0, 0.0, 0.0
		for i := range d {
			weight, sum = weight+1/v[i], sum+d[i]/v[i]
		}
		c.Paired, c.Within, c.Difference = len(d), true, sum/weight
		for i := range d {
			q += (d[i] - c.Difference) * (d[i] - c.Difference) / v[i]
		}
		if c.Days = d; q > (distuv.ChiSquared{K: float64(len(d) - 1)}).Quantile(level) {
			c.Contrast = Varies
			return c, true
		}
		limits = func(level float64) (float64, float64) {
			half := stat.StudentQuantile((1+level)/2, df) / math.Sqrt(weight)
			return c.Difference - half, c.Difference + half
		}
	case len(d) >= toVary:
		r, ok := stat.NewRandomEffects(d, v, nil, stat.REML)
		if !ok {
			return c, true
		}
		c.Paired, c.Difference = len(d), r.B[0]
		limits = func(level float64) (float64, float64) { return r.FreeLimits(0, level) }
	case len(a.sessions) == 1 && len(b.sessions) == 1:
		if len(d) == 0 {
			return c, true
		}
		r, ok := stat.NewBehrensFisher(b.sample(0), a.sample(0))
		if !ok {
			return c, true
		}
		c.Paired, c.Within = 1, true
		limits = r.Limits
	case len(a.sessions) < 2 || len(b.sessions) < 2:
		return c, true
	default:
		y, v := a.means(0, len(a.sessions))
		more, errors := b.means(0, len(b.sessions))
		x := append(make([]float64, len(y)), ones(len(more))...)
		r, ok := stat.NewRandomEffects(append(y, more...), append(v, errors...), x, stat.REML)
		if !ok {
			return c, true
		}
		c.Difference = r.B[1]
		limits = func(level float64) (float64, float64) { return r.Limits(1, level) }
	}
	air := b.airDoubt(0, len(b.sessions)) - a.airDoubt(0, len(a.sessions))
	inAir := func(level float64) (low, high float64) {
		low, high = limits(level)
		z := distuv.UnitNormal.Quantile((1 + level) / 2)
		return c.Difference - math.Hypot(c.Difference-low, z*air), c.Difference + math.Hypot(high-c.Difference, z*air)
	}
	c.Low, c.High = inAir(level)
	low, high := inAir(0.90)
	switch {
	case c.Low > 0 || c.High < 0:
		c.Contrast = Differ
	case zero > 0 && -zero < low && high < zero:
		c.Contrast = Alike
	default:
		c.Contrast = CannotSay
	}
	return c, true
}

// toVary is how many sessions with both sides tell how much their difference
// changes from day to day: of fewer the limits would hold anything.
const toVary = 5

// shared is the model of those sessions that others are of as well.
func shared(sessions, others []analysis.SessionValues) *model {
	var kept []analysis.SessionValues
	for _, s := range sessions {
		if slices.ContainsFunc(others, func(o analysis.SessionValues) bool { return o.Session == s.Session }) {
			kept = append(kept, s)
		}
	}
	return newModel(kept)
}

// side is a model as one side.
func (m *model) side() Side {
	s := Side{Sessions: len(m.sessions)}
	for _, sample := range m.samples {
		s.Balls += sample.N
		s.Mean += sample.Mean / float64(len(m.samples))
	}
	return s
}

// sample is a session's, for as many balls as it counts for.
func (m *model) sample(i int) stat.Sample {
	s := m.samples[i]
	s.Counted = m.counted[i]
	return s
}

// differences are those of the sessions that have both sides, and their squared
// errors. The spread of one ball is that of both sides together, for a side of
// one ball has none; df is how well it is known, 0 when nothing varies.
func differences(a, b *model) (d, v []float64, df int) {
	within, df, _ := stat.Pooled(append(append([]stat.Sample{}, a.samples...), b.samples...)...)
	if within == 0 {
		df = 0
	}
	for i, s := range a.sessions {
		for j, t := range b.sessions {
			if s.Session == t.Session {
				d = append(d, b.samples[j].Mean-a.samples[i].Mean)
				v = append(v, within/a.counted[i]+within/b.counted[j])
			}
		}
	}
	return d, v, df
}

// alikeBalls keeps the sessions of both sides that a number of the ball can be
// compared over: with the kind of ball that most were hit with, in one air.
func alikeBalls(number analysis.Number, first, second []analysis.SessionValues) (a, b []analysis.SessionValues) {
	all := make([]analysis.SessionValues, 0, len(first)+len(second))
	for side, sessions := range [][]analysis.SessionValues{first, second} {
		for _, s := range sessions {
			s.Session = sides[side] + s.Session
			all = append(all, s)
		}
	}
	all, _ = sameBall(number, all)
	all, _ = sameAir(number, all)
	for _, s := range all {
		side, id := s.Session[:1], s.Session[1:]
		if s.Session = id; side == sides[0] {
			a = append(a, s)
		} else {
			b = append(b, s)
		}
	}
	return a, b
}

var sides = [...]string{"1", "2"}

func ones(n int) []float64 {
	all := make([]float64, n)
	for i := range all {
		all[i] = 1
	}
	return all
}
