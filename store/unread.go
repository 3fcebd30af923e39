package store

import (
	"context"
	"database/sql"
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
	query, args := unreadQuery(server, coach, f)
	var all int
	found, err := glance(ctx, db, "looking for unread posts", func(row scanner) (SessionInfo, error) { return scanInfoAnd(row, &all) }, query, args...)
	if err != nil || len(found) == 0 {
		return nil, 0, err
	}
	return &found[0], all - 1, nil
}

// ofCoach is a condition of an unread post by which no index is searched: a student
// has one coach, a coach many students.
const ofCoach = `u.coach || '' = `

// unreadQuery is one stretch of an index, by coach or by student, whose first row is
// the oldest post.
func unreadQuery(server, coach string, f UnreadFilter) (query string, args []any) {
	of, more := `u.coach = ?2`, []any(nil)
	if f.Student != "" {
		of, more = `u.student = ?6 AND `+ofCoach+`?2`, []any{f.Student}
	}
	stretch := `FROM unread u WHERE u.server = ?1 AND ` + of + `
		AND (u.posted, u.session) > (coalesce((SELECT s.posted FROM sessions s WHERE s.server = ?1 AND s.id = ?3), ?4), ?3)`
	args = append([]any{server, coach, f.After, since(time.Time{}), MostUnread + 1}, more...)
	return `SELECT ` + infoColumns + `, (SELECT count(*) FROM (SELECT 1 ` + stretch + ` LIMIT ?5) AS few)
		FROM sessions WHERE id = (SELECT u.session ` + stretch + ` ORDER BY u.posted, u.session LIMIT 1)`, args
}

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
