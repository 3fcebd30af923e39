package store

import (
	"context"
	"database/sql"
	"database/sql/driver"
	"errors"
	"fmt"
	"math"
	"strings"
	"time"
	"unicode/utf8"

	"github.com/pressly/goose/v3"
)

// An engine is what keeps a database: SQLite, in a file, or PostgreSQL. All SQL
// of this package but that of the engines is one text that both read alike, with
// ? or ?1 for what is filled in; what they do each in their own way is here.
//
// Both give a row of answers, entries, rulings and intake a rowid that grows as
// rows come: SQLite by itself, PostgreSQL in a column of that name.
type engine interface {
	// open makes db's pools, on a database that is this program's or nobody's,
	// and brings its schema up to date.
	open(ctx context.Context, db *DB) error
	close() error

	migrator(pool *sql.DB) (*goose.Provider, error)

	// updating and reading are how a transaction begins that writes, and one
	// that reads.
	updating() *sql.TxOptions
	reading() *sql.TxOptions
	// settle says how a transaction ended that was cut off as it was committed:
	// nil if it is kept. Any other error comes back as it is.
	settle(ctx context.Context, err error) error
	// again says how long to wait before a transaction that failed is begun once
	// more, after so many times and so much time; false if it is not.
	again(err error, times int, passed time.Duration) (time.Duration, bool)

	// clock is the time by the clock of all who share the database; the zero
	// time where that is this process's.
	clock(ctx context.Context, tx *sql.Tx) (time.Time, error)

	there(ctx context.Context, db *DB) error
	hold(ctx context.Context) error
	integrity(ctx context.Context, tx *sql.Tx) error
	// bytes is how large the database is, and a log beside it.
	bytes(ctx context.Context, db *DB) (data, log int64, err error)
	// overwrite has what was deleted leave the files, as far as the engine can.
	overwrite(ctx context.Context, db *DB) error
	// tidy is what to do once a day.
	tidy(ctx context.Context, db *DB) error
	backup(ctx context.Context, path string) error

	// tables are all there are but the engine's own, and copied makes
	// ready for more rows after rows came with their rowids.
	tables(ctx context.Context, tx *sql.Tx) ([]table, error)
	copied(ctx context.Context, tx *sql.Tx) error
}

// engineOf is the engine for an address.
func engineOf(address string) engine {
	if IsServer(address) {
		return &postgres{address: address}
	}
	return &sqlite{path: address}
}

// IsServer reports whether an address is that of a server of databases rather
// than a file's path.
func IsServer(address string) bool {
	return strings.HasPrefix(address, "postgres://") || strings.HasPrefix(address, "postgresql://")
}

// update runs fn in a write transaction that no other has any part in: on SQLite
// the one there is room for, on PostgreSQL one as if there were no other. There
// fn may run several times, the last of which counts: it sets anew what it sets
// outside itself.
func (db *DB) update(ctx context.Context, what string, fn func(*sql.Tx) error) error {
	life := LifeOf(ctx)
	return db.transact(ctx, db.write, db.engine.updating(), what, func(tx *sql.Tx) error {
		if !life.Alive() {
			return once{ErrLapsed}
		}
		if err := fn(tx); err != nil {
			return err
		}
		if !life.Alive() { // it was stopped in between
			return once{ErrLapsed}
		}
		return nil
	})
}

// query runs fn on one consistent snapshot; likewise maybe several times.
func (db *DB) query(ctx context.Context, what string, fn func(*sql.Tx) error) error {
	return db.transact(ctx, db.read, db.engine.reading(), what, fn)
}

// glance reads the rows of one query. On either engine one statement sees one
// snapshot whatever is around it (PostgreSQL 15 documentation, 13.2.1 [M]; SQLite,
// "Isolation In SQLite" [M]), so it needs no transaction, which would be two more
// rounds to a server, each as long as such a query.
func glance[T any](ctx context.Context, db *DB, what string, scan func(scanner) (T, error), query string, args ...any) (all []T, err error) {
	err = db.insist(ctx, what, func() error {
		all, err = collect(ctx, db.read, scan, query, args...)
		return err
	})
	return all, err
}

// once is an error after which a transaction is not begun again.
type once struct{ error }

func (o once) Unwrap() error { return o.error }

func (db *DB) transact(ctx context.Context, pool *sql.DB, opts *sql.TxOptions, what string, fn func(*sql.Tx) error) error {
	return db.insist(ctx, what, func() error { return attempt(ctx, pool, opts, fn) })
}

// insist tries something as often as its engine says.
func (db *DB) insist(ctx context.Context, what string, try func() error) error {
	began := time.Now()
	for times := 0; ; times++ {
		err := try()
		if err != nil {
			err = db.engine.settle(ctx, err)
		}
		if err == nil {
			return nil
		}
		pause, again := db.engine.again(err, times, time.Since(began))
		var o once
		if again && !errors.As(err, &o) {
			db.retries.Add(1)
			select {
			case <-time.After(pause):
				continue
			case <-ctx.Done():
			}
		}
		// A transaction that ctx has ended already says no more than that it is
		// over.
		if errors.Is(err, sql.ErrTxDone) && ctx.Err() != nil {
			err = ctx.Err()
		}
		return fmt.Errorf("store: %s: %w", what, classify(err))
	}
}

func attempt(ctx context.Context, pool *sql.DB, opts *sql.TxOptions, fn func(*sql.Tx) error) error {
	tx, err := pool.BeginTx(ctx, opts)
	if err != nil {
		return err
	}
	defer tx.Rollback()
	if err := fn(tx); err != nil {
		return err
	}
	return tx.Commit()
}

// Retries counts how often a transaction was begun again.
func (db *DB) Retries() int64 { return db.retries.Load() }

// bound makes what is filled in the same on both engines: a truth is 0 or 1, a
// figure that is none is nothing, and there is one nought. A text that
// PostgreSQL would refuse, with a zero byte or what is no UTF-8 in it, has the
// sign for that in its place (U+FFFD).
func bound(v *driver.NamedValue) (err error) {
	if v.Value, err = driver.DefaultParameterConverter.ConvertValue(v.Value); err != nil {
		return err
	}
	switch x := v.Value.(type) {
	case bool:
		v.Value = int64(0)
		if x {
			v.Value = int64(1)
		}
	case float64:
		if math.IsNaN(x) {
			v.Value = nil
		} else if x == 0 {
			v.Value = 0.0 // SQLite keeps no sign of it
		}
	case string:
		if !isLegible(x) { // nearly every text is: to put it back costs an allocation
			v.Value = legible(x)
		}
	}
	return nil
}

func isLegible(s string) bool { return utf8.ValidString(s) && strings.IndexByte(s, 0) < 0 }

// legible is a text as it is kept.
func legible(s string) string {
	const unknown = string(utf8.RuneError)
	return strings.ReplaceAll(strings.ToValidUTF8(s, unknown), "\x00", unknown)
}

// folded is a label as labels are compared: no spaces around it, and A to Z
// small, which is what lower means of these columns on both engines.
func folded(label string) string {
	return strings.Map(func(r rune) rune {
		if 'A' <= r && r <= 'Z' {
			r += 'a' - 'A'
		}
		return r
	}, label)
}
