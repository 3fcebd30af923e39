package store

import (
	"context"
	"crypto/sha256"
	"database/sql"
	"encoding/binary"
	"errors"
	"fmt"
	"os"
)

// A backup carries a sum of its own rows in SQLite's user version, a number of the
// file's header that is the program's to use: 24 bits of the sum, and 8 of the schema
// they were summed under. SQLite's own check sees a broken structure and not a figure
// that became another one. No sum is 0, as in a database that is served from.

// writeSum writes a sum into the header.
func writeSum(ctx context.Context, pool *sql.DB, sum int32) error {
	_, err := pool.ExecContext(ctx, fmt.Sprintf(`PRAGMA user_version = %d`, sum))
	return err
}

// sum works out the sum of all rows and of what tables and indexes are made with,
// and returns the one in the header with it.
func (e *sqlite) sum(ctx context.Context, pool *sql.DB) (worked, written int32, err error) {
	tx, err := pool.BeginTx(ctx, nil)
	if err != nil {
		return 0, 0, err
	}
	defer tx.Rollback()
	var schema uint32
	if err := tx.QueryRowContext(ctx, `SELECT max(version_id) FROM goose_db_version`).Scan(&schema); err != nil {
		return 0, 0, err
	}
	if err := tx.QueryRowContext(ctx, `PRAGMA user_version`).Scan(&written); err != nil {
		return 0, 0, err
	}
	all, err := e.tables(ctx, tx)
	if err != nil {
		return 0, 0, err
	}
	made, err := collect(ctx, tx, scanText, `SELECT coalesce(sql, '') FROM sqlite_schema ORDER BY name`)
	if err != nil {
		return 0, 0, err
	}
	sum := sha256.New()
	for _, statement := range made {
		sum.Write([]byte(statement))
	}
	for _, t := range all {
		if err := t.read(ctx, tx, func(row []any) error {
			_, err := sum.Write(binary.BigEndian.AppendUint64(nil, sumOfRow(row)))
			return err
		}); err != nil {
			return 0, 0, err
		}
	}
	bits := binary.BigEndian.Uint32(sum.Sum(nil))
	return int32(bits&^0xff | schema&0xff), written, nil
}

// dropSum takes the sum out of a backup that was put in place by hand and is going
// to be served from.
func (e *sqlite) dropSum() error {
	f, err := os.Open(e.path)
	if err != nil {
		return err
	}
	defer f.Close()
	var sum [4]byte // as the file format has it, at offset 60
	if _, err := f.ReadAt(sum[:], 60); err != nil || sum == [4]byte{} {
		return err
	}
	pool, err := sql.Open(driverName, dsn(e.path, "immediate"))
	if err != nil {
		return err
	}
	return errors.Join(writeSum(context.Background(), pool, 0), pool.Close())
}

// checkSum holds a copied backup against its sum and takes it out, since the copy is
// going to be written to. A backup of an earlier program has none, nor one that was
// brought to another schema since.
func (e *sqlite) checkSum(ctx context.Context) (err error) {
	pool, err := sql.Open(driverName, dsn(e.path, "immediate"))
	if err != nil {
		return err
	}
	defer func() { err = classify(errors.Join(err, pool.Close())) }()
	worked, written, err := e.sum(ctx, pool)
	if err != nil {
		return err
	}
	if written&0xff == worked&0xff && written != worked {
		return fmt.Errorf("%w: its rows are not those that were backed up", ErrDamaged)
	}
	return writeSum(ctx, pool, 0)
}
