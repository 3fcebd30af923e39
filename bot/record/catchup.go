package record

import (
	"context"
	"time"

	"rangepost/analysis/timeline"
	"rangepost/bot/report"
	"rangepost/store"
)

// A CatchUp is what happened with a student since their coach last looked, with
// times in the zone of the coach.
type CatchUp struct {
	Golfer       Golfer
	Since, Until time.Time
	Posts, Balls int
	Latest       []Read // of those posts, the oldest first
	Lesson       *store.Lesson
	Brief        *Brief
	Number       timeline.Result // the one they work on, over all sessions; without a point if there is none
}

// A Read is a session with the whole answer to it.
type Read struct {
	store.Session
	Report report.Report
}

// CatchUp is what happened with a student since their coach last looked, with
// at most so many of the latest posts.
func (rs *Records) CatchUp(ctx context.Context, b store.Binding, most int) (c CatchUp, err error) {
	c.Until = rs.now()
	if c.Since, err = rs.lastLooked(ctx, b); err != nil {
		return c, err
	}
	if c.Golfer, err = rs.Golfer(ctx, b.Server, b.Student); err != nil {
		return c, err
	}
	posted, err := rs.postedSince(ctx, b, c.Since)
	if err != nil {
		return c, err
	}
	c.Posts = len(posted)
	for _, s := range posted {
		c.Balls += s.Balls
	}
	for i := min(most, len(posted)) - 1; i >= 0; i-- {
		s, answer, err := rs.Reading(ctx, b.Server, posted[i].ID)
		if err != nil {
			return c, err
		}
		c.Latest = append(c.Latest, Read{s, answer})
	}
	lessons, err := rs.db.Lessons(ctx, b.Server, b.Student)
	if err != nil {
		return c, err
	}
	if n := len(lessons); n > 0 && lessons[n-1].At.After(c.Since) {
		c.Lesson = &lessons[n-1]
	}
	if c.Brief, err = rs.LastBrief(ctx, b.Server, b.Student); err != nil {
		return c, err
	}
	zone, err := rs.Zone(ctx, b.Server, b.Coach)
	if err != nil {
		return c, err
	}
	c.Since, c.Until = c.Since.In(zone), c.Until.In(zone)
	for i := range c.Latest {
		c.Latest[i].At = c.Latest[i].At.In(zone)
	}
	if c.Lesson != nil {
		c.Lesson.At = c.Lesson.At.In(zone)
	}
	all, err := rs.Timelines(ctx, b.Server, b.Student, Query{Zone: zone})
	if len(all) > 0 {
		c.Number = all[0]
	}
	return c, err
}

// Caught marks everything of a student until a time as seen by their coach. A
// drift that was told by then, of the number a catch-up shows, is noted.
func (rs *Records) Caught(ctx context.Context, b store.Binding, until time.Time) error {
	if err := rs.db.CaughtUp(ctx, b, until); err != nil {
		return err
	}
	all, err := rs.Timelines(ctx, b.Server, b.Student, Query{Until: until})
	if err != nil || len(all) == 0 || all[0].Drift.Out < 0 {
		return err
	}
	return rs.db.Note(ctx, store.Noted{Server: b.Server, Student: b.Student, Coach: b.Coach, Number: all[0].Number, Club: all[0].Club, At: until})
}

// lastLooked is until when a coach has seen everything of a student: since they
// last caught up, or looked at a post with none before it left over.
func (rs *Records) lastLooked(ctx context.Context, b store.Binding) (time.Time, error) {
	caught, err := rs.db.LastLook(ctx, b.Server, b.Coach, b.Thread)
	if err != nil {
		return caught, err
	}
	looked, err := rs.db.LastLooked(ctx, b.Server, b.Coach, b.Student)
	if err != nil {
		return caught, err
	}
	unread, _, err := rs.db.Unread(ctx, b.Server, b.Coach, store.UnreadFilter{Student: b.Student})
	if err != nil {
		return caught, err
	}
	if unread != nil && !looked.Before(unread.Posted) {
		looked = unread.Posted.Add(-time.Millisecond)
	}
	for _, t := range []time.Time{looked, b.Given} {
		if t.After(caught) {
			caught = t
		}
	}
	return caught, nil
}
