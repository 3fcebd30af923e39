package record

import (
	"cmp"
	"context"
	"errors"
	"math"
	"slices"
	"time"

	"rangepost/analysis"
	"rangepost/analysis/cause"
	"rangepost/analysis/tally"
	"rangepost/analysis/timeline"
	"rangepost/analysis/trial"
	"rangepost/bot/report"
	"rangepost/store"
)

// A Finding is one thing about a student that a coach has to know: what it is,
// in figures, and when it came about. Roster, digest, catch-up and review are
// made of findings, the most pressing first. Which of the figures there are
// goes by its kind.
type Finding struct {
	Kind    FindingKind
	Student string
	At      time.Time // when it came about, as far as known
	Session string    // that it was found in, "" if in none

	Brief  *Brief          // BriefMissed, BriefOver
	Silent time.Duration   // SilentSinceLesson and Silent: for how long
	Series timeline.Result // Drifting, LessonTold
	Plan   *store.Plan     // PlanStuck, PlanSettled
	Begun  bool            // PlanStuck: balls were hit for it
	Tally  *store.Tally    // TallyAgainst: what was counted,
	Starts []float64       // and what was measured (rad, right of target is positive)

	// Of a post: what it was found to say, nil when nothing; in how many sessions in
	// a row, this one among them, the same was found; and what was found in the
	// one before, where that was something else.
	Gist   *analysis.Gist
	Again  int
	Before *analysis.SetGist

	// ToLookAt: how many posts, and when the oldest of them was posted.
	Posts  int
	Oldest time.Time
}

// FindingKind is what was found.
type FindingKind string

// The kinds, the most pressing first.
const (
	BriefMissed       FindingKind = "brief missed"
	SilentSinceLesson FindingKind = "silent since the lesson"
	NeverPosted       FindingKind = "never posted"
	Silent            FindingKind = "silent"
	Drifting          FindingKind = "drifting"
	PlanStuck         FindingKind = "plan stuck"
	TallyAgainst      FindingKind = "tally against measured"
	PlanSettled       FindingKind = "plan settled"
	TrialFound        FindingKind = "trial"
	LessonTold        FindingKind = "lesson"     // what it changed was found
	BriefOver         FindingKind = "brief over" // time for another one
	SameAgain         FindingKind = "same again" // found often enough in a row to try something else
	FileWaits         FindingKind = "file waits" // for an answer
	ToLookAt          FindingKind = "to look at"
)

// weights are how much each finding weighs: each more than all below it, so that
// no ordinary post outranks somebody who is lost. Of the three kinds of silence
// a student has one. A drift weighs by how far it went, up to eight times this
// (see Weight): among many students some number always wanders a little too far.
var weights = map[FindingKind]int{
	BriefMissed: 16384, SilentSinceLesson: 8192, NeverPosted: 8192, Silent: 8192, Drifting: 512, PlanStuck: 256, TallyAgainst: 128, PlanSettled: 64, TrialFound: 32,
	LessonTold: 16, BriefOver: 8, SameAgain: 4, FileWaits: 2, ToLookAt: 1,
}

// Weight is how pressing a finding is. Half of what a golfer would care about
// more is as much more of a drift as everything ordinary together; one that has
// all but come back weighs half.
func (f Finding) Weight() int {
	if f.Kind != Drifting {
		return weights[f.Kind]
	}
	return int(float64(weights[f.Kind]) * max(0.5, min(8, 2*strayed(f.Series)-1)))
}

// strayed is how far a level that drifts has gone, in practical zeros of its
// number: under 1 no golfer would care. 0 without a chart, or where the number
// has none.
func strayed(r timeline.Result) float64 {
	d := r.Drift
	if len(d.EWMA) == 0 {
		return 0
	}
	zero := trial.PracticalZero(r.Number, d.Target, 0)
	if zero <= 0 {
		return 0
	}
	return math.Abs(d.EWMA[len(d.EWMA)-1]-d.Target) / zero
}

// pressing puts findings in order: the most pressing first, among equals the
// latest.
func pressing(found []Finding) []Finding {
	slices.SortStableFunc(found, func(x, y Finding) int {
		return cmp.Or(y.Weight()-x.Weight(), y.At.Compare(x.At))
	})
	return found
}

// How long a coach waits before asking what is the matter, and how often the
// same is found before something else is tried (common practice, no source).
const (
	silentAfterLesson = 7 * 24 * time.Hour  // without a post since the lesson
	silentAtAll       = 14 * 24 * time.Hour // without any post
	tallyStands       = 28 * 24 * time.Hour // what was counted by eye is of then
	planNews          = 14 * 24 * time.Hour // a plan that was settled is news
	oftenAgain        = 3
)

// findings are what was found about a student at a time, the most pressing
// first.
func (l Line) findings(now time.Time) (found []Finding) {
	id := l.Student.ID
	if b := l.Brief; b != nil && b.Standing != timeline.Running {
		kind := BriefOver
		if b.Standing == timeline.Missed {
			kind = BriefMissed
		}
		found = append(found, Finding{Kind: kind, Student: id, At: b.Last, Brief: b})
	}
	if silence, silent := l.SilentAt(now); silent {
		found = append(found, silence)
	}
	if l.drifting() {
		found = append(found, Finding{Kind: Drifting, Student: id, At: l.Followed.Points[l.Followed.Drift.Out].At, Series: l.Followed})
	}
	if f, ok := l.planned(now); ok {
		found = append(found, f)
	}
	if t := l.Tally; t != nil && now.Sub(t.At) < tallyStands && tally.Of(t.Flights).Against(l.Starts) {
		found = append(found, Finding{Kind: TallyAgainst, Student: id, At: t.At, Tally: t, Starts: l.Starts})
	}
	unread := func(g store.Gisted) bool { return g.Unread }
	if f, ok := l.lessonTold(unread); ok {
		found = append(found, f)
	}
	return pressing(append(found, l.posted(unread, l.Unread, l.Oldest)...))
}

// planned is what there is to say of the plan set last: that nothing was hit for it
// for a while, or that it was settled of late.
func (l Line) planned(now time.Time) (f Finding, ok bool) {
	p := l.Plan
	if p == nil {
		return f, false
	}
	f = Finding{Student: l.Student.ID, Plan: p, Begun: !l.Hit.IsZero()}
	switch since := later(p.At, l.Hit); {
	case !p.Settled.IsZero() && now.Sub(p.Settled) < planNews:
		f.Kind, f.At = PlanSettled, p.Settled
	case p.Ended.IsZero() && now.Sub(since) >= silentAfterLesson:
		f.Kind, f.At = PlanStuck, since
	default:
		return f, false
	}
	return f, true
}

func later(a, b time.Time) time.Time {
	if b.After(a) {
		return b
	}
	return a
}

// lessonTold is what the last lesson changed, if one of the new ones among a
// line's latest sessions is the one that told.
func (l Line) lessonTold(isNew func(store.Gisted) bool) (f Finding, ok bool) {
	e := l.Judged.Effect
	if e.Change != timeline.Changed {
		return f, false
	}
	i := slices.IndexFunc(l.Recent, func(g store.Gisted) bool { return g.At.Equal(e.FoundAt) && isNew(g) })
	if i < 0 {
		return f, false
	}
	return Finding{Kind: LessonTold, Student: l.Student.ID, At: e.FoundAt, Session: l.Recent[i].ID, Series: l.Judged}, true
}

// teach adds what a line's lessons changed in the followed number, where one of
// its latest sessions may be the one that told: over all students it would cost
// too much.
func (rs *Records) teach(ctx context.Context, l *Line, zone *time.Location) error {
	if l.Lesson == nil || len(l.Recent) == 0 {
		return nil
	}
	since, may := 0, false
	for _, p := range l.Followed.Points {
		if p.At.Before(l.Lesson.At) {
			continue
		}
		since++
		may = may || timeline.Look(since) && slices.ContainsFunc(l.Recent, func(g store.Gisted) bool { return g.ID == p.Session })
	}
	if !may {
		return nil
	}
	all, err := rs.Timelines(ctx, l.Binding.Server, l.Binding.Student, Query{
		Numbers: []analysis.Number{l.Number}, Clubs: []analysis.Club{l.Followed.Club}, Zone: zone,
	})
	if len(all) > 0 {
		l.Judged = all[0]
	}
	return err
}

// posted are the findings of the new ones among a line's latest sessions: the
// trial that tells most, a file that waits, what was found again and again, and
// how many posts there are, with what the latest says.
func (l Line) posted(isNew func(store.Gisted) bool, posts int, oldest time.Time) (found []Finding) {
	if posts == 0 {
		return nil
	}
	all := Found(l.Recent, isNew)
	if i := telling(all); i >= 0 {
		found = append(found, all[i])
	}
	if i := slices.IndexFunc(all, func(f Finding) bool { return f.Kind == FileWaits }); i >= 0 {
		found = append(found, all[i])
	}
	last := Finding{Kind: ToLookAt, Student: l.Student.ID}
	if len(all) > 0 {
		if last = all[0]; last.Kind == SameAgain {
			found = append(found, last)
		}
		last.Kind = ToLookAt
	}
	last.Posts, last.Oldest = posts, oldest
	return append(found, last)
}

// telling is the latest trial that moved something, else the latest; -1 without
// one.
func telling(all []Finding) int {
	latest := -1
	for i, f := range all {
		if f.Kind != TrialFound {
			continue
		}
		if slices.ContainsFunc(f.Gist.Trial.Sets, func(s analysis.TrialSetGist) bool { return len(s.Moved) > 0 }) {
			return i
		}
		if latest < 0 {
			latest = i
		}
	}
	return latest
}

// Found says of each of the new ones among some sessions of a student, the
// latest first, what was found in it.
func Found(recent []store.Gisted, isNew func(store.Gisted) bool) (found []Finding) {
	for i, s := range recent {
		if !isNew(s) {
			continue
		}
		f := Finding{Kind: ToLookAt, Student: s.Student, At: s.At, Session: s.ID, Gist: s.Gist, Posts: 1, Oldest: s.Posted}
		switch {
		case s.Open > 0:
			f.Kind = FileWaits
		case s.Gist == nil:
		default:
			f.Again, f.Before = again(s.Gist.Set, recent[i+1:])
			if s.Gist.Trial != nil {
				f.Kind = TrialFound
			} else if f.Again >= oftenAgain && cause.Verdict(s.Gist.Set.Verdict) != cause.Centred {
				f.Kind = SameAgain
			}
		}
		found = append(found, f)
	}
	return found
}

// again counts in how many sessions in a row, the latest among them, the same
// was found with the same club. before is what the one before it said, if that
// was something else.
func again(latest analysis.SetGist, earlier []store.Gisted) (times int, before *analysis.SetGist) {
	times = 1
	for _, s := range earlier {
		if s.Gist == nil || s.Gist.Set.Club != latest.Club {
			continue
		}
		if !same(latest, s.Gist.Set) {
			if times == 1 {
				before = &s.Gist.Set
			}
			break
		}
		times++
	}
	return times, before
}

// same reports whether two sets say the same: the same verdict, on the same
// side. What cannot be told is never the same.
func same(a, b analysis.SetGist) bool {
	switch cause.Verdict(a.Verdict) {
	case cause.TooFew, cause.Unmeasured:
		return false
	case cause.Centred:
		return b.Verdict == a.Verdict && a.Wide == b.Wide
	}
	return a.Verdict == b.Verdict && a.Miss.Mean*b.Miss.Mean > 0
}

// readable is the answer to a session, the zero answer where its file cannot be
// read any more: a roster of thirty is not to fail for one.
func (rs *Records) readable(ctx context.Context, s store.SessionInfo) (answer report.Report, err error) {
	_, answer, err = rs.Reading(ctx, s.Server, s.ID)
	var refusal *analysis.Refusal
	if errors.As(err, &refusal) {
		rs.log.WarnContext(ctx, "a kept session could not be read again", "session", s.ID, "err", err)
		return report.Report{}, nil
	}
	return answer, err
}

// mostStale is how many sessions that were read before gists were kept are read
// again for one answer: all of a day's posts, and not a whole history.
const mostStale = 24

// gists sees to it that sessions which wait to be looked at have their gists.
func (rs *Records) gists(ctx context.Context, all []store.Gisted, left *int) error {
	for i := range all {
		s := &all[i]
		if !s.Stale || !s.Unread || *left == 0 {
			continue
		}
		*left--
		answer, err := rs.readable(ctx, s.SessionInfo)
		if err != nil {
			return err
		}
		s.Gist, s.Stale = answer.Gist(), false
		if err := rs.db.KeepGist(ctx, s.ID, s.Gist); err != nil {
			return err
		}
	}
	return nil
}
