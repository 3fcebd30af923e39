package store

import (
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"strings"
	"syscall"
)

// ErrHeld is a database that another process serves from.
var ErrHeld = errors.New("another process serves from this database")

// Hold makes this process the only one that serves from the database, until it
// is closed or the process ends. While another holds it, Hold is ErrHeld and
// says which. Backups and checks need no hold.
// A server of databases holds any number.
func (db *DB) Hold() error { return db.engine.hold(context.Background()) }

func (e *sqlite) hold(context.Context) error {
	path := e.path + ".lock"
	f, err := os.OpenFile(path, os.O_CREATE|os.O_RDWR, 0o600)
	if err != nil {
		return fmt.Errorf("store: holding %s: %w", e.path, err)
	}
	// The kernel lets go of it whichever way the process ends.
	if err := syscall.Flock(int(f.Fd()), syscall.LOCK_EX|syscall.LOCK_NB); err != nil {
		who, _ := io.ReadAll(io.LimitReader(f, 200))
		f.Close()
		if errors.Is(err, syscall.EWOULDBLOCK) {
			return fmt.Errorf("store: %s: %w (%s)", e.path, ErrHeld, strings.TrimSpace(string(who)))
		}
		return fmt.Errorf("store: holding %s: %w", e.path, err)
	}
	host, _ := os.Hostname()
	err = f.Truncate(0)
	if err == nil {
		_, err = fmt.Fprintf(f, "process %d on %s\n", os.Getpid(), host)
	}
	if err != nil {
		f.Close()
		return fmt.Errorf("store: holding %s: %w", e.path, err)
	}
	e.held = f
	return e.dropSum()
}
