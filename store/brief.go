package store

import (
	"context"
	"database/sql"
	"errors"
	"fmt"
	"time"

	"rangepost/analysis"
)

// A Brief is what a coach asked a student to work on. It is active up to and
// including its date.
type Brief struct {
	ID, Server, Student, Coach string
	analysis.Brief
	At      time.Time // when it was set
	Ended   time.Time // zero while not replaced or ended
	Settled *Settled  // nil while it runs
}

// Settled is how a brief was settled, once and for all.
type Settled struct {
	At         time.Time
	Standing   string
	Inside, Of int     // of the balls that settled it; 0 of a brief that was told before they were kept
	Counted    float64 // independent balls those count for
}

// SettleBrief keeps how a brief is settled, unless it is already, and returns
// how it is.
func (db *DB) SettleBrief(ctx context.Context, id string, s Settled) (kept Settled, err error) {
	err = db.update(ctx, "settling a brief", func(tx *sql.Tx) error {
		if _, err := tx.ExecContext(ctx, `
			UPDATE briefs SET settled = ?, standing = ?, inside = ?, balls_hit = ?, counted = ? WHERE id = ? AND settled IS NULL`,
			millis(db.stamp()), s.Standing, s.Inside, s.Of, s.Counted, id); err != nil {
			return err
		}
		b, err := scanBrief(tx.QueryRowContext(ctx, selectBrief+` WHERE id = ?`, id))
		if err == nil {
			kept = *b.Settled
		}
		return err
	})
	return kept, err
}

// SetBrief sets a brief in place of the one the student has.
func (db *DB) SetBrief(ctx context.Context, b Brief) (Brief, error) {
	if err := named(b.Club); err != nil {
		return Brief{}, fmt.Errorf("store: setting a brief: %w", err)
	}
	if int(b.Number) >= analysis.NumNumbers {
		return Brief{}, fmt.Errorf("store: setting a brief: there is no number %d", b.Number)
	}
	b.ID, b.At, b.Until, b.Ended, b.Settled = db.newID(), db.stamp(), timeOf(millis(b.Until)), time.Time{}, nil
	err := db.update(ctx, "setting a brief", func(tx *sql.Tx) error {
		if err := db.ensureStudent(ctx, tx, b.Server, b.Student); err != nil {
			return err
		}
		if err := endBriefs(ctx, tx, b.Server, b.Student, b.At); err != nil {
			return err
		}
		_, err := tx.ExecContext(ctx, `
			INSERT INTO briefs (id, server, student, coach, number, low, high, club, label, balls, share, until, at)
			VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?)`,
			b.ID, b.Server, b.Student, b.Coach, b.Number.Info().Key, b.Low, b.High, b.Club.Key(), b.Label, b.Balls, b.Share,
			millis(b.Until), millis(b.At))
		return err
	})
	return b, err
}

// ActiveBrief is the brief a student has now, or ErrNotFound.
func (db *DB) ActiveBrief(ctx context.Context, server, student string) (b Brief, err error) {
	err = db.query(ctx, "reading the brief", func(tx *sql.Tx) error {
		b, err = activeBrief(ctx, tx, server, student, db.now())
		return err
	})
	return b, err
}

// EndBrief ends the brief a student has, or is ErrNotFound.
func (db *DB) EndBrief(ctx context.Context, server, student string) error {
	return db.update(ctx, "ending a brief", func(tx *sql.Tx) error {
		return changed(tx.ExecContext(ctx, `
			UPDATE briefs SET ended = ? WHERE server = ? AND student = ? AND ended IS NULL`,
			millis(db.now()), server, student))
	})
}

// BriefAbout keeps which set a running brief is about.
func (db *DB) BriefAbout(ctx context.Context, id, label string) error {
	return db.update(ctx, "keeping the set of a brief", func(tx *sql.Tx) error {
		return changed(tx.ExecContext(ctx, `UPDATE briefs SET label = ? WHERE id = ? AND ended IS NULL AND settled IS NULL`, label, id))
	})
}

// Briefs lists every brief a student was set, oldest first.
func (db *DB) Briefs(ctx context.Context, server, student string) (all []Brief, err error) {
	err = db.query(ctx, "listing briefs", func(tx *sql.Tx) error {
		all, err = briefs(ctx, tx, server, student)
		return err
	})
	return all, err
}

// Untold lists the briefs a coach set a student that were ended or replaced
// since a time, without the coach having been told how they stood, oldest
// first.
func (db *DB) Untold(ctx context.Context, server, student, coach string, since time.Time) (all []Brief, err error) {
	err = db.query(ctx, "listing briefs a coach was not told of", func(tx *sql.Tx) error {
		all, err = collect(ctx, tx, scanBrief, selectBrief+`
			WHERE server = ? AND student = ? AND coach = ? AND ended > ? AND NOT EXISTS (SELECT 1 FROM told WHERE brief = id)
			ORDER BY at, id`, server, student, coach, millis(since))
		return err
	})
	return all, err
}

// Tell writes down that a coach was told how a brief stands; told otherwise
// later, that counts.
func (db *DB) Tell(ctx context.Context, t Told) error {
	return db.update(ctx, "keeping that a coach was told", func(tx *sql.Tx) error { return db.tell(ctx, tx, t) })
}

func (db *DB) tell(ctx context.Context, tx *sql.Tx, t Told) error {
	// The brief may have been deleted meanwhile, with its student.
	_, err := tx.ExecContext(ctx, `
		INSERT INTO told (brief, standing, at) SELECT id, ?2, ?3 FROM briefs WHERE id = ?1
		ON CONFLICT (brief) DO UPDATE SET standing = excluded.standing, at = excluded.at WHERE told.standing <> excluded.standing`, t.Brief, t.Standing, millis(db.now()))
	return err
}

func endBriefs(ctx context.Context, tx *sql.Tx, server, student string, at time.Time) error {
	_, err := tx.ExecContext(ctx, `UPDATE briefs SET ended = ? WHERE server = ? AND student = ? AND ended IS NULL`,
		millis(at), server, student)
	return err
}

func activeBrief(ctx context.Context, tx *sql.Tx, server, student string, now time.Time) (Brief, error) {
	return scanBrief(tx.QueryRowContext(ctx, selectBrief+`
		WHERE server = ? AND student = ? AND ended IS NULL AND (until IS NULL OR until >= ?)
		ORDER BY at DESC, id DESC LIMIT 1`, server, student, millis(now)))
}

// lastBrief is the brief set last, if it was not ended; its date may have
// passed.
func lastBrief(ctx context.Context, tx *sql.Tx, server, student string) (Brief, error) {
	return scanBrief(tx.QueryRowContext(ctx, selectBrief+`
		WHERE server = ? AND student = ? AND ended IS NULL ORDER BY at DESC, id DESC LIMIT 1`, server, student))
}

// LastBrief is the brief a student was set last, if it was not ended; its date
// may have passed. ErrNotFound without one.
func (db *DB) LastBrief(ctx context.Context, server, student string) (b Brief, err error) {
	err = db.query(ctx, "reading the last brief", func(tx *sql.Tx) error {
		b, err = lastBrief(ctx, tx, server, student)
		return err
	})
	return b, err
}

func briefs(ctx context.Context, tx *sql.Tx, server, student string) ([]Brief, error) {
	return collect(ctx, tx, scanBrief, selectBrief+` WHERE server = ? AND student = ? ORDER BY at, id`, server, student)
}

const selectBrief = `
	SELECT id, server, student, coach, number, low, high, club, label, balls, share, until, at, ended,
		settled, coalesce(standing, ''), coalesce(inside, 0), coalesce(balls_hit, 0), coalesce(counted, 0) FROM briefs`

func scanBrief(row scanner) (b Brief, err error) {
	var number, club string
	var until, at, ended, settled sql.NullInt64
	var how Settled
	err = row.Scan(&b.ID, &b.Server, &b.Student, &b.Coach, &number, &b.Low, &b.High, &club, &b.Label, &b.Balls, &b.Share, &until, &at, &ended,
		&settled, &how.Standing, &how.Inside, &how.Of, &how.Counted)
	if err != nil {
		return b, err
	}
	if settled.Valid {
		how.At = timeOf(settled)
		b.Settled = &how
	}
	b.Until, b.At, b.Ended = timeOf(until), timeOf(at), timeOf(ended)
	var known bool
	if b.Number, known = analysis.NumberByKey(number); !known {
		return b, errors.New("brief on a number this program does not know: " + number)
	}
	b.Club, err = analysis.ParseClub(club)
	return b, err
}
