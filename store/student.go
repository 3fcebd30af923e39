package store

import (
	"context"
	"database/sql"
	"errors"
	"slices"
	"strings"
	"time"

	"rangepost/analysis"
)

// A Student is somebody who posts, on one server.
type Student struct {
	Server, ID string
	Name       string         // as last seen; untrusted text
	Hand       *analysis.Hand // nil until said
	Units      analysis.Units // what was not chosen follows the clubhouse
	TimeZone   string         // IANA name, "" follows the clubhouse
	Junior     bool
	Detail     Detail
	Explained  []string // words and setups that were explained to them
	Since      time.Time
}

// Detail is how much a reply says at first.
type Detail string

// The details.
const (
	Short   Detail = "" // what happened and the one thing to do next
	Figures Detail = "figures"
)

// Student is what is known of a student, who is written down if new.
func (db *DB) Student(ctx context.Context, server, student string) (s Student, err error) {
	err = db.query(ctx, "reading a student", func(tx *sql.Tx) error {
		s, err = findStudent(ctx, tx, server, student)
		return err
	})
	if !errors.Is(err, ErrNotFound) {
		return s, err
	}
	err = db.update(ctx, "writing down a student", func(tx *sql.Tx) error {
		if err := db.ensureStudent(ctx, tx, server, student); err != nil {
			return err
		}
		s, err = findStudent(ctx, tx, server, student)
		return err
	})
	return s, err
}

// ServersOf lists the servers that know somebody as a student, for a direct
// message to find the one it belongs to.
func (db *DB) ServersOf(ctx context.Context, student string) (servers []string, err error) {
	err = db.query(ctx, "listing servers", func(tx *sql.Tx) error {
		servers, err = collect(ctx, tx, scanText, serversOf, student)
		return err
	})
	return servers, err
}

const serversOf = `SELECT server FROM students WHERE student = ? AND server <> '' ORDER BY server`

// SetName keeps a student's name as last seen.
func (db *DB) SetName(ctx context.Context, server, student, name string) error {
	return db.setStudent(ctx, "keeping a name", server, student, `name = ?`, name)
}

// SetHand keeps the hand a student said.
func (db *DB) SetHand(ctx context.Context, server, student string, hand analysis.Hand) error {
	return db.setStudent(ctx, "keeping a hand", server, student, `hand = ?`, hand.String())
}

// SetUnits keeps the units a student said; an empty one follows the clubhouse.
func (db *DB) SetUnits(ctx context.Context, server, student string, u analysis.Units) error {
	return db.setStudent(ctx, "keeping units", server, student,
		`distance = nullif(?, ''), speed = nullif(?, '')`, u.Distance, u.Speed)
}

// SetDetail keeps how much a student is told at first.
func (db *DB) SetDetail(ctx context.Context, server, student string, d Detail) error {
	return db.setStudent(ctx, "keeping a detail", server, student, `detail = ?`, d)
}

// Explain keeps that words were explained to a student, beside those that were.
func (db *DB) Explain(ctx context.Context, server, student string, words ...string) error {
	return db.update(ctx, "keeping what was explained", func(tx *sql.Tx) error {
		s, err := findStudent(ctx, tx, server, student)
		if err != nil {
			return err
		}
		for _, w := range words {
			if !slices.Contains(s.Explained, w) {
				s.Explained = append(s.Explained, w)
			}
		}
		return db.changeStudent(ctx, tx, server, student, `explained = ?`, strings.Join(s.Explained, ";"))
	})
}

// TimeZone is the time zone somebody said, "" if none. Whoever is unknown is
// not written down.
func (db *DB) TimeZone(ctx context.Context, server, who string) (zone string, err error) {
	err = db.query(ctx, "reading a time zone", func(tx *sql.Tx) error {
		zone, err = scanText(tx.QueryRowContext(ctx, `SELECT time_zone FROM students WHERE server = ? AND student = ?`, server, who))
		if errors.Is(err, sql.ErrNoRows) {
			return nil
		}
		return err
	})
	return zone, err
}

// SetTimeZone keeps the time zone a student said. The times of their sessions
// that were read on another clock are to be read again: see ToRedate.
func (db *DB) SetTimeZone(ctx context.Context, server, student, zone string) error {
	return db.update(ctx, "keeping a time zone", func(tx *sql.Tx) error {
		if err := db.changeStudent(ctx, tx, server, student, `time_zone = ?`, zone); err != nil {
			return err
		}
		return redate(ctx, tx, server, `student = ?2`, student)
	})
}

// SetJunior keeps whether a student is a junior. Standings that may name them
// are to be shown anew.
func (db *DB) SetJunior(ctx context.Context, server, student string, junior bool) error {
	return db.update(ctx, "keeping a junior", func(tx *sql.Tx) error {
		if err := db.changeStudent(ctx, tx, server, student, `junior = ?`, junior); err != nil {
			return err
		}
		if err := db.revise(ctx, tx, server); err != nil {
			return err
		}
		_, err := tx.ExecContext(ctx, `
			UPDATE challenges SET revision = revision + 1
			WHERE id IN (SELECT challenge FROM entries WHERE server = ? AND player = ?)`, server, student)
		return err
	})
}

func (db *DB) setStudent(ctx context.Context, what, server, student, set string, args ...any) error {
	return db.update(ctx, what, func(tx *sql.Tx) error {
		return db.changeStudent(ctx, tx, server, student, set, args...)
	})
}

func (db *DB) changeStudent(ctx context.Context, tx *sql.Tx, server, student, set string, args ...any) error {
	if err := db.ensureStudent(ctx, tx, server, student); err != nil {
		return err
	}
	_, err := tx.ExecContext(ctx, `UPDATE students SET `+set+` WHERE server = ? AND student = ?`,
		append(args, server, student)...)
	return err
}

func (db *DB) ensureStudent(ctx context.Context, tx *sql.Tx, server, student string) error {
	res, err := tx.ExecContext(ctx, `
		INSERT INTO students (server, student, name, junior, since) VALUES (?, ?, '', 0, ?)
		ON CONFLICT DO NOTHING`, server, student, millis(db.now()))
	if err != nil || server == "" {
		return err
	}
	if n, err := res.RowsAffected(); err != nil || n == 0 {
		return err
	}
	return adopt(ctx, tx, server, student)
}

func findStudent(ctx context.Context, tx *sql.Tx, server, student string) (s Student, err error) {
	var hand, distance, speed sql.NullString
	var since sql.NullInt64
	var explained string
	err = tx.QueryRowContext(ctx, `
		SELECT server, student, name, hand, distance, speed, time_zone, junior, detail, explained, since
		FROM students WHERE server = ? AND student = ?`, server, student).
		Scan(&s.Server, &s.ID, &s.Name, &hand, &distance, &speed, &s.TimeZone, &s.Junior, &s.Detail, &explained, &since)
	if err != nil {
		return s, err
	}
	if hand.Valid {
		h, err := analysis.ParseHand(hand.String)
		if err != nil {
			return s, err
		}
		s.Hand = &h
	}
	s.Units = analysis.Units{Distance: analysis.DistanceUnit(distance.String), Speed: analysis.SpeedUnit(speed.String)}
	if explained != "" {
		s.Explained = strings.Split(explained, ";")
	}
	s.Since = timeOf(since)
	return s, nil
}
