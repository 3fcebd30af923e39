package store

import (
	"context"
	"database/sql"
)

// A Junior is a junior on a server.
type Junior struct{ Server, Student string }

// Juniors lists every server's juniors, for the bot to know them by heart.
func (db *DB) Juniors(ctx context.Context) (all []Junior, err error) {
	err = db.query(ctx, "listing juniors", func(tx *sql.Tx) error {
		all, err = collect(ctx, tx, func(row scanner) (j Junior, err error) {
			err = row.Scan(&j.Server, &j.Student)
			return j, err
		}, `SELECT server, student FROM students WHERE junior = 1 ORDER BY server, student`)
		return err
	})
	return all, err
}
