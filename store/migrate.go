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
//go:embed migrations/*.sql
var migrations embed.FS

func migrator(pool *sql.DB) (*goose.Provider, error) {
	files, err := fs.Sub(migrations, "migrations")
	if err != nil {
		return nil, err
	}
	return goose.NewProvider(goose.DialectSQLite3, pool, files, goose.WithDisableGlobalRegistry(true))
}

// migrate brings the schema to the newest version, one transaction a step, and
// refuses a database that a newer program has written.
func migrate(ctx context.Context, pool *sql.DB) error {
	m, err := migrator(pool)
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
	_, err = m.Up(ctx)
	return err
}
