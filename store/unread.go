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
func (db *DB) Unread(ctx context.Context, server, coach string, f UnreadFilter) (first *SessionInfo, more int, err error) {
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
		bound, err := collect(ctx, tx, scanBinding, selectBinding+liveOfCoach, server, coach)
		if err != nil {
			return err
		}
		// Each student's posts lie in order of time on an index: the first of
		// each is a look, and the oldest of those is the one. There may be many
		// students, so a look is read by the engine once.
		look, err := tx.PrepareContext(ctx, `SELECT id, posted`+unread+` ORDER BY posted, id LIMIT 1`)
		if err != nil {
			return err
		}
		defer look.Close()
		oldest, posted, all := "", int64(0), 0
		for _, b := range bound {
			if f.Student != "" && b.Student != f.Student {
				continue
			}
			args := []any{server, b.Student, millis(b.Given), coach, after, id}
			var theirs string
			var at int64
			switch err := look.QueryRowContext(ctx, args...).Scan(&theirs, &at); {
			case errors.Is(err, sql.ErrNoRows):
				continue
			case err != nil:
				return err
			}
			if oldest == "" || at < posted || at == posted && theirs < oldest {
				oldest, posted = theirs, at
			}
			if all <= MostUnread {
				var n int
				if err := tx.QueryRowContext(ctx, `SELECT count(*) FROM (SELECT 1`+unread+` LIMIT ?7) AS few`, append(args, MostUnread+1)...).Scan(&n); err != nil {
					return err
				}
				all += n
			}
		}
		first = nil
		if oldest != "" {
			if first, err = optional(scanSessionInfo(tx.QueryRowContext(ctx, `SELECT `+infoColumns+` FROM sessions WHERE server = ? AND id = ?`, server, oldest))); err != nil {
				return err
			}
		}
		more = max(0, min(all-1, MostUnread))
		return nil
	})
	return first, more, err
}

// unread is a student's posts since their consent that their coach has not
// looked at, after one.
const unread = `
	FROM sessions WHERE server = ?1 AND student = ?2 AND posted >= ?3 AND posted >= ?5
		AND (posted > ?5 OR posted = ?5 AND id > ?6)
		AND NOT EXISTS (SELECT 1 FROM looked l WHERE l.session = sessions.id AND l.coach = ?4)`

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
