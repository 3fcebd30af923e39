package store

import (
	"context"
	"database/sql"
	"errors"
	"time"
)

// Look writes down that a coach looked at a thread now.
func (db *DB) Look(ctx context.Context, server, coach, thread string) error {
	return db.update(ctx, "keeping a look", func(tx *sql.Tx) error {
		_, err := tx.ExecContext(ctx, `INSERT OR REPLACE INTO looks (server, coach, thread, at) VALUES (?, ?, ?, ?)`,
			server, coach, thread, millis(db.now()))
		return err
	})
}

// LastLook is when a coach last looked at a thread, the zero time if never.
func (db *DB) LastLook(ctx context.Context, server, coach, thread string) (time.Time, error) {
	var at sql.NullInt64
	err := db.query(ctx, "reading a look", func(tx *sql.Tx) error {
		err := tx.QueryRowContext(ctx, `SELECT at FROM looks WHERE server = ? AND coach = ? AND thread = ?`,
			server, coach, thread).Scan(&at)
		if errors.Is(err, sql.ErrNoRows) {
			return nil
		}
		return err
	})
	return timeOf(at), err
}
