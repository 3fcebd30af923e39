package timeline

import (
	"math"
	"slices"
	"time"

	"rangepost/analysis"
	"rangepost/analysis/stat"
)

// Of follows the number over sessions, in any order; sessions without a value
// are skipped. Lessons likewise may come in any order. Noted is when somebody
// said that they had seen a drift: one that was told by then stands no longer.
func Of(number analysis.Number, club analysis.Club, sessions []analysis.SessionValues, lessons []analysis.Lesson, noted ...time.Time) Result {
	r, m := chart(number, club, sessions, lessons, noted)
	if len(m.sessions) == 0 {
		return r
	}
	r.Within = math.Sqrt(m.within)
	r.Mean, r.Between = m.overall()
	if r.Effects = m.effects(r.Lessons); len(r.Effects) > 0 {
		r.Effect = r.Effects[len(r.Effects)-1]
	}
	r.Trend = m.trend()
	return r
}

// Drifting is Of with Points and Drift alone, for a roster of many students: it
// costs a tenth.
func Drifting(number analysis.Number, club analysis.Club, sessions []analysis.SessionValues, lessons []analysis.Lesson, noted ...time.Time) Result {
	r, _ := chart(number, club, sessions, lessons, noted)
	return r
}

// chart is the points of a result and their drift, and the model the rest of
// it is told by.
func chart(number analysis.Number, club analysis.Club, sessions []analysis.SessionValues, lessons []analysis.Lesson, noted []time.Time) (Result, *model) {
	r := Result{Number: number, Club: club, Effect: Effect{Change: NoLesson}, Drift: Drift{Out: -1}}
	r.Lessons = slices.Clone(lessons)
	slices.SortStableFunc(r.Lessons, func(a, b analysis.Lesson) int { return a.At.Compare(b.At) })
	kept, otherBall := sameBall(number, sessions)
	r.warn(OtherBall, otherBall)
	kept, otherAir := sameAir(number, kept)
	r.warn(OtherAir, otherAir)
	m := newModel(kept)
	values := make([][]float64, len(m.sessions))
	for i, s := range m.sessions {
		values[i] = s.Values
	}
	means := m.streak.Means(values)
	for i, s := range m.sessions {
		r.Points = append(r.Points, Point{s.Session, s.At, widened(means[i], s.AirDoubt), s.Inferred > 0, s.Normalised})
	}
	if len(m.sessions) == 0 {
		return r, m
	}
	if m.within < 0 {
		m.within = 0
		r.warn(OneBall, len(m.sessions))
	}
	r.Drift = m.drift(m.stretches(r.Lessons), noted)
	return r, m
}

func (r *Result) warn(code string, count int) {
	if count > 0 {
		r.Warnings = append(r.Warnings, analysis.Warning{Code: code, Count: count, Number: r.Number})
	}
}

// model is the sessions that have the number, by time, each summarised.
type model struct {
	sessions []analysis.SessionValues
	samples  []stat.Sample
	streak   stat.Streak // how balls resemble the one before, in all sessions
	counted  []float64   // independent balls that each session's count for
	within   float64     // variance of one ball in its session; negative if it cannot be told
}

func newModel(sessions []analysis.SessionValues) *model {
	m := &model{within: -1}
	for _, s := range sessions {
		if len(s.Values) > 0 {
			m.sessions = append(m.sessions, s)
		}
	}
	slices.SortStableFunc(m.sessions, func(a, b analysis.SessionValues) int { return a.At.Compare(b.At) })
	values := make([][]float64, len(m.sessions))
	for i, s := range m.sessions {
		m.samples = append(m.samples, stat.SampleOf(s.Values))
		values[i] = s.Values
	}
	m.streak = stat.StreakAcross(values)
	effective := map[int]float64{}
	for _, s := range m.samples {
		if _, ok := effective[s.N]; !ok {
			effective[s.N] = m.streak.For(s.N).Effective()
		}
		m.counted = append(m.counted, effective[s.N])
	}
	if within, _, ok := stat.Pooled(m.samples...); ok {
		m.within = within
	}
	return m
}

// means are the means of sessions [from, to) and their squared standard errors
// as measurements of those sessions.
func (m *model) means(from, to int) (y, v []float64) {
	for i := from; i < to; i++ {
		y = append(y, m.samples[i].Mean)
		v = append(v, m.within/m.counted[i])
	}
	return y, v
}

// airDoubt is how far the mean of sessions [from, to) may be off by their being
// brought to one air, a standard deviation with a sign: all are off together.
func (m *model) airDoubt(from, to int) (mean float64) {
	for _, s := range m.sessions[from:to] {
		mean += s.AirDoubt / float64(to-from)
	}
	return mean
}

// overall is the mean over sessions, and the standard deviation between them.
func (m *model) overall() (mean analysis.Estimate, between float64) {
	y, v := m.means(0, len(m.sessions))
	all := stat.SampleOf(y)
	mean = analysis.Estimate{N: all.N, Mean: all.Mean}
	r, ok := stat.NewRandomEffects(y, v, nil, stat.REML)
	if !ok {
		return mean, 0
	}
	mean.Mean, mean.SD, mean.OK = r.B[0], math.Sqrt(all.Variance), true
	mean.Low, mean.High = r.Limits(0, 0.95)
	mean = widened(mean, m.airDoubt(0, len(m.sessions)))
	between = math.Sqrt(r.Tau2)
	if o, ok := stat.NewOneWay(m.samples); ok {
		between = math.Sqrt(o.Between)
	}
	return mean, between
}

// firstAt is the index of the first session at or after t.
func (m *model) firstAt(t time.Time) int {
	i, _ := slices.BinarySearchFunc(m.sessions, t, func(s analysis.SessionValues, t time.Time) int { return s.At.Compare(t) })
	return i
}
