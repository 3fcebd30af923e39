package store

import (
	"context"
	"database/sql"
	"time"
)

// What processes that serve one bot together have to agree about, besides who
// holds what.

// A Turn is when a session may start, and how many did in the hour since.
type Turn struct {
	Free, Since time.Time
	Count       int
}

// TakeTurn takes the next turn by name, and says in how long it is. next is the
// turn after one that is taken at a time.
func (db *DB) TakeTurn(ctx context.Context, name string, next func(Turn, time.Time) Turn) (wait time.Duration, err error) {
	err = db.update(ctx, "taking a turn", func(tx *sql.Tx) error {
		now, err := db.clock(ctx, tx)
		if err != nil {
			return err
		}
		var t Turn
		var free, since sql.NullInt64
		err = tx.QueryRowContext(ctx, `SELECT free, since, count FROM turns WHERE name = ?`, name).Scan(&free, &since, &t.Count)
		if err != nil && err != sql.ErrNoRows {
			return err
		}
		t.Free, t.Since = timeOf(free), timeOf(since)
		if err == sql.ErrNoRows {
			t.Since = now
		}
		at := now
		if t.Free.After(at) {
			at = t.Free
		}
		wait, t = at.Sub(now), next(t, at)
		_, err = tx.ExecContext(ctx, `
			INSERT INTO turns (name, free, since, count) VALUES (?, ?, ?, ?)
			ON CONFLICT (name) DO UPDATE SET free = excluded.free, since = excluded.since, count = excluded.count`,
			name, millis(t.Free), millis(t.Since), t.Count)
		return err
	})
	return wait, err
}

// ofRequests is the turn of the bot's requests to the platform.
const ofRequests = "requests"

// HoldRequests says for everybody that the platform will have no requests of the bot
// for so long. A longer hold that is there stays.
func (db *DB) HoldRequests(ctx context.Context, long time.Duration) error {
	return db.update(ctx, "holding requests", func(tx *sql.Tx) error {
		now, err := db.clock(ctx, tx)
		if err != nil {
			return err
		}
		_, err = tx.ExecContext(ctx, `
			INSERT INTO turns (name, free, since, count) VALUES (?, ?, ?, 0)
			ON CONFLICT (name) DO UPDATE SET free = excluded.free, since = excluded.since WHERE turns.free < excluded.free`,
			ofRequests, millis(now.Add(long)), millis(now))
		return err
	})
}

// Handed counts a file that somebody hands over, unless may, which gets the times
// of those within a day, says no.
func (db *DB) Handed(ctx context.Context, person string, now time.Time, may func([]time.Time) error) error {
	return db.update(ctx, "counting a file", func(tx *sql.Tx) error {
		if _, err := tx.ExecContext(ctx, `DELETE FROM handed WHERE person = ? AND (at <= ? OR at > ?)`,
			person, millis(now.Add(-24*time.Hour)), millis(now)); err != nil {
			return err
		}
		times, err := collect(ctx, tx, func(row scanner) (time.Time, error) {
			var at sql.NullInt64
			err := row.Scan(&at)
			return timeOf(at), err
		}, `SELECT at FROM handed WHERE person = ? ORDER BY at`, person)
		if err != nil {
			return err
		}
		if err := may(times); err != nil {
			return err
		}
		_, err = tx.ExecContext(ctx, `INSERT INTO handed (id, person, at) VALUES (?, ?, ?)`, hiddenID(), person, millis(now))
		return err
	})
}

// ForgetHanded drops what was counted of somebody.
func (db *DB) ForgetHanded(ctx context.Context, person string) error {
	return db.update(ctx, "forgetting what was counted", func(tx *sql.Tx) error {
		_, err := tx.ExecContext(ctx, `DELETE FROM handed WHERE person = ?`, person)
		return err
	})
}

// revise says to the other processes that something changed on a server that
// they know by heart.
func (db *DB) revise(ctx context.Context, tx *sql.Tx, server string) error {
	if !db.shared {
		return nil
	}
	now, err := db.clock(ctx, tx)
	if err != nil {
		return err
	}
	_, err = tx.ExecContext(ctx, `
		INSERT INTO revisions (server, count, at) VALUES (?, 1, ?)
		ON CONFLICT (server) DO UPDATE SET count = revisions.count + 1, at = excluded.at`, server, millis(now))
	return err
}

// Revised is how often something changed on each server where anything did in the
// last minutes.
func (db *DB) Revised(ctx context.Context, within time.Duration) (counts map[string]int, err error) {
	err = db.query(ctx, "looking what changed", func(tx *sql.Tx) error {
		now, err := db.clock(ctx, tx)
		if err != nil {
			return err
		}
		rows, err := tx.QueryContext(ctx, `SELECT server, count FROM revisions WHERE at > ?`, millis(now.Add(-within)))
		if err != nil {
			return err
		}
		defer rows.Close()
		counts = map[string]int{}
		for rows.Next() {
			var server string
			var n int
			if err := rows.Scan(&server, &n); err != nil {
				return err
			}
			counts[server] = n
		}
		return rows.Err()
	})
	return counts, err
}
