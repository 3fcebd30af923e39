package store

import (
	"database/sql"
	"errors"
	"fmt"
	"strings"
	"syscall"

	"github.com/mattn/go-sqlite3"
)

// What a caller may want to tell apart. Anything else is internal.
var (
	ErrNotFound    = errors.New("not found")
	ErrExpired     = errors.New("expired")                            // it was there, and its time has passed
	ErrTaken       = errors.New("taken")                              // the thread is another student's
	ErrSpent       = errors.New("done as often as it may be")         // and taken back
	ErrForbidden   = errors.New("not theirs to decide")               // somebody else has to say this
	ErrChanged     = errors.New("changed meanwhile")                  // look again
	ErrFull        = errors.New("the disk is full")                   // nothing was changed
	ErrBusy        = errors.New("another program holds the database") // nothing was changed
	ErrCrowded     = errors.New("too many wrote at once")             // likewise, on a server
	ErrReadOnly    = errors.New("the database cannot be written")     // nothing was changed
	ErrDamaged     = errors.New("the database is damaged")            // restore a backup
	ErrUnreachable = errors.New("the database cannot be reached")     // nothing was changed
	ErrInDoubt     = errors.New("the connection was lost")            // it was kept, or nothing was changed: look
	ErrOwnTools    = errors.New("PostgreSQL has tools of its own for this")
	ErrNewer       = errors.New("written by a newer version of this") // this program must be updated first
)

// classify gives the driver's errors their names here.
func classify(err error) error {
	if errors.Is(err, sql.ErrNoRows) {
		return ErrNotFound
	}
	switch c := code(err); {
	case errors.Is(err, ErrInDoubt):
		return err
	case c == "53100":
		return fmt.Errorf("%w: %w", ErrFull, err)
	case c == "40001", c == "40P01", c == "55P03", c == "57014": // one too many times
		return fmt.Errorf("%w: %w", ErrCrowded, err)
	case c == "25006":
		return fmt.Errorf("%w: %w", ErrReadOnly, err)
	case strings.HasPrefix(c, "XX"):
		return fmt.Errorf("%w: %w", ErrDamaged, err)
	case c != "" && !cut(err):
		return err
	}
	var se sqlite3.Error
	if !errors.As(err, &se) {
		if cut(err) {
			return fmt.Errorf("%w: %w", ErrUnreachable, err)
		}
		return err
	}
	switch se.Code {
	case sqlite3.ErrFull:
		return fmt.Errorf("%w: %w", ErrFull, err)
	case sqlite3.ErrBusy, sqlite3.ErrLocked:
		return fmt.Errorf("%w: %w", ErrBusy, err)
	case sqlite3.ErrReadonly:
		return fmt.Errorf("%w: %w", ErrReadOnly, err)
	case sqlite3.ErrCorrupt, sqlite3.ErrNotADB:
		return fmt.Errorf("%w: %w", ErrDamaged, err)
	}
	// What the system says where SQLite only knows that writing failed: a file
	// system that turned read-only, as after a fault of its disk, a file made
	// unchangeable, or a quota.
	switch se.SystemErrno {
	case syscall.EROFS, syscall.EPERM, syscall.EACCES:
		return fmt.Errorf("%w: %w", ErrReadOnly, err)
	case syscall.EDQUOT, syscall.ENOSPC:
		return fmt.Errorf("%w: %w", ErrFull, err)
	}
	return err
}
