package store

import (
	"bytes"
	"context"
	"database/sql"
	"encoding/hex"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/jackc/pgx/v5/stdlib"
)

// RowsNaming lists the columns, as table.column, of every row that names
// somebody on a server, in whatever table there is or will be.
func RowsNaming(tb testing.TB, db *DB, server, who string) []string {
	tb.Helper()
	var found []string
	tables, texts := `SELECT name FROM sqlite_schema WHERE type = 'table' AND name NOT LIKE 'sqlite_%'`, `SELECT name FROM pragma_table_info(?) WHERE type = 'TEXT'`
	if IsServer(db.path) {
		tables = `SELECT table_name FROM information_schema.tables WHERE table_schema = current_schema()`
		texts = `SELECT column_name FROM information_schema.columns WHERE table_schema = current_schema() AND table_name = ? AND data_type = 'text'`
	}
	for _, table := range list(tb, db.read, tables) {
		columns := list(tb, db.read, texts, table)
		scope := `CAST(? AS TEXT) <> ''`
		if slices.Contains(columns, "server") {
			scope = `server = ?`
		}
		for _, column := range columns {
			for range list(tb, db.read, `SELECT 'x' FROM `+table+` WHERE `+scope+` AND `+column+` = ?`, server, who) {
				found = append(found, table+"."+column)
			}
		}
	}
	return found
}

// Holds reports whether the database holds some bytes: SQLite's files, or any
// row on PostgreSQL.
func Holds(tb testing.TB, db *DB, b []byte) bool {
	tb.Helper()
	if IsServer(db.path) {
		for _, table := range list(tb, db.read, `SELECT table_name FROM information_schema.tables WHERE table_schema = current_schema()`) {
			for range list(tb, db.read, `SELECT 'x' FROM `+table+` t WHERE strpos(t::TEXT, ?) > 0 OR strpos(t::TEXT, ?) > 0`, string(b), hex.EncodeToString(b)) {
				return true
			}
		}
		return false
	}
	for _, path := range []string{db.path, db.path + "-wal", db.path + "-shm"} {
		content, err := os.ReadFile(path)
		if err != nil && !errors.Is(err, os.ErrNotExist) {
			tb.Fatal(err)
		}
		if bytes.Contains(content, b) {
			return true
		}
	}
	return false
}

// Dump is the SQL that makes a database what it is: its schema, and every row.
func Dump(tb testing.TB, db *DB) string {
	tb.Helper()
	var b strings.Builder
	b.WriteString(schema(tb, db.read))
	tables := list(tb, db.read, `SELECT name FROM sqlite_schema WHERE type = 'table' AND name NOT LIKE 'sqlite_%' ORDER BY rowid`)
	for _, table := range tables {
		if slices.Contains(derived, table) {
			continue
		}
		columns := list(tb, db.read, `SELECT 'quote(' || name || ')' FROM pragma_table_info(?)`, table)
		for _, row := range list(tb, db.read, `SELECT concat_ws(', ', `+strings.Join(columns, ", ")+`) FROM `+table) {
			fmt.Fprintf(&b, "INSERT INTO %s VALUES (%s);\n", table, row)
		}
	}
	return b.String()
}

// Load makes a new database file from a dump.
func Load(tb testing.TB, path, dump string) {
	tb.Helper()
	pool, err := sql.Open("sqlite3", path)
	if err != nil {
		tb.Fatal(err)
	}
	defer pool.Close()
	if _, err := pool.Exec(dump); err != nil {
		tb.Fatalf("loading a dump: %v", err)
	}
}

// Schema is the SQL of a database's tables and indexes.
func Schema(tb testing.TB, db *DB) string { return schema(tb, db.read) }

// SchemaAt is the schema that the migrations up to a version make.
func SchemaAt(tb testing.TB, version int64) string {
	tb.Helper()
	pool, err := sql.Open("sqlite3", filepath.Join(tb.TempDir(), "at.db"))
	if err != nil {
		tb.Fatal(err)
	}
	defer pool.Close()
	m, err := new(sqlite).migrator(pool)
	if err != nil {
		tb.Fatal(err)
	}
	if _, err := m.UpTo(tb.Context(), version); err != nil {
		tb.Fatal(err)
	}
	return schema(tb, pool)
}

// Versions are the schema versions there are migrations to.
func Versions(tb testing.TB, db *DB) (all []int64) {
	tb.Helper()
	m, err := db.engine.migrator(db.write)
	if err != nil {
		tb.Fatal(err)
	}
	for _, source := range m.ListSources() {
		all = append(all, source.Version)
	}
	return all
}

func schema(tb testing.TB, pool *sql.DB) string {
	statements := list(tb, pool, `SELECT sql || ';' FROM sqlite_schema WHERE sql IS NOT NULL AND name NOT LIKE 'sqlite_%' ORDER BY rowid`)
	return strings.Join(statements, "\n") + "\n"
}

func list(tb testing.TB, pool *sql.DB, query string, args ...any) (all []string) {
	tb.Helper()
	rows, err := pool.Query(query, args...)
	if err != nil {
		tb.Fatalf("%s: %v", query, err)
	}
	defer rows.Close()
	for rows.Next() {
		var s string
		if err := rows.Scan(&s); err != nil {
			tb.Fatalf("%s: %v", query, err)
		}
		all = append(all, s)
	}
	if err := rows.Err(); err != nil {
		tb.Fatal(err)
	}
	return all
}

// What tests ask about bindings and nothing else does.

// Binding finds a binding by its id, live or not.
func (db *DB) Binding(ctx context.Context, server, id string) (b Binding, err error) {
	err = db.query(ctx, "reading a binding", func(tx *sql.Tx) error {
		b, err = findBinding(ctx, tx, server, id)
		return err
	})
	return b, err
}

// ThreadBinding is the live binding of a thread, or ErrNotFound.
func (db *DB) ThreadBinding(ctx context.Context, server, thread string) (b Binding, err error) {
	err = db.query(ctx, "reading a thread's binding", func(tx *sql.Tx) error {
		b, err = threadBinding(ctx, tx, server, thread)
		return err
	})
	return b, err
}

// CoachBindings lists a coach's live bindings, in the order they were given.
func (db *DB) CoachBindings(ctx context.Context, server, coach string) ([]Binding, error) {
	return db.bindings(ctx, liveOfCoach, server, coach)
}

// BindingHistory lists every binding a student was ever asked for, over or
// not, oldest first.
func (db *DB) BindingHistory(ctx context.Context, server, student string) ([]Binding, error) {
	return db.bindings(ctx, ` WHERE server = ? AND student = ? ORDER BY asked, id`, server, student)
}

// Unread compares the posts that wait with what they are by the consents and the
// looks there are, and counts them.
func Unread(tb testing.TB, db *DB) int {
	tb.Helper()
	const row = `SELECT concat_ws(' ', server, student, posted, session, coach) FROM `
	kept, want := list(tb, db.read, row+`unread ORDER BY session`), list(tb, db.read, row+`waiting ORDER BY session`)
	if !slices.Equal(kept, want) {
		tb.Errorf("unread are %q, want %q", kept, want)
	}
	return len(kept)
}

// Before does something while a database is as it was at a version.
func Before(tb testing.TB, db *DB, version int64, do func()) {
	tb.Helper()
	pool := db.write
	if IsServer(db.path) { // as goose knows it
		config, _, err := pgConfig(db.path)
		if err != nil {
			tb.Fatal(err)
		}
		pool = stdlib.OpenDB(*config)
		defer pool.Close()
	}
	m, err := db.engine.migrator(pool)
	if err != nil {
		tb.Fatal(err)
	}
	if _, err := m.DownTo(tb.Context(), version); err != nil {
		tb.Fatal(err)
	}
	do()
	if _, err := m.Up(tb.Context()); err != nil {
		tb.Fatal(err)
	}
}
