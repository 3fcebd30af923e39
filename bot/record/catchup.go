package record

import (
	"context"
	"time"

	"rangepost/analysis/timeline"
	"rangepost/store"
)

// A CatchUp is what happened with a student since their coach last looked, with
// times in the zone of the coach.
type CatchUp struct {
	Line
	Since, Until time.Time
	Posts, Balls int
	Posted       []Finding       // what was found in the latest of those posts, the latest first
	Removed      []store.Removed // sessions the student deleted
	Taught       *store.Lesson
	Number       timeline.Result // the one they work on, over all sessions; without a point if there is none
}

// CatchUp is what happened with a student since their coach last looked.
func (rs *Records) CatchUp(ctx context.Context, b store.Binding) (c CatchUp, err error) {
	c.Until = rs.now()
	if c.Since, err = rs.lastLooked(ctx, b); err != nil {
		return c, err
	}
	lines, err := rs.Roster(ctx, b.Server, b.Coach, b.Student)
	if err != nil {
		return c, err
	}
	if len(lines) == 0 {
		return c, store.ErrNotFound
	}
	c.Line = lines[0]
	posted, err := rs.postedSince(ctx, b, c.Since)
	if err != nil {
		return c, err
	}
	c.Posts = len(posted)
	for _, s := range posted {
		c.Balls += s.Balls
	}
	if c.Line, err = rs.withRecent(ctx, c.Line); err != nil {
		return c, err
	}
	since := c.Since
	c.Posted = Found(c.Recent, func(g store.Gisted) bool { return g.Posted.After(since) })
	if c.Removed, err = rs.db.RemovedSince(ctx, b.Server, b.Student, c.Since); err != nil {
		return c, err
	}
	zone, err := rs.Zone(ctx, b.Server, b.Coach)
	if err != nil {
		return c, err
	}
	c.Since, c.Until = c.Since.In(zone), c.Until.In(zone)
	if c.Lesson != nil && c.Lesson.At.After(c.Since) {
		taught := *c.Lesson
		taught.At = taught.At.In(zone)
		c.Taught = &taught
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
