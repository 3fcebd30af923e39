package store

import (
	"context"
	"database/sql"
	"errors"
	"fmt"
	"math"
	"sync"
	"sync/atomic"
	"time"
)

// DB is the open database. Its methods may be called from many goroutines.
type DB struct {
	engine engine
	path   string
	write  *sql.DB
	read   *sql.DB
	now    func() time.Time
	bits   func() uint64 // of which ids are made

	existing bool   // refuse to make one
	called   string // what this process is called on a server
	shared   bool   // several may serve from it
	clocked  bool   // its clock is this process's, by WithClock
	retries  atomic.Int64
	doubtful sync.Map // ids of requests that may or may not have been taken on
}

// An Option changes how Open opens.
type Option func(*DB)

// WithClock makes the database tell the time by now instead of time.Now.
func WithClock(now func() time.Time) Option { return func(db *DB) { db.now, db.clocked = now, true } }

// Existing makes Open refuse to make a database where there is none.
func Existing() Option { return func(db *DB) { db.existing = true } }

// Open opens the database at path, creates it (readable by its owner only) if
// there is none, and brings its schema up to date. An empty path is a database
// of its own in a temporary directory, which Close removes: the demo runs on
// the same file format, logging and pools as everybody else. An address that
// IsServer is a schema in a database of a PostgreSQL server.
func Open(ctx context.Context, path string, opts ...Option) (*DB, error) {
	db := &DB{engine: engineOf(path), path: shown(path), now: time.Now, bits: secretBits, shared: IsServer(path), called: schemaName}
	for _, o := range opts {
		o(db)
	}
	if err := db.engine.open(ctx, db); err != nil {
		db.Close()
		return nil, fmt.Errorf("store: opening %s: %w", db.path, classify(err))
	}
	return db, nil
}

// There is an error when the database is not where it was opened any more, or
// cannot be reached: what is written to a file that was moved away is lost with
// the process.
func (db *DB) There() error {
	ctx, cancel := context.WithTimeout(context.Background(), 3*time.Second)
	defer cancel()
	if err := db.engine.there(ctx, db); err != nil {
		return fmt.Errorf("store: %w", classify(err))
	}
	return nil
}

// Path is where the database is: a file, or an address.
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
	return errors.Join(append(errs, db.engine.close())...)
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
