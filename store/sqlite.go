package store

import (
	"context"
	"database/sql"
	"database/sql/driver"
	"errors"
	"fmt"
	"io/fs"
	"net/url"
	"os"
	"path/filepath"
	"runtime"
	"slices"
	"strings"
	"time"

	"github.com/mattn/go-sqlite3"
	"github.com/pressly/goose/v3"
)

// sqlite is a database in one file, with one connection that writes and a pool
// that reads, in write-ahead logging.
type sqlite struct {
	path  string
	temp  string   // private directory to remove on close, if any
	held  *os.File // the lock, while this process serves from it
	inode os.FileInfo
}

// driverName is the SQLite driver that binds as bound does.
const driverName = "rangepost-sqlite3"

func init() { sql.Register(driverName, &sqliteDriver{}) }

type sqliteDriver struct{ sqlite3.SQLiteDriver }

// Open implements driver.Driver.
func (d *sqliteDriver) Open(address string) (driver.Conn, error) {
	c, err := d.SQLiteDriver.Open(address)
	if err != nil {
		return nil, err
	}
	return &sqliteConn{c.(*sqlite3.SQLiteConn)}, nil
}

type sqliteConn struct{ *sqlite3.SQLiteConn }

// CheckNamedValue implements driver.NamedValueChecker.
func (*sqliteConn) CheckNamedValue(v *driver.NamedValue) error { return bound(v) }

func (e *sqlite) open(ctx context.Context, db *DB) error {
	if e.path == "" {
		dir, err := os.MkdirTemp("", "rangepost-")
		if err != nil {
			return err
		}
		e.temp, e.path = dir, filepath.Join(dir, "rangepost.db")
		db.path = e.path
	}
	known := recognise(ctx, e.path)
	if known != nil {
		empty := size(e.path) == 0 && !errors.Is(known, fs.ErrPermission) || errors.Is(known, errBlank)
		if db.existing || !empty {
			return known
		}
	}
	// SQLite would create it readable by everyone; the log beside it takes
	// its permissions from it.
	f, err := os.OpenFile(e.path, os.O_CREATE|os.O_RDWR, 0o600)
	if err != nil {
		return err
	}
	e.inode, err = f.Stat()
	if err := errors.Join(err, f.Close()); err != nil {
		return err
	}
	if known != nil {
		if err := claim(ctx, e.path); err != nil {
			return err
		}
	}
	if db.write, err = sql.Open(driverName, dsn(e.path, "immediate")); err != nil {
		return err
	}
	db.write.SetMaxOpenConns(1)
	if err := db.migrate(ctx, db.write); err != nil {
		return err
	}
	if known != nil { // what was just made stands in the file, and no start has to read it out of the log
		if err := e.overwrite(ctx, db); err != nil {
			return err
		}
	}
	if db.read, err = sql.Open(driverName, dsn(e.path, "deferred")+"&_query_only=true"); err != nil {
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

func (e *sqlite) close() error {
	var errs []error
	if e.held != nil {
		errs = append(errs, e.held.Close())
	}
	if e.temp != "" {
		errs = append(errs, os.RemoveAll(e.temp))
	}
	return errors.Join(errs...)
}

func (*sqlite) migrator(pool *sql.DB) (*goose.Provider, error) {
	return migratorOf(goose.DialectSQLite3, "sqlite", pool)
}

// The one writer and every snapshot are serializable as they are.
func (*sqlite) updating() *sql.TxOptions { return nil }

func (*sqlite) reading() *sql.TxOptions { return nil }

func (*sqlite) settle(_ context.Context, err error) error { return err }

// again is never: the driver waits for the one writer itself.
func (*sqlite) again(error, int, time.Duration) (time.Duration, bool) { return 0, false }

func (e *sqlite) there(context.Context, *DB) error {
	info, err := os.Stat(e.path)
	if err != nil {
		return err
	}
	if !os.SameFile(info, e.inode) {
		return fmt.Errorf("%s is another file than was opened", e.path)
	}
	return nil
}

func (*sqlite) integrity(ctx context.Context, tx *sql.Tx) error {
	found, err := collect(ctx, tx, scanText, `PRAGMA integrity_check(5)`)
	if err != nil {
		return err
	}
	var orphans int
	if err := tx.QueryRowContext(ctx, `SELECT count(*) FROM pragma_foreign_key_check`).Scan(&orphans); err != nil {
		return err
	}
	if orphans > 0 {
		found = append(found, fmt.Sprintf("%d rows belong to nothing", orphans))
	}
	found = slices.DeleteFunc(found, func(f string) bool { return f == "ok" })
	if len(found) > 0 {
		return fmt.Errorf("%w: %s", ErrDamaged, strings.Join(found, "; "))
	}
	return nil
}

func (e *sqlite) bytes(context.Context, *DB) (data, log int64, err error) {
	return size(e.path), size(e.path + "-wal"), nil
}

func size(path string) int64 {
	info, err := os.Stat(path)
	if err != nil {
		return 0
	}
	return info.Size()
}

// overwrite moves the log into the file and cuts it to nothing. It gives up, and
// that is no error, when a reader on an old snapshot outlasts the busy timeout.
func (*sqlite) overwrite(ctx context.Context, db *DB) error {
	var busy, frames, moved int
	return db.write.QueryRowContext(ctx, `PRAGMA wal_checkpoint(TRUNCATE)`).Scan(&busy, &frames, &moved)
}

// tidy has SQLite refresh the statistics its planner goes by, where they are
// stale.
func (*sqlite) tidy(ctx context.Context, db *DB) error {
	_, err := db.write.ExecContext(ctx, `PRAGMA optimize`)
	return err
}

func (e *sqlite) clock(context.Context, *sql.Tx) (time.Time, error) { return time.Time{}, nil }
