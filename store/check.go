package store

import (
	"context"
	"crypto/sha256"
	"database/sql"
	"encoding/hex"
	"fmt"
)

// Health is what a check found.
type Health struct {
	Path     string
	Schema   int64 // version, 0 unless checked
	Students int
	Sessions int
	Shots    int
	Open     int   // requests taken on and not settled
	Bytes    int64 // of the file
	LogBytes int64 // of the log beside it
}

// Check reads the whole database for damage and tries whether it can be
// written. Its error says the first thing found wrong.
func (db *DB) Check(ctx context.Context) (Health, error) {
	h, err := db.Health(ctx)
	if err != nil {
		return h, err
	}
	m, err := db.engine.migrator(db.write)
	if err != nil {
		return h, fmt.Errorf("store: checking: %w", err)
	}
	if h.Schema, err = m.GetDBVersion(ctx); err != nil {
		return h, fmt.Errorf("store: checking: %w", err)
	}
	if err := db.query(ctx, "checking", func(tx *sql.Tx) error { return db.engine.integrity(ctx, tx) }); err != nil {
		return h, err
	}
	if err := db.query(ctx, "checking the kept files", wholeFiles(ctx)); err != nil {
		return h, err
	}
	return h, db.writable(ctx)
}

// Health counts what is kept, quickly enough for a metric.
func (db *DB) Health(ctx context.Context) (Health, error) {
	h := Health{Path: db.path}
	err := db.query(ctx, "counting", func(tx *sql.Tx) error {
		return tx.QueryRowContext(ctx, `
			SELECT (SELECT count(*) FROM students),
				(SELECT count(*) FROM sessions),
				(SELECT coalesce(sum(balls), 0) FROM sessions),
				(SELECT count(*) FROM intake WHERE state = 'accepted')`).
			Scan(&h.Students, &h.Sessions, &h.Shots, &h.Open)
	})
	if err != nil {
		return h, err
	}
	h.Bytes, h.LogBytes, err = db.engine.bytes(ctx, db)
	return h, err
}

// wholeFiles unpacks every kept file and holds it against the size and the sum
// it had when it was handed over.
func wholeFiles(ctx context.Context) func(*sql.Tx) error {
	return func(tx *sql.Tx) error {
		rows, err := tx.QueryContext(ctx, `
			SELECT s.id, s.sha256, f.size, f.gzip FROM sessions s LEFT JOIN files f ON f.session = s.id`)
		if err != nil {
			return err
		}
		defer rows.Close()
		for rows.Next() {
			var id, want string
			var size sql.NullInt64
			var packedBytes sql.RawBytes
			if err := rows.Scan(&id, &want, &size, &packedBytes); err != nil {
				return err
			}
			raw, err := packed{size.Int64, packedBytes}.unpack()
			if err != nil {
				return fmt.Errorf("%w: the file of session %s: %w", ErrDamaged, id, err)
			}
			if sum := sha256.Sum256(raw); hex.EncodeToString(sum[:]) != want {
				return fmt.Errorf("%w: the file of session %s is not the one that was handed over", ErrDamaged, id)
			}
		}
		return rows.Err()
	}
}

// writable commits a row that comes and goes within one transaction, for the
// pages it touched have to be written and synced all the same.
func (db *DB) writable(ctx context.Context) error {
	nobody := hiddenID()
	return db.update(ctx, "trying to write", func(tx *sql.Tx) error {
		if err := db.ensureStudent(ctx, tx, "", nobody); err != nil {
			return err
		}
		_, err := tx.ExecContext(ctx, `DELETE FROM students WHERE server = '' AND student = ?`, nobody)
		return err
	})
}
