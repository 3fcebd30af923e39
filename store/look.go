package store

import (
	"context"
	"database/sql"
	"errors"
	"time"
)

// LastLook is until when a coach has caught up with a thread, the zero time if
// never.
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
