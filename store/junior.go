package store

import (
	"context"
	"database/sql"
)

// A Junior is a junior on a server.
type Junior struct{ Server, Student string }

// Juniors lists every server's juniors, for the bot to know them by heart.
func (db *DB) Juniors(ctx context.Context) ([]Junior, error) { return db.juniors(ctx, "") }

// JuniorsOf lists a server's.
func (db *DB) JuniorsOf(ctx context.Context, server string) ([]Junior, error) {
	return db.juniors(ctx, ` AND server = ?`, server)
}

func (db *DB) juniors(ctx context.Context, of string, args ...any) (all []Junior, err error) {
	err = db.query(ctx, "listing juniors", func(tx *sql.Tx) error {
		all, err = collect(ctx, tx, func(row scanner) (j Junior, err error) {
			err = row.Scan(&j.Server, &j.Student)
			return j, err
		}, `SELECT server, student FROM students WHERE junior = 1`+of+` ORDER BY server, student`, args...)
		return err
	})
	return all, err
}
