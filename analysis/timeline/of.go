package timeline

import (
	"math"
	"slices"
	"time"

	"rangepost/analysis"
	"rangepost/analysis/stat"
)

// Of follows the number over sessions, in any order; sessions without a value
// are skipped. Lessons likewise may come in any order.
func Of(number analysis.Number, club analysis.Club, sessions []SessionValues, lessons []Lesson) Result {
	r := Result{Number: number, Club: club, Effect: Effect{Change: NoLesson}, Drift: Drift{Out: -1}}
	r.Lessons = slices.Clone(lessons)
	slices.SortStableFunc(r.Lessons, func(a, b Lesson) int { return a.When.Compare(b.When) })
	kept, otherBall := sameBall(number, sessions)
	if otherBall > 0 {
		r.Warnings = append(r.Warnings, analysis.Warning{Code: OtherBall, Count: otherBall, Number: number})
	}
	kept, otherAir := sameAir(number, kept)
	if otherAir > 0 {
		r.Warnings = append(r.Warnings, analysis.Warning{Code: OtherAir, Count: otherAir, Number: number})
	}
	m := newModel(kept)
	for _, s := range m.sessions {
		r.Points = append(r.Points, Point{s.Session, s.When, stat.Mean(s.Values), s.Inferred, s.Normalised})
	}
	if len(m.sessions) == 0 {
		return r
	}
	if m.within < 0 {
		m.within = 0
		r.Warnings = append(r.Warnings, analysis.Warning{Code: OneBall, Count: len(m.sessions), Number: number})
	}
	r.Within = math.Sqrt(m.within)
	r.Mean, r.Between = m.overall()
	var spans int
	r.Effect, spans = m.effect(r.Lessons)
	if spans > 0 {
		r.Warnings = append(r.Warnings, analysis.Warning{Code: SpansLesson, Count: spans, Number: number})
	}
	r.Drift = m.drift(r.Lessons)
	r.Trend = m.trend()
	return r
}

// model is the sessions that have the number, by time, each summarised.
type model struct {
	sessions []SessionValues
	samples  []stat.Sample
	within   float64 // variance of one ball in its session; negative if it cannot be told
}

func newModel(sessions []SessionValues) *model {
	m := &model{within: -1}
	for _, s := range sessions {
		if len(s.Values) > 0 {
			m.sessions = append(m.sessions, s)
		}
	}
	slices.SortStableFunc(m.sessions, func(a, b SessionValues) int { return a.When.Compare(b.When) })
	for _, s := range m.sessions {
		m.samples = append(m.samples, stat.SampleOf(s.Values))
	}
	if within, _, ok := stat.Pooled(m.samples...); ok {
		m.within = within
	}
	return m
}

// means are the means of sessions [from, to) and their squared standard errors
// as measurements of those sessions.
func (m *model) means(from, to int) (y, v []float64) {
	for _, s := range m.samples[from:to] {
		y = append(y, s.Mean)
		v = append(v, m.within/float64(s.N))
	}
	return y, v
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
	between = math.Sqrt(r.Tau2)
	if o, ok := stat.NewOneWay(m.samples); ok {
		between = math.Sqrt(o.Between)
	}
	return mean, between
}

// firstAt is the index of the first session at or after t.
func (m *model) firstAt(t time.Time) int {
	i, _ := slices.BinarySearchFunc(m.sessions, t, func(s SessionValues, t time.Time) int { return s.When.Compare(t) })
	return i
}
