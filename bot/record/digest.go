package record

import (
	"context"
	"slices"
	"time"

	"rangepost/analysis/timeline"
	"rangepost/store"
)

// News is what changed for a coach since they were last told.
type News struct {
	Digest store.Digest
	At     time.Time            // the hour it is due for
	Since  time.Time            // the coach was told last, in their zone
	UpTo   time.Time            // it covers everything until then
	since  map[string]time.Time // of those who left

	Left     []store.Student // no longer among the coach's students
	Students []Changes       // those with whom something changed: carried over ones first, then by need
	Same     []Changes       // those with whom nothing did
}

// Telling is the message that tells a coach of the first so many of those who
// left, and of those with whom something changed: what is told of them, and that
// the rest is still to be told.
func (n News) Telling(text string, left, students int) store.Telling {
	t := store.Telling{Server: n.Digest.Server, Coach: n.Digest.Coach, UpTo: n.UpTo, Sum: store.SumOf(text)}
	for _, s := range n.Left[left:] {
		t.Students = append(t.Students, store.DigestStudent{Student: s.ID, Since: n.since[s.ID]})
	}
	for _, c := range n.Students[students:] {
		t.Students = append(t.Students, store.DigestStudent{Student: c.Student.ID, Since: c.Since, Drift: c.toldDrift})
	}
	for _, c := range slices.Concat(n.Students[:students], n.Same) {
		t.Told = append(t.Told, c.told...)
		t.Students = append(t.Students, store.DigestStudent{Student: c.Student.ID, Drift: c.drift})
	}
	return t
}

// Empty reports whether there is nothing to tell.
func (n News) Empty() bool { return len(n.Left) == 0 && len(n.Students) == 0 }

// Changes are what changed with one student.
type Changes struct {
	Line
	New       bool      // among the coach's students
	Earlier   []Brief   // replaced or ended, and not told of yet
	Corrected bool      // the line's brief stands otherwise than was told
	Since     time.Time // the coach was told of this student last
	Carried   bool      // what is told of was left out of the last message
	Found     []Finding // since then, the most pressing first

	told             []store.Told // how the briefs stood that this tells of
	drift, toldDrift string       // what drifts now, and what the coach was told drifts
}

func (c Changes) any() bool { return c.New || len(c.Earlier) > 0 || len(c.Found) > 0 }

// DueNews lists what coaches are to be told at a time: of every digest whose
// hour has come and was not kept yet. It changes nothing.
func (rs *Records) DueNews(ctx context.Context, now time.Time) (due []News, err error) {
	digests, err := rs.db.Digests(ctx)
	if err != nil {
		return nil, err
	}
	for _, d := range digests {
		at := Scheduled(d.Weekday, d.Hour, now.In(Zone(d.TimeZone)))
		if !at.After(d.UpTo) || !d.Refused.Before(at) {
			continue
		}
		news, err := rs.news(ctx, d, now)
		if err != nil {
			return nil, err
		}
		news.At = at
		due = append(due, news)
	}
	return due, nil
}

// Scheduled is the last time at or before now that a weekday's hour came, in
// now's own zone. On the day a clock skips the hour it is the one after.
func Scheduled(weekday time.Weekday, hour int, now time.Time) time.Time {
	y, m, d := now.Date()
	back := int(now.Weekday()-weekday+7) % 7
	t := time.Date(y, m, d-back, hour, 0, 0, 0, now.Location())
	if t.After(now) {
		t = time.Date(y, m, d-back-7, hour, 0, 0, 0, now.Location())
	}
	return t
}

func (rs *Records) news(ctx context.Context, d store.Digest, now time.Time) (News, error) {
	zone, err := rs.Zone(ctx, d.Server, d.Coach)
	if err != nil {
		return News{}, err
	}
	news := News{Digest: d, Since: d.UpTo.In(zone), UpTo: now}
	lines, err := rs.Roster(ctx, d.Server, d.Coach)
	if err != nil {
		return news, err
	}
	known, err := rs.db.DigestStudents(ctx, d.Server, d.Coach)
	if err != nil {
		return news, err
	}
	sinceOf := func(student string) (since time.Time, carried bool) {
		if since = known[student].Since; since.IsZero() {
			return d.UpTo, false
		}
		return since, true
	}
	for _, l := range lines {
		since, carried := sinceOf(l.Student.ID)
		c, err := rs.changes(ctx, l, since, known[l.Student.ID].Drift)
		if err != nil {
			return news, err
		}
		c.Carried = carried
		if c.any() {
			news.Students = append(news.Students, c)
		} else {
			news.Same = append(news.Same, c)
		}
		delete(known, l.Student.ID)
	}
	// What waits longest comes first, or it might never.
	slices.SortStableFunc(news.Students, func(x, y Changes) int {
		switch {
		case x.Carried && y.Carried:
			return x.Since.Compare(y.Since)
		case x.Carried:
			return -1
		case y.Carried:
			return 1
		}
		return 0
	})
	return news, rs.left(ctx, &news, sinceOf, known)
}

// left adds who is no longer among the coach's students: since the last
// message, and of those who were left out of that.
func (rs *Records) left(ctx context.Context, news *News, sinceOf func(string) (time.Time, bool), gone map[string]store.DigestStudent) error {
	d := news.Digest
	earliest := d.UpTo
	for _, g := range gone {
		if since, carried := sinceOf(g.Student); carried && since.Before(earliest) {
			earliest = since
		}
	}
	ids, err := rs.db.Left(ctx, d.Server, d.Coach, d.UpTo)
	if err != nil {
		return err
	}
	if earliest.Before(d.UpTo) {
		before, err := rs.db.Left(ctx, d.Server, d.Coach, earliest)
		if err != nil {
			return err
		}
		for _, id := range before {
			if _, carried := sinceOf(id); carried && !slices.Contains(ids, id) {
				ids = append(ids, id)
			}
		}
	}
	news.since = map[string]time.Time{}
	for _, id := range ids {
		student, err := rs.db.Student(ctx, d.Server, id)
		if err != nil {
			return err
		}
		news.Left = append(news.Left, student)
		news.since[id], _ = sinceOf(id)
	}
	return nil
}

// changes is what changed with one student since a time, for a coach who was
// told what drifts.
func (rs *Records) changes(ctx context.Context, l Line, since time.Time, toldDrift string) (c Changes, err error) {
	c = Changes{Line: l, New: l.Binding.Given.After(since), Since: since, toldDrift: toldDrift}
	replaced, err := rs.db.Untold(ctx, l.Binding.Server, l.Student.ID, l.Binding.Coach, since)
	if err != nil {
		return c, err
	}
	for _, b := range replaced {
		done, err := rs.db.Progress(ctx, b)
		if err != nil {
			return c, err
		}
		stood := standing(b, done, b.Ended)
		if err := rs.settle(ctx, &stood); err != nil {
			return c, err
		}
		if stood.Standing != timeline.Running {
			c.Earlier = append(c.Earlier, stood)
			c.told = append(c.told, store.Told{Brief: b.ID, Standing: string(stood.Standing)})
		}
	}
	tellBrief := l.Brief != nil && l.Told != string(l.Brief.Standing) && l.Brief.Standing != timeline.Running
	if tellBrief {
		c.Corrected = l.Told != ""
		c.told = append(c.told, store.Told{Brief: l.Brief.ID, Standing: string(l.Brief.Standing)})
	}
	// A drift began with a session and shows with a later one, posted whenever: it
	// is told if it was not told, and told again only once it was over.
	if l.drifting() {
		c.drift = l.Followed.Number.Info().Key + " " + l.Followed.Club.Key()
	}
	_, wasSilent := l.SilentAt(since)
	for _, f := range l.Findings {
		switch f.Kind {
		case BriefMissed, BriefOver:
			if !tellBrief {
				continue
			}
		case Drifting:
			if c.drift == toldDrift {
				continue
			}
		case SilentSinceLesson, NeverPosted, Silent:
			if wasSilent {
				continue
			}
		case PlanSettled:
			if !f.At.After(since) {
				continue
			}
		case PlanStuck:
			if !f.At.Add(silentAfterLesson).After(since) { // it was by then
				continue
			}
		case TallyAgainst:
			if !f.Tally.Counted.After(since) {
				continue
			}
		default: // of posts, of which others count here
			continue
		}
		c.Found = append(c.Found, f)
	}
	posted, err := rs.postedSince(ctx, l.Binding, since)
	if err != nil || len(posted) == 0 {
		return c, err
	}
	line, err := rs.withRecent(ctx, l)
	if err != nil {
		return c, err
	}
	oldest := posted[0].Posted
	for _, s := range posted {
		oldest = earlier(oldest, s.Posted)
	}
	if l.Unread == 0 { // else the roster has it
		if err := rs.teach(ctx, &line, oldest.Location()); err != nil {
			return c, err
		}
	}
	if f, ok := line.lessonTold(func(g store.Gisted) bool { return g.Posted.After(since) }); ok {
		c.Found = append(c.Found, f)
	}
	c.Found = pressing(append(c.Found, line.posted(func(g store.Gisted) bool { return g.Posted.After(since) }, len(posted), oldest)...))
	return c, nil
}

func earlier(a, b time.Time) time.Time {
	if b.Before(a) {
		return b
	}
	return a
}

// mostSince is how many of a student's latest sessions are told of one by one.
const mostSince = 12

// withRecent is a line with its latest sessions, whether or not any waits to be
// looked at.
func (rs *Records) withRecent(ctx context.Context, l Line) (Line, error) {
	recent, err := rs.db.Recent(ctx, l.Binding, mostSince)
	if err != nil {
		return l, err
	}
	stale := mostStale
	if err := rs.gists(ctx, recent, &stale); err != nil {
		return l, err
	}
	zone, err := rs.Zone(ctx, l.Binding.Server, l.Binding.Coach)
	for i := range recent {
		recent[i].At, recent[i].Posted = recent[i].At.In(zone), recent[i].Posted.In(zone)
	}
	l.Recent = recent
	return l, err
}

// postedSince is what a student posted after a time, the latest first.
func (rs *Records) postedSince(ctx context.Context, b store.Binding, since time.Time) ([]store.SessionInfo, error) {
	return rs.db.Sessions(ctx, b.Server, b.Student, store.SessionFilter{PostedSince: since.Add(time.Millisecond)})
}
