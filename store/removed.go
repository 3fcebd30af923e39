package store

import (
	"context"
	"database/sql"
	"fmt"
	"time"
)

// A Removed session is one its student deleted: when it was hit, and with how
// many balls.
type Removed struct {
	Hit   time.Time
	Balls int
	At    time.Time // when it was deleted
}

// RemoveSession deletes one session, with its file and balls, and keeps that it
// was. Its entries in open challenges go with it; in closed ones they stay.
// ErrNotFound if the student has none of that id.
func (db *DB) RemoveSession(ctx context.Context, server, student, id string) error {
	err := db.update(ctx, "removing a session", func(tx *sql.Tx) error {
		if err := changed(tx.ExecContext(ctx, `
			INSERT INTO removed (id, server, student, hit, balls, at)
			SELECT id, server, student, at, balls, ?4 FROM sessions WHERE server = ?1 AND student = ?2 AND id = ?3`,
			server, student, id, millis(db.now()))); err != nil {
			return err
		}
		open, err := collect(ctx, tx, scanText, `
			SELECT e.id FROM entries e JOIN challenges c ON c.id = e.challenge JOIN entry_sessions h ON h.entry = e.id WHERE h.session = ? AND c.closed IS NULL`, id)
		if err != nil {
			return err
		}
		for _, entry := range open {
			if _, err := tx.ExecContext(ctx, `UPDATE challenges SET revision = revision + 1 WHERE id = (SELECT challenge FROM entries WHERE id = ?)`, entry); err != nil {
				return err
			}
			if _, err := tx.ExecContext(ctx, `DELETE FROM entries WHERE id = ?`, entry); err != nil {
				return err
			}
		}
		if err := keepDeleted(ctx, tx, server, student, id); err != nil {
			return err
		}
		if err := db.revise(ctx, tx, server); err != nil {
			return err
		}
		_, err = tx.ExecContext(ctx, `DELETE FROM sessions WHERE id = ?`, id)
		return err
	})
	if err != nil {
		return err
	}
	if err := db.emptyLog(ctx); err != nil {
		return fmt.Errorf("store: emptying the log: %w", classify(err))
	}
	return nil
}

// RemovedSince lists the sessions a student deleted since a time, the first
// before.
func (db *DB) RemovedSince(ctx context.Context, server, student string, since time.Time) (all []Removed, err error) {
	err = db.query(ctx, "listing removed sessions", func(tx *sql.Tx) error {
		all, err = removedSince(ctx, tx, server, student, since)
		return err
	})
	return all, err
}

func removedSince(ctx context.Context, tx *sql.Tx, server, student string, from time.Time) ([]Removed, error) {
	return collect(ctx, tx, func(row scanner) (r Removed, err error) {
		var hit, at sql.NullInt64
		err = row.Scan(&hit, &r.Balls, &at)
		r.Hit, r.At = timeOf(hit), timeOf(at)
		return r, err
	}, `SELECT hit, balls, at FROM removed WHERE server = ? AND student = ? AND at > ? ORDER BY at, id`, server, student, since(from))
}
