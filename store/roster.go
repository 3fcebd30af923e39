package store

import (
	"context"
	"database/sql"
	"errors"
	"slices"
	"time"

	"rangepost/analysis"
)

// A RosterLine is what a coach's roster says of one student.
type RosterLine struct {
	Binding Binding
	Student Student
	Last    *SessionInfo // the session posted last, nil if none
	Lesson  *Lesson      // the last one given, nil if none
	Lessons []Lesson     // all that are marked, oldest first
	Noted   []Noted      // drifts somebody has seen
	Balls   int          // hit since that lesson, set aside or not; ever, without a lesson
	Unread  int          // posts since the consent that the coach has not looked at
	Oldest  time.Time    // when the oldest of those was posted, zero if none
	Recent  []Gisted     // the sessions hit last, the latest first; none when nothing is unread

	// Brief is the one set last unless it was ended, nil if there is none; its
	// date may have passed. Told is how it stood when the coach was told, ""
	// before.
	Brief    *Brief
	Progress Progress
	Told     string

	// Plan is the one set last, nil if there is none, whether or not it runs, and
	// Hit when a session was placed on it last, zero before.
	Plan *Plan
	Hit  time.Time

	// Tally is the last one counted by eye, nil if none, and Starts are where balls
	// with its club were measured to start within a fortnight of it (rad, right of
	// target is positive).
	Tally  *Tally
	Starts []float64

	// Values are a number over all sessions: the brief's with its club, or
	// face-to-path with every club.
	Number analysis.Number
	Values []analysis.SessionValues
}

// Roster is a line for each student whose consent to this coach stands, or for
// those of some, in the order it was given, all from one snapshot.
func (db *DB) Roster(ctx context.Context, server, coach string, students ...string) (lines []RosterLine, err error) {
	err = db.query(ctx, "reading a roster", func(tx *sql.Tx) error {
		bound, err := collect(ctx, tx, scanBinding, selectBinding+liveOfCoach, server, coach)
		if err != nil {
			return err
		}
		lines = nil
		for _, b := range bound {
			if len(students) > 0 && !slices.Contains(students, b.Student) {
				continue
			}
			line, err := db.rosterLine(ctx, tx, b)
			if err != nil {
				return err
			}
			lines = append(lines, line)
		}
		return nil
	})
	return lines, err
}

func (db *DB) rosterLine(ctx context.Context, tx *sql.Tx, b Binding) (l RosterLine, err error) {
	l.Binding = b
	if l.Student, err = findStudent(ctx, tx, b.Server, b.Student); err != nil {
		return l, err
	}
	if l.Last, err = optional(scanSessionInfo(tx.QueryRowContext(ctx, `
		SELECT `+infoColumns+` FROM sessions `+ofStudent+postedLast+` LIMIT 1`, b.Server, b.Student))); err != nil {
		return l, err
	}
	if l.Lessons, err = lessons(ctx, tx, b.Server, b.Student); err != nil {
		return l, err
	}
	for i := range l.Lessons {
		if !l.Lessons[i].At.After(db.now()) {
			l.Lesson = &l.Lessons[i]
		}
	}
	if l.Noted, err = noted(ctx, tx, b.Server, b.Student); err != nil {
		return l, err
	}
	from := since(time.Time{})
	if l.Lesson != nil {
		from = since(l.Lesson.At)
	}
	var oldest sql.NullInt64
	if err := tx.QueryRowContext(ctx, rosterCounts, b.Server, b.Student, from, b.Coach).
		Scan(&l.Balls, &l.Unread, &oldest); err != nil {
		return l, err
	}
	l.Oldest = timeOf(oldest)
	if l.Unread > 0 {
		if l.Recent, err = recent(ctx, tx, b, mostRecent); err != nil {
			return l, err
		}
	}
	filter := ValuesFilter{Number: analysis.FaceToPath}
	if l.Brief, err = optional(lastBrief(ctx, tx, b.Server, b.Student)); err != nil {
		return l, err
	}
	if l.Brief != nil {
		filter.Number, filter.Club = l.Brief.Number, l.Brief.Club
		if l.Progress, err = progress(ctx, tx, *l.Brief); err != nil {
			return l, err
		}
		told, err := optional(scanText(tx.QueryRowContext(ctx, `SELECT standing FROM told WHERE brief = ?`, l.Brief.ID)))
		if err != nil {
			return l, err
		}
		if told != nil {
			l.Told = *told
		}
	}
	if l.Plan, err = optional(lastPlan(ctx, tx, b.Server, b.Student)); err != nil {
		return l, err
	}
	if l.Plan != nil {
		var hit sql.NullInt64
		if err := tx.QueryRowContext(ctx, `SELECT max(at) FROM placed WHERE plan = ? AND reading <> ?`, l.Plan.ID, Elsewhere).Scan(&hit); err != nil {
			return l, err
		}
		l.Hit = timeOf(hit)
	}
	if l.Tally, err = optional(scanTally(tx.QueryRowContext(ctx, selectTally+`
		WHERE server = ? AND student = ? ORDER BY at DESC, id DESC LIMIT 1`, b.Server, b.Student))); err != nil {
		return l, err
	}
	if t := l.Tally; t != nil {
		const fortnight = 14 * day
		near, err := values(ctx, tx, b.Server, b.Student, ValuesFilter{Number: analysis.Direction, Club: t.Club, Since: t.At.Add(-fortnight)})
		if err != nil {
			return l, err
		}
		for _, v := range near {
			if !v.At.After(t.At.Add(fortnight)) {
				l.Starts = append(l.Starts, v.Values...)
			}
		}
	}
	l.Number = filter.Number
	l.Values, err = values(ctx, tx, b.Server, b.Student, filter)
	return l, err
}

// rosterCounts are balls since a lesson, and posts a coach has not looked at.
const rosterCounts = `
	SELECT (SELECT coalesce(sum(balls), 0) FROM sessions WHERE server = ?1 AND student = ?2 AND at >= ?3), count(*), min(posted)
	FROM unread u WHERE u.server = ?1 AND u.student = ?2 AND ` + ofCoach + `?4`

// optional is nil for what is not there.
func optional[T any](v T, err error) (*T, error) {
	if errors.Is(err, sql.ErrNoRows) {
		return nil, nil
	}
	if err != nil {
		return nil, err
	}
	return &v, nil
}
