package store

import (
	"context"
	"crypto/sha256"
	"database/sql"
	"encoding/binary"
	"errors"
	"fmt"
	"math"
	"slices"
	"strings"
)

// ErrNotEmpty is a database that something is kept in already.
var ErrNotEmpty = errors.New("something is kept there already")

// Copied is how much Copy copied.
type Copied struct{ Tables, Rows int }

// Copy copies everything from one database to another, of either engine, that
// holds nothing: in one transaction, of one moment, in the order in which tables
// refer to one another, and looks at every row again before it is kept. Cut short
// at any instant it has copied nothing.
//
// The database it copies from must not be served from: what were written there
// meanwhile would stay behind, and whoever was told that it is kept would miss
// it. So Copy holds the file, or on a server refuses while another process is
// connected, as seen before and after; it is ErrHeld then.
func Copy(ctx context.Context, from, to string) (c Copied, err error) {
	source, err := Open(ctx, from, Existing(), copying)
	if err != nil {
		return c, err
	}
	defer source.Close()
	target, err := Open(ctx, to, copying)
	if err != nil {
		return c, err
	}
	defer target.Close()
	for _, db := range []*DB{source, target} {
		if err := errors.Join(db.Hold(), db.alone(ctx)); err != nil {
			return c, err
		}
	}
	err = target.update(ctx, "copying", func(in *sql.Tx) error {
		all, err := target.engine.tables(ctx, in)
		if err != nil {
			return err
		}
		if all, err = inOrder(all); err != nil {
			return err
		}
		for _, t := range all {
			var there bool
			if err := in.QueryRowContext(ctx, `SELECT EXISTS (SELECT 1 FROM `+t.name+`)`).Scan(&there); err != nil {
				return err
			}
			if there {
				return fmt.Errorf("%s: %w", t.name, ErrNotEmpty)
			}
		}
		c = Copied{Tables: len(all)}
		sums := make([][]uint64, len(all))
		if err := source.query(ctx, "copying", func(out *sql.Tx) error {
			for i, t := range all {
				if sums[i], err = t.copy(ctx, out, in); err != nil {
					return once{fmt.Errorf("table %s: %w", t.name, err)} // half of it is there
				}
			}
			return nil
		}); err != nil {
			return err
		}
		for i, t := range all {
			if err := t.verify(ctx, in, sums[i]); err != nil {
				return fmt.Errorf("table %s: %w", t.name, err)
			}
			c.Rows += len(sums[i])
		}
		if err := target.engine.copied(ctx, in); err != nil {
			return err
		}
		return source.alone(ctx)
	})
	return c, err
}

// copying is what a process that copies is called among those connected.
func copying(db *DB) { db.called = schemaName + " copy" }

// alone is ErrHeld while another process of this program is connected.
func (db *DB) alone(ctx context.Context) error {
	if !IsServer(db.path) {
		return nil // held
	}
	var others int
	err := db.query(ctx, "looking for others", func(tx *sql.Tx) error {
		return tx.QueryRowContext(ctx, `
			SELECT count(*) FROM pg_stat_activity WHERE datname = current_database() AND application_name = ?`, schemaName).Scan(&others)
	})
	if err == nil && others > 0 {
		err = fmt.Errorf("store: %s: %w (%d connections to it)", db.path, ErrHeld, others)
	}
	return err
}

// read calls each with every row of a table in the order of its key. A row is
// good until the next.
func (t table) read(ctx context.Context, tx *sql.Tx, each func(row []any) error) error {
	names := t.names()
	key := make([]string, len(t.key))
	for i, k := range t.key {
		key[i] = `"` + k + `"`
	}
	rows, err := tx.QueryContext(ctx, `SELECT `+strings.Join(names, ", ")+` FROM `+t.name+` ORDER BY `+strings.Join(key, ", "))
	if err != nil {
		return err
	}
	defer rows.Close()
	for rows.Next() {
		row, to := make([]any, len(names)), make([]any, len(names))
		for i := range row {
			to[i] = &row[i]
		}
		if err := rows.Scan(to...); err != nil {
			return err
		}
		if err := each(row); err != nil {
			return err
		}
	}
	return rows.Err()
}

// copy copies the rows of a table and returns a sum of each.
func (t table) copy(ctx context.Context, out, in *sql.Tx) (sums []uint64, err error) {
	var rows [][]any
	if err := t.read(ctx, out, func(row []any) error {
		sums = append(sums, sumOfRow(row))
		if slices.Contains(derived, t.name) {
			return nil
		}
		if rows = append(rows, row); len(rows) < together[0] {
			return nil
		}
		err := insertRows(ctx, in, t.name, t.names(), rows)
		rows = rows[:0]
		return err
	}); err != nil {
		return nil, err
	}
	return sums, insertRows(ctx, in, t.name, t.names(), rows)
}

// verify reads a table that was copied, row by row.
func (t table) verify(ctx context.Context, in *sql.Tx, sums []uint64) error {
	n := 0
	if err := t.read(ctx, in, func(row []any) error {
		if n >= len(sums) || sumOfRow(row) != sums[n] {
			return fmt.Errorf("row %d is not the one that was copied", n+1)
		}
		n++
		return nil
	}); err != nil {
		return err
	}
	if n != len(sums) {
		return fmt.Errorf("%d rows of %d are there", n, len(sums))
	}
	return nil
}

// sumOfRow is the beginning of a sum over all values of a row with their kinds.
func sumOfRow(row []any) uint64 {
	h := sha256.New()
	word := func(kind byte, n uint64) { h.Write(binary.BigEndian.AppendUint64([]byte{kind}, n)) }
	for _, v := range row {
		switch x := v.(type) {
		case nil:
			word('0', 0)
		case int64:
			word('i', uint64(x))
		case float64:
			word('f', math.Float64bits(x))
		case string:
			x = legible(x)
			word('t', uint64(len(x)))
			h.Write([]byte(x))
		case []byte:
			word('b', uint64(len(x)))
			h.Write(x)
		default:
			word('?', 0)
			fmt.Fprintf(h, "%T %v", v, v)
		}
	}
	return binary.BigEndian.Uint64(h.Sum(nil))
}

// copied is done with nothing more: SQLite counts on from the greatest rowid.
func (*sqlite) copied(context.Context, *sql.Tx) error { return nil }

func (*postgres) copied(ctx context.Context, tx *sql.Tx) error {
	for _, t := range rowids {
		var next int64
		if err := tx.QueryRowContext(ctx, `SELECT setval(pg_get_serial_sequence(?, 'rowid'), coalesce(max(rowid), 0) + 1, FALSE) FROM `+t, t).Scan(&next); err != nil {
			return err
		}
	}
	return nil
}
