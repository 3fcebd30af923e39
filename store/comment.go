package store

import (
	"context"
	"database/sql"
)

// MostComments is how many comments of a coach are kept, those sent last: as
// many as a menu offers.
const MostComments = 25

// KeepComment keeps a comment that a coach sent, for reuse; the one sent longest
// ago goes when there are too many.
func (db *DB) KeepComment(ctx context.Context, server, coach, text string) error {
	return db.update(ctx, "keeping a comment", func(tx *sql.Tx) error {
		if _, err := tx.ExecContext(ctx, `INSERT INTO comments (server, coach, text, at) VALUES (?, ?, ?, ?)
			ON CONFLICT (server, coach, text) DO UPDATE SET at = excluded.at`, server, coach, text, millis(db.now())); err != nil {
			return err
		}
		_, err := tx.ExecContext(ctx, `DELETE FROM comments WHERE server = ?1 AND coach = ?2 AND text NOT IN
			(SELECT text FROM comments WHERE server = ?1 AND coach = ?2 ORDER BY at DESC, text LIMIT ?3)`, server, coach, MostComments)
		return err
	})
}

// DropComment forgets a comment that was kept.
func (db *DB) DropComment(ctx context.Context, server, coach, text string) error {
	return db.update(ctx, "forgetting a comment", func(tx *sql.Tx) error {
		_, err := tx.ExecContext(ctx, `DELETE FROM comments WHERE server = ? AND coach = ? AND text = ?`, server, coach, text)
		return err
	})
}

// Comments are those a coach sent, the last one first.
func (db *DB) Comments(ctx context.Context, server, coach string) (all []string, err error) {
	err = db.query(ctx, "listing comments", func(tx *sql.Tx) error {
		all, err = comments(ctx, tx, server, coach)
		return err
	})
	return all, err
}

func comments(ctx context.Context, tx *sql.Tx, server, coach string) ([]string, error) {
	return collect(ctx, tx, scanText, `SELECT text FROM comments WHERE server = ? AND coach = ? ORDER BY at DESC, text`, server, coach)
}
