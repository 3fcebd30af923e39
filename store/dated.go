package store

import (
	"context"
	"database/sql"
	"time"

	"rangepost/analysis"
)

// Sessions stand in the order they were hit, as far as that is known. A file
// may say a time on the golfer's clock, a day without an hour, or nothing.

const day = 24 * time.Hour

// ordered is what a session is ordered by: when it was hit; of a day without
// an hour its middle, or when it was posted if that was the same day; else when
// it was posted.
func ordered(hit time.Time, dated analysis.Dating, posted time.Time) time.Time {
	switch {
	case hit.IsZero():
		return posted
	case dated != analysis.ByDay:
		return timeOf(millis(hit))
	case posted.Before(hit.Add(day)):
		return posted
	}
	return timeOf(millis(hit.Add(day / 2)))
}

// HitBy is the latest a session can have been hit.
func (i SessionInfo) HitBy() time.Time {
	if i.Dated == analysis.ByDay && i.At.Before(i.Posted) {
		return i.At.Add(day / 2)
	}
	return i.At
}

// hitSince and hitBy are conditions on a session s: that it can have been hit
// at a time or later, and at that time or before.
func hitSince(at string) string {
	return `CASE s.dated WHEN 'day' THEN s.hit + 86400000 > ` + at + ` ELSE s.at >= ` + at + ` END`
}

func hitBy(at string) string {
	return `CASE s.dated WHEN 'day' THEN s.hit ELSE s.at END <= ` + at
}

// redate marks the sessions of a server whose time is to be read again, as the
// clock it was read on has changed.
func redate(ctx context.Context, tx *sql.Tx, server, whose string, args ...any) error {
	_, err := tx.ExecContext(ctx, `UPDATE sessions SET redate = 1
		WHERE server = ?1 AND dated IN ('clock', 'day', 'posting') AND `+whose, append([]any{server}, args...)...)
	return err
}

// ToRedate lists sessions whose time is to be read again, at most so many:
// those of one student, or of everybody if server is "".
func (db *DB) ToRedate(ctx context.Context, server, student string, most int) (all []SessionInfo, err error) {
	err = db.query(ctx, "listing sessions to date", func(tx *sql.Tx) error {
		all, err = collect(ctx, tx, scanSessionInfo, `
			SELECT `+infoColumns+` FROM sessions
			WHERE redate = 1 AND (?1 = '' OR server = ?1 AND student = ?2) ORDER BY server, student, id LIMIT ?3`, server, student, most)
		return err
	})
	return all, err
}

// Redate keeps when a session was hit, with the questions about its file that
// are open by that. Nothing else of its reading changes.
func (db *DB) Redate(ctx context.Context, server, id string, hit time.Time, dated analysis.Dating, open []analysis.Question) error {
	return db.update(ctx, "dating a session", func(tx *sql.Tx) error {
		s, err := findSession(ctx, tx, `WHERE server = ? AND id = ?`, server, id)
		if err != nil {
			return err
		}
		questions, err := questionsJSON(open)
		if err != nil {
			return err
		}
		at := millis(ordered(hit, dated, s.Posted))
		if _, err := tx.ExecContext(ctx, `UPDATE sessions SET hit = ?, dated = ?, redate = 0, at = ?, questions = ? WHERE id = ?`,
			millis(hit), dated, at, questions, id); err != nil {
			return err
		}
		_, err = tx.ExecContext(ctx, `UPDATE session_values SET at = ? WHERE session = ?`, at, id)
		return err
	})
}
