package store

import (
	"database/sql"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
)

// The two lines of migrations make the same tables: columns with their kinds,
// what may be missing, keys, indexes, foreign keys and what checks there are.
func TestSameTables(t *testing.T) {
	if !onPostgres {
		t.Skip("on PostgreSQL, beside it")
	}
	described := func(path string) (all []table, checks map[string]int, version int64) {
		db, err := Open(t.Context(), path)
		if err != nil {
			t.Fatal(err)
		}
		defer db.Close()
		m, err := db.engine.migrator(db.write)
		if err != nil {
			t.Fatal(err)
		}
		if version, err = m.GetDBVersion(t.Context()); err != nil {
			t.Fatal(err)
		}
		query := `SELECT name, sql FROM sqlite_schema WHERE type = 'table' AND name NOT LIKE 'sqlite_%' AND name <> 'goose_db_version'`
		if IsServer(path) {
			query = `SELECT c.relname, repeat('CHECK (', count(k.oid)::INTEGER) FROM pg_class c LEFT JOIN pg_constraint k ON k.conrelid = c.oid AND k.contype = 'c'
				WHERE c.relnamespace = current_schema()::REGNAMESPACE AND c.relkind = 'r' AND c.relname <> 'goose_db_version' GROUP BY c.relname`
		}
		checks = map[string]int{}
		if err := db.query(t.Context(), "describing", func(tx *sql.Tx) error {
			rows, err := tx.QueryContext(t.Context(), query)
			if err != nil {
				return err
			}
			defer rows.Close()
			for rows.Next() {
				var name string
				var text sql.NullString
				if err := rows.Scan(&name, &text); err != nil {
					return err
				}
				checks[name] = len(regexp.MustCompile(`\bCHECK \(`).FindAllString(text.String, -1))
			}
			if err := rows.Err(); err != nil {
				return err
			}
			all, err = db.engine.tables(t.Context(), tx)
			return err
		}); err != nil {
			t.Fatal(err)
		}
		for i := range all {
			for k, index := range all[i].indexes {
				all[i].indexes[k] = plainly(index)
			}
			slices.Sort(all[i].indexes)
		}
		return all, checks, version
	}
	onSQLite, sqliteChecks, sqliteVersion := described(t.TempDir() + "/same.db")
	onServer, serverChecks, serverVersion := described(NewPath(t))
	if sqliteVersion != serverVersion {
		t.Errorf("versions %d and %d", sqliteVersion, serverVersion)
	}
	if d := cmp.Diff(onSQLite, onServer, cmp.AllowUnexported(table{}, column{})); d != "" {
		t.Errorf("tables (-SQLite +PostgreSQL):\n%s", d)
	}
	for name, n := range sqliteChecks {
		if serverChecks[name] != n {
			t.Errorf("table %s has %d checks on SQLite and %d on PostgreSQL", name, n, serverChecks[name])
		}
	}
	db, err := Open(t.Context(), NewPath(t))
	if err != nil {
		t.Fatal(err)
	}
	defer db.Close()
	with := list(t, db.read, `SELECT table_name FROM information_schema.columns WHERE table_schema = current_schema() AND column_name = 'rowid' ORDER BY 1`)
	if d := cmp.Diff(rowids, with); d != "" {
		t.Errorf("tables with a rowid (-want +got):\n%s", d)
	}
}

// plainly is an index without what PostgreSQL writes around its condition.
func plainly(index string) string {
	for _, r := range [][2]string{{"::text", ""}, {"(", ""}, {")", ""}} {
		index = strings.ReplaceAll(index, r[0], r[1])
	}
	return strings.Join(strings.Fields(index), " ")
}
