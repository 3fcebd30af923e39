package record

import (
	"context"
	"slices"

	"rangepost/analysis"
	"rangepost/analysis/cause"
	"rangepost/analysis/timeline"
	"rangepost/store"
)

// A Sheet is what a coach wants to know of a student before a lesson, with times
// in the coach's zone.
type Sheet struct {
	Line
	States   []timeline.Result // of the number they work on, and of face and path
	Trials   []Finding         // the last, and the one before it that moved something, if that one did not
	Promised *store.Lesson     // the last lesson, nil without one
	Latest   *store.Session    // hit last, nil without one
	Needs    cause.Result      // of its usual set: what has to move, and what might move it
	Tried    []analysis.Tool   // setups that trials have told of with its club
}

// Sheet is what there is to know before a lesson.
func (rs *Records) Sheet(ctx context.Context, b store.Binding) (s Sheet, err error) {
	lines, err := rs.Roster(ctx, b.Server, b.Coach, b.Student)
	if err != nil {
		return s, err
	}
	if len(lines) == 0 {
		return s, store.ErrNotFound
	}
	if s.Line, err = rs.withRecent(ctx, lines[0]); err != nil {
		return s, err
	}
	zone, err := rs.Zone(ctx, b.Server, b.Coach)
	if err != nil {
		return s, err
	}
	if s.Lesson != nil {
		promised := *s.Lesson
		promised.At = promised.At.In(zone)
		s.Promised = &promised
	}
	all := Found(s.Recent, func(store.Gisted) bool { return true })
	if i := slices.IndexFunc(all, func(f Finding) bool { return f.Kind == TrialFound }); i >= 0 {
		s.Trials = append(s.Trials, all[i])
		if told := telling(all); told != i {
			s.Trials = append(s.Trials, all[told])
		}
	}
	usual, err := rs.UsualNumber(ctx, b.Server, b.Student)
	if err != nil {
		return s, err
	}
	numbers := []analysis.Number{usual}
	for _, n := range []analysis.Number{analysis.Face, analysis.Path, analysis.Lateral} {
		if len(numbers) < 3 && !slices.Contains(numbers, n) {
			numbers = append(numbers, n)
		}
	}
	if s.States, err = rs.Timelines(ctx, b.Server, b.Student, Query{Numbers: numbers, Zone: zone}); err != nil {
		return s, err
	}
	return s, rs.next(ctx, &s)
}

// next adds what the latest session asks for.
func (rs *Records) next(ctx context.Context, s *Sheet) error {
	if len(s.Recent) == 0 {
		return nil
	}
	latest, err := rs.db.Session(ctx, s.Recent[0].Server, s.Recent[0].ID)
	if err != nil {
		return err
	}
	s.Latest = &latest
	answer, err := rs.readable(ctx, latest.SessionInfo)
	if err != nil {
		return err
	}
	i := answer.Usual()
	if i < 0 || len(answer.Reading.Questions) > 0 {
		return nil
	}
	s.Needs = answer.Sets[i].Cause
	taught, err := rs.db.Taught(ctx, latest.Server, latest.Student, answer.Sets[i].Club)
	for _, t := range taught {
		if !slices.Contains(s.Tried, t.Tool) {
			s.Tried = append(s.Tried, t.Tool)
		}
	}
	return err
}
