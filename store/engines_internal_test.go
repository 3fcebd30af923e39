package store

import (
	"context"
	"errors"
	"flag"
	"fmt"
	"os"
	"path/filepath"
	"testing"

	"rangepost/store/pgtest"
)

// onPostgres is the engine of this run of the tests.
var onPostgres bool

var engines = flag.String("engines", "sqlite postgres", "which engines the tests run on")

// onBoth runs every test on SQLite and then once more on PostgreSQL, where it can
// be had.
func onBoth(m *testing.M) (code int) {
	flag.Parse()
	if *engines != "postgres" {
		code = m.Run()
	}
	if code != 0 || *engines == "sqlite" {
		return code
	}
	if _, err := pgtest.Shared(); errors.Is(err, pgtest.ErrNone) {
		fmt.Printf("the tests did not run on PostgreSQL: %v\n", err)
		return code
	} else if err != nil {
		fmt.Fprintln(os.Stderr, err)
		return 1
	}
	fmt.Println("on PostgreSQL:")
	onPostgres = true
	return m.Run()
}

// NewPath is the path or address of a new database of the engine of this run.
func NewPath(tb testing.TB) string {
	tb.Helper()
	if !onPostgres {
		return filepath.Join(tb.TempDir(), "rangepost.db")
	}
	return pgtest.Database(tb, func(address string) error {
		db, err := Open(context.Background(), address)
		if err != nil {
			return err
		}
		return db.Close()
	})
}

// NewSyncedPath is NewPath where PostgreSQL syncs what it commits, as it does by
// default and the tests' own does not.
func NewSyncedPath(tb testing.TB) string {
	tb.Helper()
	if !onPostgres {
		return NewPath(tb)
	}
	c, err := pgtest.Start(true)
	if err != nil {
		tb.Fatal(err)
	}
	tb.Cleanup(func() { c.Remove() })
	return c.Address("postgres")
}

// OnSQLite skips what is about SQLite's own file.
func OnSQLite(tb testing.TB) {
	tb.Helper()
	if onPostgres {
		tb.Skip("about SQLite's file")
	}
}
