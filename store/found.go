package store

import (
	"context"
	"database/sql"
	"fmt"
	"time"

	"rangepost/analysis"
)

// A Finding is a change of a number that was found to have come with a lesson,
// as it was told then.
type Finding struct {
	Lesson                string // its id
	Number                analysis.Number
	Club                  analysis.Club
	Sessions              int       // after the lesson, at which it was found
	Hit                   time.Time // when the last of those was
	Difference, Low, High float64   // SI
	At                    time.Time // when it was written down
}

// KeepFindings writes findings down; one that is there already stays as it is.
// One about a lesson that is not there any more is left out.
func (db *DB) KeepFindings(ctx context.Context, found []Finding) error {
	return db.update(ctx, "keeping findings", func(tx *sql.Tx) error {
		for _, f := range found {
			if _, err := tx.ExecContext(ctx, `
				INSERT INTO findings (lesson, number, club, sessions, hit, difference, low, high, at)
				SELECT id, ?2, ?3, ?4, ?5, ?6, ?7, ?8, ?9 FROM lessons WHERE id = ?1
				ON CONFLICT DO NOTHING`,
				f.Lesson, f.Number.Info().Key, f.Club.Key(), f.Sessions, millis(f.Hit), f.Difference, f.Low, f.High,
				millis(db.now())); err != nil {
				return err
			}
		}
		return nil
	})
}

// Findings lists what was found of a student, the oldest lesson first.
func (db *DB) Findings(ctx context.Context, server, student string) (all []Finding, err error) {
	err = db.query(ctx, "reading findings", func(tx *sql.Tx) error {
		all, err = findings(ctx, tx, server, student)
		return err
	})
	return all, err
}

func findings(ctx context.Context, tx *sql.Tx, server, student string) ([]Finding, error) {
	return collect(ctx, tx, scanFinding, `
		SELECT f.lesson, f.number, f.club, f.sessions, f.hit, f.difference, f.low, f.high, f.at
		FROM lessons l JOIN findings f ON f.lesson = l.id
		WHERE l.server = ? AND l.student = ? ORDER BY l.at, l.id, f.number, f.club`, server, student)
}

func scanFinding(row scanner) (f Finding, err error) {
	var number, club string
	var hit, at sql.NullInt64
	if err := row.Scan(&f.Lesson, &number, &club, &f.Sessions, &hit, &f.Difference, &f.Low, &f.High, &at); err != nil {
		return f, err
	}
	f.Hit, f.At = timeOf(hit), timeOf(at)
	var known bool
	if f.Number, known = analysis.NumberByKey(number); !known {
		return f, fmt.Errorf("something was found of a number this program does not know: %s", number)
	}
	f.Club, err = analysis.ParseClub(club)
	return f, err
}

// Noted is when a coach said that they had seen a number drift.
type Noted struct {
	Server, Student, Coach string
	Number                 analysis.Number
	Club                   analysis.Club
	At                     time.Time
}

// Note writes down that a coach has seen a number drift.
func (db *DB) Note(ctx context.Context, n Noted) error {
	return db.update(ctx, "noting a drift", func(tx *sql.Tx) error {
		_, err := tx.ExecContext(ctx, `
			INSERT INTO noted (server, student, number, club, at, coach) VALUES (?, ?, ?, ?, ?, ?) ON CONFLICT DO NOTHING`,
			n.Server, n.Student, n.Number.Info().Key, n.Club.Key(), millis(n.At), n.Coach)
		return err
	})
}

// Noted lists what drifts of a student were noted, oldest first.
func (db *DB) Noted(ctx context.Context, server, student string) (all []Noted, err error) {
	err = db.query(ctx, "reading what was noted", func(tx *sql.Tx) error {
		all, err = noted(ctx, tx, server, student)
		return err
	})
	return all, err
}

func noted(ctx context.Context, tx *sql.Tx, server, student string) ([]Noted, error) {
	return collect(ctx, tx, scanNoted, `
		SELECT server, student, coach, number, club, at FROM noted WHERE server = ? AND student = ? ORDER BY at, number, club`,
		server, student)
}

func scanNoted(row scanner) (n Noted, err error) {
	var number, club string
	var at sql.NullInt64
	if err := row.Scan(&n.Server, &n.Student, &n.Coach, &number, &club, &at); err != nil {
		return n, err
	}
	n.At = timeOf(at)
	var known bool
	if n.Number, known = analysis.NumberByKey(number); !known {
		return n, fmt.Errorf("a drift was noted of a number this program does not know: %s", number)
	}
	n.Club, err = analysis.ParseClub(club)
	return n, err
}
