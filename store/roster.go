package store

import (
	"context"
	"database/sql"
	"errors"
	"time"
)

// A RosterLine is what a coach's roster says of one student.
type RosterLine struct {
	Binding Binding
	Student Student
	Last    *SessionInfo // the session posted last, nil if none
	Lesson  *Lesson      // the last one given, nil if none
	Balls   int          // hit since that lesson, set aside or not; ever, without a lesson
	Unseen  int          // sessions posted since the coach last looked at the thread
	Brief   *Brief       // the active one, nil if none

	// Values are the brief's number and club over all sessions, nil without a
	// brief.
	Values []SessionValues
}

// Roster is a line for each student whose consent to this coach stands, in the
// order it was given, all from one snapshot.
func (db *DB) Roster(ctx context.Context, server, coach string) (lines []RosterLine, err error) {
	err = db.query(ctx, "reading a roster", func(tx *sql.Tx) error {
		bound, err := collect(ctx, tx, scanBinding, selectBinding+liveOfCoach, server, coach)
		if err != nil {
			return err
		}
		for _, b := range bound {
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
	if l.Lesson, err = optional(lastLesson(ctx, tx, b.Server, b.Student, db.now())); err != nil {
		return l, err
	}
	from := since(time.Time{})
	if l.Lesson != nil {
		from = since(l.Lesson.At)
	}
	if err := tx.QueryRowContext(ctx, `
		SELECT coalesce(sum(CASE WHEN at >= ?3 THEN balls END), 0), count(CASE WHEN posted > coalesce(
			(SELECT at FROM looks WHERE server = ?1 AND coach = ?4 AND thread = ?5), ?6) THEN 1 END)
		FROM sessions WHERE server = ?1 AND student = ?2`,
		b.Server, b.Student, from, b.Coach, b.Thread, since(time.Time{})).Scan(&l.Balls, &l.Unseen); err != nil {
		return l, err
	}
	if l.Brief, err = optional(activeBrief(ctx, tx, b.Server, b.Student, db.now())); err != nil || l.Brief == nil {
		return l, err
	}
	l.Values, err = values(ctx, tx, b.Server, b.Student, ValuesFilter{Number: l.Brief.Number, Club: l.Brief.Club})
	return l, err
}

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
