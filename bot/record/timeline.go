package record

import (
	"context"
	"slices"
	"time"

	"rangepost/analysis"
	"rangepost/analysis/timeline"
	"rangepost/store"
)

// A Query is what timelines are asked for.
type Query struct {
	Numbers []analysis.Number // none: the usual one
	Clubs   []analysis.Club   // none: the one with the most sessions
	Since   time.Time         // hit then or later; zero for all
	Last    int               // at most so many sessions, the latest; 0 for all
	Until   time.Time         // hit then or before; zero for all
	Zone    *time.Location    // whose days are shown; nil is UTC
}

// Timelines answers a query: a timeline for each number and club that has
// sessions.
func (rs *Records) Timelines(ctx context.Context, server, student string, q Query) (results []timeline.Result, err error) {
	if q.Zone == nil {
		q.Zone = time.UTC
	}
	marked, lessons, err := rs.lessonsSince(ctx, server, student, q.Since)
	if err != nil {
		return nil, err
	}
	noted, err := rs.db.Noted(ctx, server, student)
	if err != nil {
		return nil, err
	}
	for i := range lessons {
		lessons[i].At = lessons[i].At.In(q.Zone)
		marked[i].Lesson = lessons[i] // what is found of one is known again by it
	}
	if len(q.Numbers) == 0 {
		usual, err := rs.UsualNumber(ctx, server, student)
		if err != nil {
			return nil, err
		}
		q.Numbers = []analysis.Number{usual}
	}
	for _, number := range q.Numbers {
		kept, err := rs.db.Values(ctx, server, student, store.ValuesFilter{Number: number, Since: q.Since})
		if err != nil {
			return nil, err
		}
		if !q.Until.IsZero() {
			kept = slices.DeleteFunc(kept, func(v analysis.SessionValues) bool { return v.At.After(q.Until) })
		}
		clubs := q.Clubs
		if len(clubs) == 0 && len(kept) > 0 {
			clubs = []analysis.Club{commonest(kept)}
		}
		air, err := rs.airOf(ctx, server, student, number)
		if err != nil {
			return nil, err
		}
		tried, err := rs.db.Tried(ctx, server, student, number, q.Since)
		if err != nil {
			return nil, err
		}
		for _, club := range clubs {
			var sessions []analysis.SessionValues
			for _, v := range kept {
				if v.Club == club {
					v.At = v.At.In(q.Zone)
					sessions = append(sessions, air.session(v))
				}
			}
			if q.Last > 0 && len(sessions) > q.Last {
				sessions = sessions[len(sessions)-q.Last:]
			}
			if len(sessions) > 0 {
				r := timeline.Of(number, club, sessions, lessons, notedAt(noted, number, club)...)
				for _, s := range triedIn(sessions, tried) {
					r.Setups = append(r.Setups, timeline.Setup{Label: s.label, Points: timeline.Drifting(number, club, s.sessions, nil).Points})
				}
				results = append(results, r)
			}
		}
	}
	timeline.Together(results)
	return results, rs.found(ctx, server, student, q, marked, results)
}

// found keeps what was found of lessons over all sessions, and puts what was
// found before beside what some of the sessions say now.
func (rs *Records) found(ctx context.Context, server, student string, q Query, marked []store.Lesson, results []timeline.Result) error {
	before, err := rs.db.Findings(ctx, server, student)
	if err != nil {
		return err
	}
	var fresh []store.Finding
	for i := range results {
		r := &results[i]
		for j := range r.Effects {
			e := &r.Effects[j]
			at := slices.IndexFunc(marked, func(l store.Lesson) bool { return l.Lesson == e.Lesson })
			if at < 0 {
				continue
			}
			is := func(f store.Finding) bool {
				return f.Lesson == marked[at].ID && f.Number == r.Number && f.Club == r.Club
			}
			switch k := slices.IndexFunc(before, is); {
			case k >= 0 && (q.Until.IsZero() || !before[k].Hit.After(q.Until)):
				f := before[k]
				e.Keep(f.Sessions, f.Hit, f.Difference, f.Low, f.High)
				if !q.Since.IsZero() || q.Last > 0 {
					if e.Credited, err = rs.credited(ctx, server, student, q, *r, e.Lesson); err != nil {
						return err
					}
				}
			case k < 0 && e.Change == timeline.Changed && q.Since.IsZero() && q.Last == 0:
				fresh = append(fresh, store.Finding{Lesson: marked[at].ID, Number: r.Number, Club: r.Club,
					Sessions: e.Found, Hit: e.FoundAt, Difference: e.Difference, Low: e.Low, High: e.High})
			}
		}
		if n := len(r.Effects); n > 0 {
			r.Effect = r.Effects[n-1]
		}
	}
	if len(fresh) == 0 {
		return nil
	}
	return rs.db.KeepFindings(ctx, fresh)
}

// credited is whether all sessions credit a change to its lesson, where some of
// them are asked for.
func (rs *Records) credited(ctx context.Context, server, student string, some Query, r timeline.Result, lesson analysis.Lesson) (bool, error) {
	all, err := rs.Timelines(ctx, server, student, Query{
		Numbers: []analysis.Number{r.Number}, Clubs: []analysis.Club{r.Club}, Until: some.Until, Zone: some.Zone,
	})
	if err != nil || len(all) == 0 {
		return false, err
	}
	i := slices.IndexFunc(all[0].Effects, func(e timeline.Effect) bool { return e.Lesson == lesson })
	return i >= 0 && all[0].Effects[i].Credited, nil
}

// settles finds what a session that was just posted settles about the last
// lesson, of the number the student works on: otherwise it would be found, and
// dated, only when somebody opens a timeline.
func (rs *Records) settles(ctx context.Context, s store.Session) error {
	lesson, err := rs.LastLesson(ctx, s.Server, s.Student)
	if err != nil || lesson.IsZero() {
		return err
	}
	number, err := rs.UsualNumber(ctx, s.Server, s.Student)
	if err != nil {
		return err
	}
	since, err := rs.db.Values(ctx, s.Server, s.Student, store.ValuesFilter{Number: number, Since: lesson, MeansOnly: true})
	if err != nil {
		return err
	}
	after := map[analysis.Club]int{}
	posted := map[analysis.Club]bool{}
	for _, v := range since {
		after[v.Club]++
		posted[v.Club] = posted[v.Club] || v.Session == s.ID
	}
	var clubs []analysis.Club
	for club, n := range after {
		if posted[club] && timeline.Look(n) {
			clubs = append(clubs, club)
		}
	}
	if len(clubs) == 0 {
		return nil
	}
	_, err = rs.Timelines(ctx, s.Server, s.Student, Query{Numbers: []analysis.Number{number}, Clubs: clubs})
	return err
}

// notedAt is when somebody said that they had seen a number drift.
func notedAt(noted []store.Noted, n analysis.Number, club analysis.Club) (at []time.Time) {
	for _, d := range noted {
		if d.Number == n && d.Club == club {
			at = append(at, d.At)
		}
	}
	return at
}

// UpTo is the number a student works on with a club, over the sessions up to
// and including one, with days as a zone has them; ok is false if that session
// does not have it.
func (rs *Records) UpTo(ctx context.Context, s store.Session, club analysis.Club, zone *time.Location) (r timeline.Result, ok bool, err error) {
	all, err := rs.Timelines(ctx, s.Server, s.Student, Query{Clubs: []analysis.Club{club}, Until: s.At, Zone: zone})
	if err != nil || len(all) == 0 {
		return r, false, err
	}
	points := all[0].Points
	n := len(points)
	return all[0], n > 0 && points[n-1].Session == s.ID, nil
}

// UsualNumber is the number a timeline shows unless another is asked for: the
// one the coach's brief is about, else face-to-path, else what there is.
func (rs *Records) UsualNumber(ctx context.Context, server, student string) (analysis.Number, error) {
	brief, err := rs.ActiveBrief(ctx, server, student)
	if err != nil {
		return 0, err
	}
	if brief != nil {
		return brief.Number, nil
	}
	for _, n := range []analysis.Number{analysis.FaceToPath, analysis.Direction} {
		values, err := rs.db.Values(ctx, server, student, store.ValuesFilter{Number: n, MeansOnly: true})
		if err != nil || len(values) > 0 {
			return n, err
		}
	}
	return analysis.Lateral, nil
}

// LastLesson is when the last lesson that has been given was; the zero time
// without one.
func (rs *Records) LastLesson(ctx context.Context, server, student string) (time.Time, error) {
	lessons, err := rs.db.Lessons(ctx, server, student)
	for _, l := range slices.Backward(lessons) {
		if !l.At.After(rs.now()) {
			return l.At, err
		}
	}
	return time.Time{}, err
}

func (rs *Records) lessonsSince(ctx context.Context, server, student string, since time.Time) (marked []store.Lesson, lessons []analysis.Lesson, err error) {
	marked, err = rs.db.Lessons(ctx, server, student)
	marked = slices.DeleteFunc(marked, func(l store.Lesson) bool { return l.At.Before(since) })
	for _, l := range marked {
		lessons = append(lessons, l.Lesson)
	}
	return marked, lessons, err
}

// commonest is the club most sessions have; the one hit last among equals.
func commonest(values []analysis.SessionValues) analysis.Club {
	count := map[analysis.Club]int{}
	var most analysis.Club
	for _, v := range values {
		if count[v.Club]++; count[v.Club] >= count[most] {
			most = v.Club
		}
	}
	return most
}
