package store

import (
	"context"
	"database/sql"
)

// SessionsWithHeader lists the ids of a server's sessions whose file has a
// header with that fingerprint, oldest first: the ones to read again when an
// answer about such files changes.
func (db *DB) SessionsWithHeader(ctx context.Context, server, fingerprint string) (ids []string, err error) {
	err = db.query(ctx, "listing sessions by header", func(tx *sql.Tx) error {
		ids, err = collect(ctx, tx, scanText, `
			SELECT id FROM sessions WHERE server = ? AND fingerprint = ? ORDER BY at, id`, server, fingerprint)
		return err
	})
	return ids, err
}

// FirstWithHeader reports whether a session is the first that its student posted
// of files with its header.
func (db *DB) FirstWithHeader(ctx context.Context, s Session) (first bool, err error) {
	err = db.query(ctx, "looking for files with the same header", func(tx *sql.Tx) error {
		return tx.QueryRowContext(ctx, `
			SELECT NOT EXISTS (SELECT 1 FROM sessions WHERE server = ? AND student = ? AND fingerprint = ? AND posted < ?)`,
			s.Server, s.Student, s.Reading.Fingerprint, millis(s.Posted)).Scan(&first)
	})
	return first, err
}
