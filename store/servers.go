package store

import (
	"context"
	"database/sql"
)

// ServersOf lists the servers that know somebody as a student, for a direct
// message to find the one it belongs to.
func (db *DB) ServersOf(ctx context.Context, student string) (servers []string, err error) {
	err = db.query(ctx, "listing servers", func(tx *sql.Tx) error {
		servers, err = collect(ctx, tx, scanID, `
			SELECT server FROM students WHERE student = ? AND server <> '' ORDER BY server`, student)
		return err
	})
	return servers, err
}
