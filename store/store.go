// Package store keeps everything in one SQLite file: clubhouses, students and
// who may see them, sessions with their files and shots, lessons and briefs,
// requests taken on, and what buttons need to know.
//
// # Shape
//
// A DB has one connection that writes and a pool that reads, in write-ahead
// logging, so that readers never wait for the writer nor it for them. Each
// exported method owns one transaction and calls unexported helpers that take
// it; nothing outside this package sees SQL. Every query about people is
// scoped by server, an empty server being direct messages.
//
// # What an acknowledgement is worth
//
// A method that returns nil has committed. Commits survive the death of the
// process at any instant, and, because the writer syncs each one
// (synchronous=FULL), the loss of power on a disk that honours a sync. A
// method that returns an error has changed nothing.
//
// # Quantities
//
// SI and radians, like package analysis; times are kept to the millisecond and
// come back in UTC. Ids are our own: short, opaque, fit for a button's path.
package store

import (
	"context"
	"database/sql"
	"errors"
	"fmt"
	"io/fs"
	"math"
	"net/url"
	"os"
	"path/filepath"
	"runtime"
	"time"

	_ "github.com/mattn/go-sqlite3"
)

// DB is the open database. Its methods may be called from many goroutines.
type DB struct {
	path  string
	temp  string // private directory to remove on Close, if any
	write *sql.DB
	read  *sql.DB
	now   func() time.Time

	existing bool     // refuse to make one
	shared   bool     // several may serve from it
	held     *os.File // the lock, while this process serves from it
	inode    os.FileInfo
}

// An Option changes how Open opens.
type Option func(*DB)

// WithClock makes the database tell the time by now instead of time.Now.
func WithClock(now func() time.Time) Option { return func(db *DB) { db.now = now } }

// Existing makes Open refuse to make a database where there is none.
func Existing() Option { return func(db *DB) { db.existing = true } }

// Open opens the database at path, creates it (readable by its owner only) if
// there is none, and brings its schema up to date. An empty path is a database
// of its own in a temporary directory, which Close removes: the demo runs on
// the same file format, logging and pools as everybody else.
func Open(ctx context.Context, path string, opts ...Option) (*DB, error) {
	db := &DB{path: path, now: time.Now}
	for _, o := range opts {
		o(db)
	}
	if err := db.open(ctx); err != nil {
		db.Close()
		return nil, fmt.Errorf("store: opening %s: %w", db.path, classify(err))
	}
	return db, nil
}

func (db *DB) open(ctx context.Context) error {
	if db.path == "" {
		dir, err := os.MkdirTemp("", "rangepost-")
		if err != nil {
			return err
		}
		db.temp, db.path = dir, filepath.Join(dir, "rangepost.db")
	}
	known := recognise(ctx, db.path)
	if known != nil {
		empty := size(db.path) == 0 && !errors.Is(known, fs.ErrPermission) || errors.Is(known, errBlank)
		if db.existing || !empty {
			return known
		}
	}
	// SQLite would create it readable by everyone; the log beside it takes
	// its permissions from it.
	f, err := os.OpenFile(db.path, os.O_CREATE|os.O_RDWR, 0o600)
	if err != nil {
		return err
	}
	db.inode, err = f.Stat()
	if err := errors.Join(err, f.Close()); err != nil {
		return err
	}
	if db.write, err = sql.Open("sqlite3", dsn(db.path, "immediate")); err != nil {
		return err
	}
	db.write.SetMaxOpenConns(1)
	if known != nil {
		if err := claim(ctx, db.write); err != nil {
			return err
		}
	}
	if err := migrate(ctx, db.write); err != nil {
		return err
	}
	if db.read, err = sql.Open("sqlite3", dsn(db.path, "deferred")+"&_query_only=true"); err != nil {
		return err
	}
	db.read.SetMaxOpenConns(max(4, runtime.NumCPU()))
	db.read.SetMaxIdleConns(max(4, runtime.NumCPU()))
	return db.read.PingContext(ctx)
}

// dsn is the address of the database with its pragmas in it, so that every
// connection a pool ever opens has them.
func dsn(path, txlock string) string {
	q := url.Values{
		"_foreign_keys":    {"on"},
		"_busy_timeout":    {"5000"},
		"_journal_mode":    {"WAL"},
		"_synchronous":     {"FULL"},
		"_secure_delete":   {"on"}, // what is deleted is overwritten, not just unlinked
		"_txlock":          {txlock},
		"_stmt_cache_size": {"64"},
	}
	return (&url.URL{Scheme: "file", OmitHost: true, Path: path, RawQuery: q.Encode()}).String()
}

// There is an error when the database's file is not where it was opened any
// more: what is written then is lost with the process.
func (db *DB) There() error {
	info, err := os.Stat(db.path)
	if err != nil {
		return fmt.Errorf("store: %w", err)
	}
	if !os.SameFile(info, db.inode) {
		return fmt.Errorf("store: %s is another file than was opened", db.path)
	}
	return nil
}

// Path is where the database file is.
func (db *DB) Path() string { return db.path }

// Close closes the database. A temporary one is gone afterwards.
func (db *DB) Close() error {
	var errs []error
	if db.read != nil {
		errs = append(errs, db.read.Close())
	}
	if db.write != nil {
		errs = append(errs, db.write.Close())
	}
	if db.held != nil {
		errs = append(errs, db.held.Close())
	}
	if db.temp != "" {
		errs = append(errs, os.RemoveAll(db.temp))
	}
	return errors.Join(errs...)
}

// update runs fn in the one write transaction there is room for.
func (db *DB) update(ctx context.Context, what string, fn func(*sql.Tx) error) error {
	life := LifeOf(ctx)
	if !life.Alive() {
		return fmt.Errorf("store: %s: %w", what, ErrLapsed)
	}
	return transact(ctx, db.write, what, func(tx *sql.Tx) error {
		if err := fn(tx); err != nil {
			return err
		}
		if !life.Alive() { // it was stopped in between
			return ErrLapsed
		}
		return nil
	})
}

// query runs fn on one consistent snapshot.
func (db *DB) query(ctx context.Context, what string, fn func(*sql.Tx) error) error {
	return transact(ctx, db.read, what, fn)
}

func transact(ctx context.Context, pool *sql.DB, what string, fn func(*sql.Tx) error) error {
	failed := func(err error) error {
		// A transaction that ctx has ended already says no more than that it is
		// over.
		if errors.Is(err, sql.ErrTxDone) && ctx.Err() != nil {
			err = ctx.Err()
		}
		return fmt.Errorf("store: %s: %w", what, classify(err))
	}
	tx, err := pool.BeginTx(ctx, nil)
	if err != nil {
		return failed(err)
	}
	defer tx.Rollback()
	if err := fn(tx); err != nil {
		return failed(err)
	}
	if err := tx.Commit(); err != nil {
		return failed(err)
	}
	return nil
}

// millis is t as it is kept; the zero time is kept as NULL.
func millis(t time.Time) sql.NullInt64 {
	return sql.NullInt64{Int64: t.UnixMilli(), Valid: !t.IsZero()}
}

func timeOf(ms sql.NullInt64) time.Time {
	if !ms.Valid {
		return time.Time{}
	}
	return time.UnixMilli(ms.Int64).UTC()
}

// stamp is now, as precisely as it is kept.
func (db *DB) stamp() time.Time { return db.now().UTC().Truncate(time.Millisecond) }

// since is t as a lower bound: the zero time bounds nothing.
func since(t time.Time) int64 {
	if t.IsZero() {
		return math.MinInt64
	}
	return t.UnixMilli()
}
