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
	Limit   int    // at most so many, 0 for all
}

// Unread lists the posts a coach has not looked at yet, of the students whose
// consent to them stands, oldest post first. What was posted before the
// consent is history and never unread. more counts those beyond the limit.
func (db *DB) Unread(ctx context.Context, server, coach string, f UnreadFilter) (posts []SessionInfo, more int, err error) {
	err = db.query(ctx, "listing unread posts", func(tx *sql.Tx) error {
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
		posts, err = collect(ctx, tx, scanSessionInfo, unread+` ORDER BY s.posted, s.id`, server, coach, f.Student, after, id)
		return err
	})
	if f.Limit > 0 && len(posts) > f.Limit {
		posts, more = posts[:f.Limit], len(posts)-f.Limit
	}
	return posts, more, err
}

// unread walks a coach's bindings, and each one's posts since it was given.
const unread = `
	SELECT s.id, s.server, s.student, s.posted_by, s.posted, s.at, s.channel, s.message, s.name, s.sha256,
		s.balls, s.used, json_array_length(s.questions)
	FROM bindings b CROSS JOIN sessions s ON s.server = b.server AND s.student = b.student AND s.posted >= b.given
	WHERE b.server = ?1 AND b.coach = ?2 AND b.given IS NOT NULL AND b.ended IS NULL AND (?3 = '' OR b.student = ?3)
		AND (s.posted > ?4 OR s.posted = ?4 AND s.id > ?5)
		AND NOT EXISTS (SELECT 1 FROM looked l WHERE l.session = s.id AND l.coach = b.coach)`

// LookedAt writes down that a coach has looked at a post. Said twice, the
// first time stands.
func (db *DB) LookedAt(ctx context.Context, server, coach, session string) error {
	return db.update(ctx, "keeping that a post was looked at", func(tx *sql.Tx) error {
		var found string
		if err := tx.QueryRowContext(ctx, `SELECT id FROM sessions WHERE server = ? AND id = ?`, server, session).Scan(&found); err != nil {
			return err
		}
		_, err := tx.ExecContext(ctx, `INSERT INTO looked (session, coach, at) VALUES (?, ?, ?) ON CONFLICT DO NOTHING`,
			session, coach, millis(db.now()))
		return err
	})
}

// LastLooked is when a coach last looked at a post of a student, the zero time
// if never.
func (db *DB) LastLooked(ctx context.Context, server, coach, student string) (time.Time, error) {
	var at sql.NullInt64
	err := db.query(ctx, "reading when a coach looked", func(tx *sql.Tx) error {
		return tx.QueryRowContext(ctx, `
			SELECT max(l.at) FROM sessions s CROSS JOIN looked l ON l.session = s.id AND l.coach = ?2
			WHERE s.server = ?1 AND s.student = ?3`, server, coach, student).Scan(&at)
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
			ON CONFLICT DO UPDATE SET at = max(at, excluded.at)`, b.Server, b.Coach, b.Thread, millis(until))
		return err
	})
}
