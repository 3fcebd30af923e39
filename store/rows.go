package store

import (
	"context"
	"database/sql"
	"time"
)

// A scanner is one row, of one or of many.
type scanner interface{ Scan(...any) error }

// An asker is what a query is asked of: a transaction, or a pool.
type asker interface {
	QueryContext(ctx context.Context, query string, args ...any) (*sql.Rows, error)
}

// collect runs a query and has scan turn each row into a value.
func collect[T any](ctx context.Context, in asker, scan func(scanner) (T, error), query string, args ...any) ([]T, error) {
	rows, err := in.QueryContext(ctx, query, args...)
	if err != nil {
		return nil, err
	}
	defer rows.Close()
	var all []T
	for rows.Next() {
		v, err := scan(rows)
		if err != nil {
			return nil, err
		}
		all = append(all, v)
	}
	return all, rows.Err()
}

func scanText(row scanner) (s string, err error) {
	err = row.Scan(&s)
	return s, err
}

func scanTime(row scanner) (time.Time, error) {
	var at sql.NullInt64
	err := row.Scan(&at)
	return timeOf(at), err
}

// changed is ErrNotFound when a statement touched no row.
func changed(res sql.Result, err error) error {
	if err != nil {
		return err
	}
	n, err := res.RowsAffected()
	if err == nil && n == 0 {
		return ErrNotFound
	}
	return err
}

// nonNil is s, empty rather than nil, so that JSON says [] and not null.
func nonNil[T any](s []T) []T {
	if s == nil {
		return []T{}
	}
	return s
}
