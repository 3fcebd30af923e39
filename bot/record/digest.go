package record

import (
	"context"
	"time"

	"rangepost/analysis/timeline"
	"rangepost/store"
)

// News is what changed for a coach since they were last told.
type News struct {
	Digest store.Digest
	At     time.Time // the hour it is due for
	Since  time.Time // the coach was told last, in their zone
	UpTo   time.Time // it covers everything until then

	Left     []store.Student // no longer among the coach's students
	Students []Changes       // those with whom something changed, by need
	Same     int             // how many with whom nothing did
	Told     []store.Told    // how the briefs stood that it tells of
}

// Empty reports whether there is nothing to tell.
func (n News) Empty() bool { return len(n.Left) == 0 && len(n.Students) == 0 }

// Changes are what changed with one student.
type Changes struct {
	Line
	New          bool    // among the coach's students
	Earlier      []Brief // replaced or ended, and not told of yet
	Ended        bool    // the line's brief is over, and that was not told yet
	Drifted      bool    // the followed number began to drift
	Posts, Balls int
	Silence      *Need // that began; nil if none did
}

func (c Changes) any() bool {
	return c.New || len(c.Earlier) > 0 || c.Ended || c.Drifted || c.Posts > 0 || c.Silence != nil
}

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
	for _, l := range lines {
		c, told, err := rs.changes(ctx, l, d.UpTo)
		if err != nil {
			return news, err
		}
		if c.any() {
			news.Students = append(news.Students, c)
		} else {
			news.Same++
		}
		news.Told = append(news.Told, told...)
	}
	ids, err := rs.db.Left(ctx, d.Server, d.Coach, d.UpTo)
	if err != nil {
		return news, err
	}
	for _, id := range ids {
		student, err := rs.db.Student(ctx, d.Server, id)
		if err != nil {
			return news, err
		}
		news.Left = append(news.Left, student)
	}
	return news, nil
}

// changes is what changed with one student since a time, and how the briefs
// stood that it tells of.
func (rs *Records) changes(ctx context.Context, l Line, since time.Time) (c Changes, told []store.Told, err error) {
	c = Changes{Line: l, New: l.Binding.Given.After(since)}
	replaced, err := rs.db.Untold(ctx, l.Binding.Server, l.Student.ID, l.Binding.Coach, since)
	if err != nil {
		return c, nil, err
	}
	for _, b := range replaced {
		done, err := rs.db.Progress(ctx, b)
		if err != nil {
			return c, nil, err
		}
		if stood := standing(b, done, b.Ended); stood.Standing != timeline.Running {
			c.Earlier = append(c.Earlier, stood)
			told = append(told, store.Told{Brief: b.ID, Standing: string(stood.Standing)})
		}
	}
	if l.Brief != nil && l.Told == "" && l.Brief.Standing != timeline.Running {
		c.Ended = true
		told = append(told, store.Told{Brief: l.Brief.ID, Standing: string(l.Brief.Standing)})
	}
	out := l.Followed.Drift.Out
	c.Drifted = l.Followed.Drift.OK && out >= 0 && l.Followed.Points[out].At.After(since)
	posted, err := rs.postedSince(ctx, l.Binding, since)
	if err != nil {
		return c, nil, err
	}
	c.Posts = len(posted)
	for _, s := range posted {
		c.Balls += s.Balls
	}
	if silence, silent := l.SilentAt(rs.now()); silent {
		if _, before := l.SilentAt(since); !before {
			c.Silence = &silence
		}
	}
	return c, told, nil
}

// postedSince is what a student posted after a time, the latest first.
func (rs *Records) postedSince(ctx context.Context, b store.Binding, since time.Time) ([]store.SessionInfo, error) {
	return rs.db.Sessions(ctx, b.Server, b.Student, store.SessionFilter{PostedSince: since.Add(time.Millisecond)})
}
