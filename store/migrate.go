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

// newest is the last version of either line.
func newest() (int64, error) {
	files, err := fs.ReadDir(migrations, "migrations/sqlite")
	if err != nil {
		return 0, err
	}
	return goose.NumericComponent(files[len(files)-1].Name())
}

// migrate brings the schema to the newest version, one transaction a step, and
// refuses a database that a newer program has written. Most have the newest, and
// are not asked more.
func (db *DB) migrate(ctx context.Context, pool *sql.DB) error {
	newest, err := newest()
	if err != nil {
		return err
	}
	var have int64
	if err := pool.QueryRowContext(ctx, `SELECT max(version_id) FROM goose_db_version`).Scan(&have); err != nil {
		have = 0 // a new one
	}
	if have > newest {
		return fmt.Errorf("schema %d, newest known %d: %w", have, newest, ErrNewer)
	}
	if have < newest {
		m, err := db.engine.migrator(pool)
		if err != nil {
			return err
		}
		if _, err = m.Up(ctx); err != nil {
			return err
		}
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
