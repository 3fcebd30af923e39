package store

import (
	"context"
	"database/sql"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
)

// Backup writes a copy of the database, as it is at one instant, to a new file
// at path. Posts go on meanwhile. The copy appears whole or not at all, and is
// a database like any other: Open opens it, Restore puts it in place. It
// refuses to write over a file. On PostgreSQL it is ErrOwnTools.
func (db *DB) Backup(ctx context.Context, path string) error {
	if err := db.engine.backup(ctx, path); err != nil {
		return fmt.Errorf("store: backing up to %s: %w", path, err)
	}
	return nil
}

func (e *sqlite) backup(ctx context.Context, path string) error {
	if err := absent(path); err != nil {
		return err
	}
	dir, err := os.MkdirTemp(filepath.Dir(path), ".backup-")
	if err != nil {
		return err
	}
	defer os.RemoveAll(dir)
	part := filepath.Join(dir, "part.db")
	// VACUUM INTO reads one snapshot and leaves out free pages, so nothing
	// deleted is carried along. It wants a connection that may write.
	pool, err := sql.Open(driverName, dsn(e.path, "deferred"))
	if err != nil {
		return err
	}
	defer pool.Close()
	if _, err := pool.ExecContext(ctx, `VACUUM INTO ?`, part); err != nil {
		return classify(err)
	}
	// A copy that is not whole is none: whoever needs it finds that out too late.
	copied, err := Open(ctx, part, Existing())
	if err != nil {
		return err
	}
	if _, err = copied.Check(ctx); err == nil {
		var sum int32
		if sum, _, err = e.sum(ctx, copied.write); err == nil {
			err = writeSum(ctx, copied.write, sum)
		}
	}
	if err := errors.Join(err, copied.Close()); err != nil {
		return err
	}
	return settleFile(part, path)
}

// Restore puts a copy of a backup where a database is to be, whole or not at
// all, once every row was held against the backup's sum, and it has been read
// through for damage and brought to the newest schema. The backup itself is only
// read. It refuses to write over a database: move that away, with the -wal and
// -shm files beside it.
func Restore(ctx context.Context, backup, path string) error {
	if err := restore(ctx, backup, path); err != nil {
		return fmt.Errorf("store: restoring %s from %s: %w", path, backup, err)
	}
	return nil
}

func restore(ctx context.Context, backup, path string) error {
	if IsServer(path) {
		return ErrOwnTools
	}
	for _, p := range []string{path, path + "-wal", path + "-shm"} {
		if err := absent(p); err != nil {
			return err
		}
	}
	dir, err := os.MkdirTemp(filepath.Dir(path), ".restore-")
	if err != nil {
		return err
	}
	defer os.RemoveAll(dir)
	part := filepath.Join(dir, "part.db")
	if err := recognise(ctx, backup); err != nil {
		return err
	}
	if err := copyFile(backup, part); err != nil {
		return err
	}
	if err := (&sqlite{path: part}).checkSum(ctx); err != nil {
		return err
	}
	db, err := Open(ctx, part)
	if err != nil {
		return err
	}
	_, err = db.Check(ctx)
	// The last connection to close moves the log into the file.
	if err := errors.Join(err, db.Close()); err != nil {
		return err
	}
	return settleFile(part, path)
}

func copyFile(from, to string) error {
	r, err := os.Open(from)
	if err != nil {
		return err
	}
	defer r.Close()
	w, err := os.OpenFile(to, os.O_CREATE|os.O_EXCL|os.O_WRONLY, 0o600)
	if err != nil {
		return err
	}
	_, err = io.Copy(w, r)
	return errors.Join(err, w.Close())
}

func absent(path string) error {
	_, err := os.Lstat(path)
	if err == nil {
		return &fs.PathError{Op: "write", Path: path, Err: fs.ErrExist}
	}
	if errors.Is(err, fs.ErrNotExist) {
		return nil
	}
	return err
}

// settleFile makes the file at part durable, private, and visible as path.
func settleFile(part, path string) error {
	if err := os.Chmod(part, 0o600); err != nil {
		return err
	}
	for _, step := range []func() error{
		func() error { return syncPath(part) },
		func() error { return os.Rename(part, path) },
		func() error { return syncPath(filepath.Dir(path)) },
	} {
		if err := step(); err != nil {
			return err
		}
	}
	return nil
}

func syncPath(path string) error {
	f, err := os.Open(path)
	if err != nil {
		return err
	}
	return errors.Join(f.Sync(), f.Close())
}
