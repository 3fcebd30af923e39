package timeline

import (
	"rangepost/analysis/stat"
)

// side is the fewest sessions before and after a lesson that say anything.
const side = 3

// effect is before and after the last lesson that has a session before it.
// spans is how many earlier lessons the sessions before reach back past.
func (m *model) effect(lessons []Lesson) (e Effect, spans int) {
	e.Change = NoLesson
	last := len(lessons) - 1
	if last < 0 || m.firstAt(lessons[last].When) == 0 {
		return e, 0
	}
	at := m.firstAt(lessons[last].When)
	from := 0
	for prior := last - 1; prior >= 0; prior-- {
		if start := m.firstAt(lessons[prior].When); at-start >= side {
			from = start
			break
		} else if start > 0 && start < at {
			spans++
		}
	}
	e.Lesson, e.Before, e.After = lessons[last], at-from, len(m.sessions)-at
	y, v := m.means(from, len(m.sessions))
	e.MeanBefore = stat.SampleOf(y[:e.Before]).Mean
	e.MeanAfter = stat.SampleOf(y[e.Before:]).Mean
	e.Difference = e.MeanAfter - e.MeanBefore
	e.Change = TooEarly
	if e.Before < side || e.After < side {
		return e, spans
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
