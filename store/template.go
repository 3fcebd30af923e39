package store

import (
	"context"
	"database/sql"
)

// DropTemplate deletes a template; what was made of it stays. Its error is
// ErrNotFound if there is none of that name.
func (db *DB) DropTemplate(ctx context.Context, server, name string) error {
	return db.update(ctx, "deleting a template", func(tx *sql.Tx) error {
		return changed(tx.ExecContext(ctx, `DELETE FROM templates WHERE server = ? AND name = ?`, server, name))
	})
}
