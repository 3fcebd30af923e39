package store

import (
	"context"
	"database/sql"
	"embed"
	"fmt"
	"io/fs"

	"github.com/pressly/goose/v3"
)

// A released migration is never edited: the next one corrects it.
//
//go:embed migrations/*/*.sql
var migrations embed.FS

// migratorOf is the line of an engine. The lines have the same versions from the
// first of PostgreSQL's on.
func migratorOf(dialect goose.Dialect, line string, pool *sql.DB) (*goose.Provider, error) {
	files, err := fs.Sub(migrations, "migrations/"+line)
	if err != nil {
		return nil, err
	}
	return goose.NewProvider(dialect, pool, files, goose.WithDisableGlobalRegistry(true))
}

// migrate brings the schema to the newest version, one transaction a step, and
// refuses a database that a newer program has written.
func (db *DB) migrate(ctx context.Context, pool *sql.DB) error {
	m, err := db.engine.migrator(pool)
	if err != nil {
		return err
	}
	have, newest, err := m.GetVersions(ctx)
	if err != nil {
		return err
	}
	if have > newest {
		return fmt.Errorf("schema %d, newest known %d: %w", have, newest, ErrNewer)
	}
	if _, err = m.Up(ctx); err != nil {
		return err
	}
	var waiting bool // asked first: a start writes nothing that it need not
	if err := pool.QueryRowContext(ctx, `SELECT EXISTS (SELECT 1 FROM redraw)`).Scan(&waiting); err != nil || !waiting {
		return err
	}
	return db.transact(ctx, pool, db.engine.updating(), "judging which balls were hit as usual", func(tx *sql.Tx) error { return redraw(ctx, tx) })
}

// redraw judges which balls were hit as usual, which no SQL knows, in sessions
// of before that was kept.
func redraw(ctx context.Context, tx *sql.Tx) error {
	ids, err := collect(ctx, tx, scanText, `SELECT session FROM redraw`)
	if err != nil {
		return err
	}
	for _, id := range ids {
		s, err := findSession(ctx, tx, `WHERE id = ?`, id)
		if err != nil {
			return err
		}
		if s.Reading.Session.Shots, err = findShots(ctx, tx, id); err != nil {
			return err
		}
		for place, setup := range s.Reading.Session.Setups() {
			if _, err := tx.ExecContext(ctx, `UPDATE shots SET setup = ? WHERE session = ? AND place = ?`, setup, id, place); err != nil {
				return err
			}
		}
		if _, err := tx.ExecContext(ctx, `DELETE FROM session_values WHERE session = ?`, id); err != nil {
			return err
		}
		if err := insertValues(ctx, tx, s); err != nil {
			return err
		}
	}
	_, err = tx.ExecContext(ctx, `DELETE FROM redraw`)
	return err
}
