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
