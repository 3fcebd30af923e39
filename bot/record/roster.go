package record

import (
	"context"
	"slices"
	"time"

	"rangepost/analysis"
	"rangepost/analysis/tally"
	"rangepost/analysis/timeline"
	"rangepost/store"
)

// A Line is one of a coach's students with what needs the coach.
type Line struct {
	store.RosterLine
	Golfer   Golfer
	Brief    *Brief          // the last one unless it was ended, nil without one
	Followed timeline.Result // the brief's number, or face-to-path: its points and its drift
	Needs    []Need          // the most pressing first
}

// A Need is something that needs a coach.
type Need struct {
	Kind   NeedKind
	Silent time.Duration // of SilentSinceLesson and Silent: for how long
	Far    float64       // of Drifting: how far out the level is, in widths of what it may wander
}

// NeedKind is what needs a coach.
type NeedKind string

// The needs, the most pressing first.
const (
	BriefMissed       NeedKind = "brief missed"
	SilentSinceLesson NeedKind = "silent since the lesson"
	NeverPosted       NeedKind = "never posted"
	Silent            NeedKind = "silent"
	Drifting          NeedKind = "drifting"
	TallyAgainst      NeedKind = "tally against measured"
	BriefOver         NeedKind = "brief over" // time for another one
	ToLookAt          NeedKind = "to look at"
)

// weights are how much each need weighs: each more than all below it, so that
// no ordinary post outranks somebody who is lost. Of the three kinds of silence
// a student has one. A drift weighs by how far it went, from half of this to
// twice: among many students some number always wanders a little too far, and
// some have all but come back.
var weights = map[NeedKind]int{
	BriefMissed: 64, SilentSinceLesson: 32, NeverPosted: 32, Silent: 32, Drifting: 8, TallyAgainst: 4, BriefOver: 2, ToLookAt: 1,
}

// How long a coach waits before asking what is the matter (common practice, no
// source).
const (
	silentAfterLesson = 7 * 24 * time.Hour  // without a post since the lesson
	silentAtAll       = 14 * 24 * time.Hour // without any post
	tallyStands       = 28 * 24 * time.Hour // what was counted by eye is of then
)

// Roster is every student of a coach, those first who need the coach most: a
// brief that was missed, silence, a number that drifts, eyes that see other
// balls than are measured, a brief that is over, posts not looked at. Among
// equals the one waiting longest is first.
func (rs *Records) Roster(ctx context.Context, server, coach string) ([]Line, error) {
	roster, err := rs.db.Roster(ctx, server, coach)
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
	for i, l := range roster {
		lines[i] = newLine(l, house, zone, now)
		if b := lines[i].Brief; b != nil {
			if err := rs.settle(ctx, b); err != nil {
				return nil, err
			}
			lines[i].Needs = lines[i].needs(now)
		}
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
	for i := range l.Values {
		l.Values[i].At = l.Values[i].At.In(zone)
	}
	line := Line{RosterLine: l, Golfer: Golfer{l.Student, l.Student.Units.Or(house.Units)}, Followed: follow(l)}
	if l.Brief != nil {
		stood := standing(in(zone, *l.Brief), l.Progress, now)
		line.Brief = &stood
	}
	line.Needs = line.needs(now)
	return line
}

// Weight is how much a student needs the coach, 0 not at all.
func (l Line) Weight() (sum int) {
	for _, n := range l.Needs {
		weighs := 1.0
		if n.Kind == Drifting {
			weighs = max(0.5, min(2, n.Far))
		}
		sum += int(float64(weights[n.Kind]) * weighs)
	}
	return sum
}

func (l Line) needs(now time.Time) (needs []Need) {
	need := func(is bool, n Need) {
		if is {
			needs = append(needs, n)
		}
	}
	missed := l.Brief != nil && l.Brief.Standing == timeline.Missed
	need(missed, Need{Kind: BriefMissed})
	silence, silent := l.SilentAt(now)
	need(silent, silence)
	need(l.drifting(), Need{Kind: Drifting, Far: l.Followed.Drift.Far()})
	need(l.Tally != nil && now.Sub(l.Tally.At) < tallyStands && tally.Of(l.Tally.Flights).Against(l.Starts), Need{Kind: TallyAgainst})
	need(!missed && l.Brief != nil && l.Brief.Standing != timeline.Running, Need{Kind: BriefOver})
	need(l.Unread > 0, Need{Kind: ToLookAt})
	return needs
}

// drifting reports whether the followed number drifts.
func (l Line) drifting() bool { return l.Followed.Drift.OK && l.Followed.Drift.Out >= 0 }

// SilentAt is what there is to say at a time when nothing comes any more; ok is
// false while there is nothing to say.
func (l Line) SilentAt(now time.Time) (n Need, ok bool) {
	switch last, lesson := l.Last, l.Lesson; {
	case lesson != nil && (last == nil || last.Posted.Before(lesson.At)) && now.Sub(lesson.At) >= silentAfterLesson:
		return Need{Kind: SilentSinceLesson, Silent: now.Sub(lesson.At)}, true
	case last == nil && now.Sub(l.Binding.Given) >= silentAfterLesson:
		return Need{Kind: NeverPosted}, true
	case last != nil && now.Sub(last.Posted) >= silentAtAll:
		return Need{Kind: Silent, Silent: now.Sub(last.Posted)}, true
	}
	return Need{}, false
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
