package store

import (
	"context"
	"database/sql"
	"encoding/binary"
	"errors"
	"fmt"
	"net/url"
	"os"

	"github.com/mattn/go-sqlite3"
)

// ErrNotOurs is a file that this program did not write: nothing is ever written
// into one, restored from one or served out of one.
var ErrNotOurs = errors.New("no database of this program")

// errBlank is a database without anything in it: nobody's, as a process leaves one
// that is killed right after it was made.
var errBlank = fmt.Errorf("an empty database: %w", ErrNotOurs)

// ours is what a database's header says it is: "Rgpt".
const ours = 0x52677074

// claim says in a new database's header whose it is, before anything else is in
// it, or beside it: a process killed in the middle of its first migrations has to
// find it again.
func claim(ctx context.Context, path string) error {
	pool, err := sql.Open("sqlite3", (&url.URL{Scheme: "file", OmitHost: true, Path: path}).String())
	if err != nil {
		return err
	}
	_, err = pool.ExecContext(ctx, fmt.Sprintf(`PRAGMA application_id = %d`, ours))
	return errors.Join(err, pool.Close())
}

// claimed reports whether a file's header says that it is ours. It is read without
// SQLite, which would read the whole schema first.
// [P] SQLite's source, sqlite3BtreeGetMeta and BTREE_APPLICATION_ID: the id is at
// 36 + 4 * 8.
func claimed(path string) bool {
	f, err := os.Open(path)
	if err != nil {
		return false
	}
	defer f.Close()
	var header [72]byte
	_, err = f.ReadAt(header[:], 0)
	return err == nil && string(header[:16]) == "SQLite format 3\x00" && binary.BigEndian.Uint32(header[68:]) == ours
}

// recognise looks at a file without changing it. It is fs.ErrNotExist for one
// that is not there, ErrNotOurs for anything else than a database of this
// program. One of before migration 5 is told by its tables.
func recognise(ctx context.Context, path string) error {
	info, err := os.Stat(path)
	if err != nil {
		return err
	}
	if info.IsDir() {
		return fmt.Errorf("a folder: %w", ErrNotOurs)
	}
	if info.Size() == 0 {
		return fmt.Errorf("an empty file: %w", ErrNotOurs)
	}
	if claimed(path) {
		return nil
	}
	// immutable keeps SQLite from so much as making a log beside it. What still
	// stands in a log is not seen, and is not needed to tell whose it is, but
	// for a database whose very first changes are in its log.
	for _, mode := range []string{"immutable=1", "mode=ro"} {
		address := (&url.URL{Scheme: "file", OmitHost: true, Path: path}).String() + "?" + mode
		if err = whose(ctx, address); err == nil {
			return nil
		}
	}
	return err
}

func whose(ctx context.Context, address string) error {
	pool, err := sql.Open("sqlite3", address)
	if err != nil {
		return err
	}
	defer pool.Close()
	var id, tables, all int64
	if err := pool.QueryRowContext(ctx, `PRAGMA application_id`).Scan(&id); err != nil {
		return notADatabase(err)
	}
	if id == ours {
		return nil
	}
	if err := pool.QueryRowContext(ctx, `
		SELECT count(CASE WHEN type = 'table' AND name IN ('goose_db_version', 'students', 'sessions', 'session_values', 'intake') THEN 1 END), count(*)
		FROM sqlite_schema`).Scan(&tables, &all); err != nil {
		return notADatabase(err)
	}
	switch {
	case id == 0 && all == 0:
		return errBlank
	case id != 0 || tables < 5:
		return fmt.Errorf("another program's database: %w", ErrNotOurs)
	}
	return nil
}

// notADatabase tells what is no database at all from one that cannot be read.
func notADatabase(err error) error {
	var se sqlite3.Error
	if errors.As(err, &se) && se.Code == sqlite3.ErrNotADB {
		return fmt.Errorf("%w: %w", ErrNotOurs, err)
	}
	return classify(err)
}
