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

// A DigestStudent is what a digest has told of a student.
type DigestStudent struct {
	Student string
	Since   time.Time // changes until then were told; zero for all until the digest's own time
	Drift   string    // what the student was told to drift in, "" for nothing; the caller's own
}

// Told is how a brief stood when its coach was told.
type Told struct{ Brief, Standing string }

// SetDigest keeps when a coach wants the changes. For a coach who had none
// they are those from now on; for one who had, those not told yet.
func (db *DB) SetDigest(ctx context.Context, d Digest) error {
	return db.update(ctx, "keeping a digest", func(tx *sql.Tx) error {
		_, err := tx.ExecContext(ctx, `
			INSERT INTO digests (server, coach, weekday, hour, time_zone, up_to) VALUES (?, ?, ?, ?, ?, ?)
			ON CONFLICT (server, coach) DO UPDATE SET weekday = excluded.weekday, hour = excluded.hour,
				time_zone = excluded.time_zone, refused = NULL`,
			d.Server, d.Coach, d.Weekday, d.Hour, d.TimeZone, millis(db.now()))
		return err
	})
}

// EndDigest ends a coach's digest, or is ErrNotFound.
func (db *DB) EndDigest(ctx context.Context, server, coach string) error {
	return db.update(ctx, "ending a digest", func(tx *sql.Tx) error {
		if err := dropTelling(ctx, tx, server, coach); err != nil {
			return err
		}
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

// DigestStudents is what a coach's digest has told of their students, by
// student; whoever is not in it was told of until the digest's own time.
func (db *DB) DigestStudents(ctx context.Context, server, coach string) (by map[string]DigestStudent, err error) {
	err = db.query(ctx, "reading what was told", func(tx *sql.Tx) error {
		all, err := collect(ctx, tx, func(row scanner) (s DigestStudent, err error) {
			var since sql.NullInt64
			err = row.Scan(&s.Student, &since, &s.Drift)
			s.Since = timeOf(since)
			return s, err
		}, `SELECT student, since, drift FROM digest_students WHERE server = ? AND coach = ?`, server, coach)
		by = make(map[string]DigestStudent, len(all))
		for _, s := range all {
			by[s.Student] = s
		}
		return err
	})
	return by, err
}

// DigestSent writes down that a coach was told.
func (db *DB) DigestSent(ctx context.Context, t Telling) error {
	return db.update(ctx, "keeping that a digest was sent", func(tx *sql.Tx) error {
		if err := dropTelling(ctx, tx, t.Server, t.Coach); err != nil {
			return err
		}
		if _, err := tx.ExecContext(ctx, `DELETE FROM digest_students WHERE server = ? AND coach = ?`, t.Server, t.Coach); err != nil {
			return err
		}
		for _, s := range t.Students {
			if s.Since.IsZero() && s.Drift == "" {
				continue
			}
			// Student or digest may be gone meanwhile.
			if _, err := tx.ExecContext(ctx, `
				INSERT INTO digest_students (server, coach, student, since, drift)
				SELECT d.server, d.coach, s.student, ?4, ?5 FROM digests d JOIN students s ON s.server = d.server
				WHERE d.server = ?1 AND d.coach = ?2 AND s.student = ?3`, t.Server, t.Coach, s.Student, millis(s.Since), s.Drift); err != nil {
				return err
			}
		}
		for _, told := range t.Told {
			if err := db.tell(ctx, tx, told); err != nil {
				return err
			}
		}
		_, err := tx.ExecContext(ctx, `UPDATE digests SET up_to = ?, refused = NULL WHERE server = ? AND coach = ?`,
			millis(t.UpTo), t.Server, t.Coach)
		return err
	})
}

// DigestRefused writes down that a digest cannot be delivered. It is not tried
// again before its next hour; the changes stay untold.
func (db *DB) DigestRefused(ctx context.Context, server, coach string) error {
	return db.update(ctx, "keeping that a digest was refused", func(tx *sql.Tx) error {
		if err := dropTelling(ctx, tx, server, coach); err != nil {
			return err
		}
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
