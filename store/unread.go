package store

import (
	"context"
	"database/sql"
	"errors"
	"time"
)

// An UnreadFilter narrows a coach's unread posts. The zero filter is all of
// them.
type UnreadFilter struct {
	Student string // "" for every student
	After   string // session id: only those posted after it
}

// MostUnread is how far unread posts are counted: a coach who has that many
// counts no more, and the count is not to cost more the more there are.
const MostUnread = 100

// Unread is the oldest post a coach has not looked at yet, of the students
// whose consent to them stands, nil if there is none, and how many there are
// after it, at most MostUnread. What was posted before the consent is history
// and never unread.
func (db *DB) Unread(ctx context.Context, server, coach string, f UnreadFilter) (oldest *SessionInfo, more int, err error) {
	err = db.query(ctx, "looking for unread posts", func(tx *sql.Tx) error {
		after, id := since(time.Time{}), ""
		if f.After != "" {
			var posted sql.NullInt64
			err := tx.QueryRowContext(ctx, `SELECT posted FROM sessions WHERE server = ? AND id = ?`, server, f.After).Scan(&posted)
			if err == nil {
				after, id = posted.Int64, f.After
			} else if !errors.Is(err, sql.ErrNoRows) {
				return err
			}
		}
		args := []any{server, coach, after, id, f.Student}
		first, err := optional(scanSessionInfo(tx.QueryRowContext(ctx, firstUnread, args...)))
		if err != nil {
			return err
		}
		oldest, more = first, 0
		if first == nil {
			return nil
		}
		if err := tx.QueryRowContext(ctx, countUnread, append(args, MostUnread+1)...).Scan(&more); err != nil {
			return err
		}
		more--
		return nil
	})
	return oldest, more, err
}

// A coach's students b, or one of them, and the posts s of each since their consent
// that the coach has not looked at, after one.
const (
	coached = `b.server = ?1 AND b.coach = ?2 AND b.given IS NOT NULL AND b.ended IS NULL AND (?5 = '' OR b.student = ?5)`
	theirs  = `s.server = b.server AND s.student = b.student AND s.posted >= b.given AND s.posted >= ?3
		AND (s.posted > ?3 OR s.posted = ?3 AND s.id > ?4)
		AND NOT EXISTS (SELECT 1 FROM looked l WHERE l.session = s.id AND l.coach = ?2)`

	// Each student's posts lie in order of time on an index: the first of each is a
	// look, and the oldest of those is the one.
	firstUnread = `SELECT ` + infoColumns + ` FROM sessions WHERE server = ?1 AND id = (
		SELECT f.id FROM (
			SELECT (SELECT s.id FROM sessions s WHERE ` + theirs + ` ORDER BY s.posted, s.id LIMIT 1) AS id
			FROM bindings b WHERE ` + coached + `) AS f JOIN sessions s ON s.id = f.id
		ORDER BY s.posted, s.id LIMIT 1)`
	countUnread = `SELECT count(*) FROM (
		SELECT 1 FROM bindings b CROSS JOIN sessions s WHERE ` + coached + ` AND ` + theirs + ` LIMIT ?6) AS few`
)

// LookedAt writes down that a coach has looked at some posts, all or nothing.
// Said twice, the first time stands.
func (db *DB) LookedAt(ctx context.Context, server, coach string, sessions ...string) error {
	return db.update(ctx, "keeping that posts were looked at", func(tx *sql.Tx) error {
		for _, session := range sessions {
			var found string
			if err := tx.QueryRowContext(ctx, `SELECT id FROM sessions WHERE server = ? AND id = ?`, server, session).Scan(&found); err != nil {
				return err
			}
			if _, err := tx.ExecContext(ctx, `INSERT INTO looked (session, coach, at) VALUES (?, ?, ?) ON CONFLICT DO NOTHING`,
				session, coach, millis(db.now())); err != nil {
				return err
			}
		}
		return nil
	})
}

// LastLooked is when a coach last looked at a post of a student, the zero time
// if never.
func (db *DB) LastLooked(ctx context.Context, server, coach, student string) (time.Time, error) {
	var at sql.NullInt64
	err := db.query(ctx, "reading when a coach looked", func(tx *sql.Tx) error {
		return tx.QueryRowContext(ctx, `
			SELECT max(l.at) FROM sessions s CROSS JOIN looked l
			WHERE l.session = s.id AND l.coach = ?2 AND s.server = ?1 AND s.student = ?3`, server, coach, student).Scan(&at)
	})
	return timeOf(at), err
}

// CaughtUp writes down that a coach has looked at everything a student posted
// until a time, and at their thread.
func (db *DB) CaughtUp(ctx context.Context, b Binding, until time.Time) error {
	return db.update(ctx, "keeping that a coach caught up", func(tx *sql.Tx) error {
		if _, err := tx.ExecContext(ctx, `
			INSERT INTO looked (session, coach, at)
			SELECT id, ?3, ?5 FROM sessions WHERE server = ?1 AND student = ?2 AND posted <= ?4
			ON CONFLICT DO NOTHING`, b.Server, b.Student, b.Coach, millis(until), millis(db.now())); err != nil {
			return err
		}
		_, err := tx.ExecContext(ctx, `
			INSERT INTO looks (server, coach, thread, at) VALUES (?, ?, ?, ?)
			ON CONFLICT (server, coach, thread) DO UPDATE SET at = excluded.at WHERE looks.at < excluded.at`, b.Server, b.Coach, b.Thread, millis(until))
		return err
	})
}
