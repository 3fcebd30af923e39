package store

import (
	"context"
	"database/sql"
	"time"
)

// A Digest is when a coach wants to hear of the week's changes.
type Digest struct {
	Server, Coach string
	Weekday       time.Weekday
	Hour          int
	TimeZone      string    // IANA name
	UpTo          time.Time // changes until then were told
	Refused       time.Time // when the last one could not be delivered, zero if it could
}

// Told is how a brief stood when its coach was told.
type Told struct{ Brief, Standing string }

// SetDigest keeps when a coach wants the changes. For a coach who had none
// they are those from now on; for one who had, those not told yet.
func (db *DB) SetDigest(ctx context.Context, d Digest) error {
	return db.update(ctx, "keeping a digest", func(tx *sql.Tx) error {
		_, err := tx.ExecContext(ctx, `
			INSERT INTO digests (server, coach, weekday, hour, time_zone, up_to) VALUES (?, ?, ?, ?, ?, ?)
			ON CONFLICT DO UPDATE SET weekday = excluded.weekday, hour = excluded.hour,
				time_zone = excluded.time_zone, refused = NULL`,
			d.Server, d.Coach, d.Weekday, d.Hour, d.TimeZone, millis(db.now()))
		return err
	})
}

// EndDigest ends a coach's digest, or is ErrNotFound.
func (db *DB) EndDigest(ctx context.Context, server, coach string) error {
	return db.update(ctx, "ending a digest", func(tx *sql.Tx) error {
		return changed(tx.ExecContext(ctx, `DELETE FROM digests WHERE server = ? AND coach = ?`, server, coach))
	})
}

// Digest is a coach's, or ErrNotFound.
func (db *DB) Digest(ctx context.Context, server, coach string) (d Digest, err error) {
	err = db.query(ctx, "reading a digest", func(tx *sql.Tx) error {
		d, err = scanDigest(tx.QueryRowContext(ctx, selectDigest+` WHERE server = ? AND coach = ?`, server, coach))
		return err
	})
	return d, err
}

// Digests lists everybody's.
func (db *DB) Digests(ctx context.Context) (all []Digest, err error) {
	err = db.query(ctx, "listing digests", func(tx *sql.Tx) error {
		all, err = collect(ctx, tx, scanDigest, selectDigest+` ORDER BY server, coach`)
		return err
	})
	return all, err
}

// DigestSent writes down that a coach was told of the changes until a time,
// and of how these briefs ended.
func (db *DB) DigestSent(ctx context.Context, server, coach string, upTo time.Time, told []Told) error {
	return db.update(ctx, "keeping that a digest was sent", func(tx *sql.Tx) error {
		for _, t := range told {
			if err := db.tell(ctx, tx, t); err != nil {
				return err
			}
		}
		_, err := tx.ExecContext(ctx, `UPDATE digests SET up_to = ?, refused = NULL WHERE server = ? AND coach = ?`,
			millis(upTo), server, coach)
		return err
	})
}

// DigestRefused writes down that a digest cannot be delivered. It is not tried
// again before its next hour; the changes stay untold.
func (db *DB) DigestRefused(ctx context.Context, server, coach string) error {
	return db.update(ctx, "keeping that a digest was refused", func(tx *sql.Tx) error {
		_, err := tx.ExecContext(ctx, `UPDATE digests SET refused = ? WHERE server = ? AND coach = ?`,
			millis(db.now()), server, coach)
		return err
	})
}

const selectDigest = `SELECT server, coach, weekday, hour, time_zone, up_to, refused FROM digests`

func scanDigest(row scanner) (d Digest, err error) {
	var upTo, refused sql.NullInt64
	err = row.Scan(&d.Server, &d.Coach, &d.Weekday, &d.Hour, &d.TimeZone, &upTo, &refused)
	d.UpTo, d.Refused = timeOf(upTo), timeOf(refused)
	return d, err
}
