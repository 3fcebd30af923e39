package record

import (
	"context"
	"slices"
	"time"

	"rangepost/analysis"
	"rangepost/analysis/timeline"
	"rangepost/store"
)

// A Line is one of a coach's students with what was found about them.
type Line struct {
	store.RosterLine
	Golfer   Golfer
	Brief    *Brief          // the last one unless it was ended, nil without one
	Followed timeline.Result // the brief's number, or face-to-path: its points and its drift
	Judged   timeline.Result // that number with what lessons changed; the zero result where no late session may be the one that told
	Findings []Finding       // the most pressing first
}

// Roster is every student of a coach, or some of them, those first who need the
// coach most, by what was found. Among equals the one waiting longest is first.
func (rs *Records) Roster(ctx context.Context, server, coach string, students ...string) ([]Line, error) {
	roster, err := rs.db.Roster(ctx, server, coach, students...)
	if err != nil {
		return nil, err
	}
	house, err := rs.db.Clubhouse(ctx, server)
	if err != nil {
		return nil, err
	}
	zone, err := rs.Zone(ctx, server, coach)
	if err != nil {
		return nil, err
	}
	now := rs.now()
	lines := make([]Line, len(roster))
	stale := mostStale
	for i, l := range roster {
		if err := rs.gists(ctx, l.Recent, &stale); err != nil {
			return nil, err
		}
		lines[i] = newLine(l, house, zone, now)
		if b := lines[i].Brief; b != nil {
			if err := rs.settle(ctx, b); err != nil {
				return nil, err
			}
		}
		if err := rs.teach(ctx, &lines[i], zone); err != nil {
			return nil, err
		}
		lines[i].Findings = lines[i].findings(now)
	}
	slices.SortStableFunc(lines, func(x, y Line) int {
		if d := y.Weight() - x.Weight(); d != 0 {
			return d
		}
		return x.heard().Compare(y.heard())
	})
	return lines, nil
}

// newLine is a line with its times in the zone of the coach.
func newLine(l store.RosterLine, house store.Clubhouse, zone *time.Location, now time.Time) Line {
	if l.Last != nil {
		l.Last.Posted = l.Last.Posted.In(zone)
	}
	l.Oldest = l.Oldest.In(zone)
	l.Hit = l.Hit.In(zone)
	if p := l.Plan; p != nil {
		p.At, p.Settled = p.At.In(zone), p.Settled.In(zone)
	}
	for i := range l.Recent {
		l.Recent[i].At, l.Recent[i].Posted = l.Recent[i].At.In(zone), l.Recent[i].Posted.In(zone)
	}
	for i := range l.Values {
		l.Values[i].At = l.Values[i].At.In(zone)
	}
	line := Line{RosterLine: l, Golfer: Golfer{l.Student, l.Student.Units.Or(house.Units)}, Followed: follow(l)}
	if l.Brief != nil {
		stood := standing(in(zone, *l.Brief), l.Progress, now)
		line.Brief = &stood
	}
	return line
}

// Weight is how much a student needs the coach, 0 not at all.
func (l Line) Weight() (sum int) {
	for _, f := range l.Findings {
		sum += f.Weight()
	}
	return sum
}

// drifting reports whether the followed number drifts, by as much as a golfer
// would care about.
func (l Line) drifting() bool {
	d := l.Followed.Drift
	return d.OK && d.Out >= 0 && d.Out < len(l.Followed.Points) && strayed(l.Followed) >= 1
}

// SilentAt is what there is to say at a time when nothing comes any more; ok is
// false while there is nothing to say.
func (l Line) SilentAt(now time.Time) (f Finding, ok bool) {
	f.Student = l.Student.ID
	switch last, lesson := l.Last, l.Lesson; {
	case lesson != nil && (last == nil || last.Posted.Before(lesson.At)) && now.Sub(lesson.At) >= silentAfterLesson:
		f.Kind, f.At, f.Silent = SilentSinceLesson, lesson.At, now.Sub(lesson.At)
	case last == nil && now.Sub(l.Binding.Given) >= silentAfterLesson:
		f.Kind, f.At = NeverPosted, l.Binding.Given
	case last != nil && now.Sub(last.Posted) >= silentAtAll:
		f.Kind, f.At, f.Silent = Silent, last.Posted, now.Sub(last.Posted)
	default:
		return f, false
	}
	return f, true
}

// heard is when the student was last heard of.
func (l Line) heard() time.Time {
	if l.Last != nil {
		return l.Last.Posted
	}
	return l.Binding.Given
}

// follow watches a roster line's number with the club most of its sessions
// have for drift.
func follow(l store.RosterLine) timeline.Result {
	club := commonest(l.Values)
	var sessions []analysis.SessionValues
	for _, v := range l.Values {
		if v.Club == club {
			sessions = append(sessions, v)
		}
	}
	var lessons []analysis.Lesson
	for _, marked := range l.Lessons {
		lessons = append(lessons, marked.Lesson)
	}
	return timeline.Drifting(l.Number, club, sessions, lessons, notedAt(l.Noted, l.Number, club)...)
}
