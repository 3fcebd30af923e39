package timeline

import (
	"slices"

	"rangepost/analysis"
	"rangepost/analysis/stat"
)

// Drifting is Of with Points and Drift alone, for a roster of many students: it
// costs a tenth.
func Drifting(number analysis.Number, club analysis.Club, sessions []SessionValues, lessons []Lesson) Result {
	r := Result{Number: number, Club: club, Effect: Effect{Change: NoLesson}, Drift: Drift{Out: -1}}
	r.Lessons = slices.Clone(lessons)
	slices.SortStableFunc(r.Lessons, func(a, b Lesson) int { return a.When.Compare(b.When) })
	kept, _ := sameBall(number, sessions)
	kept, _ = sameAir(number, kept)
	m := newModel(kept)
	for _, s := range m.sessions {
		r.Points = append(r.Points, Point{s.Session, s.When, stat.Mean(s.Values), s.Inferred, s.Normalised})
	}
	if len(m.sessions) == 0 {
		return r
	}
	m.within = max(m.within, 0)
	r.Drift = m.drift(r.Lessons)
	return r
}
