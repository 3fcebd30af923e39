package timeline

import (
	"slices"

	"rangepost/analysis"
	"rangepost/analysis/stat"
)

// side is the fewest sessions before and after a lesson that say anything.
const side = 3

// effect is before and after the last lesson that has a session before it.
// spans is how many earlier lessons the sessions before reach back past.
func (m *model) effect(lessons []analysis.Lesson) (e Effect, spans int) {
	e.Change = NoLesson
	last := len(lessons) - 1
	if last < 0 || m.firstAt(lessons[last].At) == 0 {
		return e, 0
	}
	at := m.firstAt(lessons[last].At)
	from, spans := m.before(at, lessons[:last])
	e.Lesson, e.Before, e.After = lessons[last], at-from, len(m.sessions)-at
	y, v := m.means(from, len(m.sessions))
	e.MeanBefore = stat.SampleOf(y[:e.Before]).Mean
	if e.After > 0 {
		e.MeanAfter = stat.SampleOf(y[e.Before:]).Mean
		e.Difference = e.MeanAfter - e.MeanBefore
	}
	e.Change = TooEarly
	if e.Before < side || e.After < side {
		return e, 0
	}
	after := make([]float64, len(y))
	for i := range after[e.Before:] {
		after[e.Before+i] = 1
	}
	r, ok := stat.NewRandomEffects(y, v, after, stat.REML)
	if !ok { // not one session differs from another
		e.Change, e.Low, e.High, e.P = NotYet, e.Difference, e.Difference, 1
		return e, spans
	}
	e.MeanBefore, e.Difference, e.P = r.B[0], r.B[1], r.P(1)
	e.MeanAfter = e.MeanBefore + e.Difference
	e.Low, e.High = r.Limits(1, 0.95)
	e.Change = NotYet
	if e.P < 0.05 {
		e.Change = Changed
	}
	e.WorstBefore = worstLast(y[:e.Before], e.Difference)
	return e, spans
}

// before is where the side before session at starts: at the lesson before, or
// as far back as leaves enough sessions, past so many lessons.
func (m *model) before(at int, earlier []analysis.Lesson) (from, past int) {
	for _, l := range slices.Backward(earlier) {
		start := m.firstAt(l.At)
		if at-start >= side {
			return start, past
		}
		if start > 0 && start < at {
			past++
		}
	}
	return 0, past
}

// worstLast reports whether the last of the sessions before was the one
// farthest from where the number went.
func worstLast(before []float64, difference float64) bool {
	last := before[len(before)-1]
	for _, y := range before[:len(before)-1] {
		if (y-last)*difference <= 0 {
			return false
		}
	}
	return true
}
