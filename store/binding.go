package store

import (
	"context"
	"database/sql"
	"errors"
	"time"
)

// A Binding makes a thread the lesson thread of one student with one coach. It
// is asked for by the coach, and lets nobody see anything until it is given:
// by the student or, for a junior, by a guardian whose decision the coach
// records.
type Binding struct {
	ID, Server             string
	Student, Coach, Thread string
	Asked                  time.Time
	Given                  time.Time // zero until given
	Guardian               bool      // a guardian gave it
	Ended                  time.Time // zero while it is not over
	Why                    Ending
}

// Ending is why a binding is over.
type Ending string

// The endings.
const (
	Declined  Ending = "declined"  // the student did not consent
	Withdrawn Ending = "withdrawn" // the student took consent back
	Unbound   Ending = "unbound"   // the coach ended it
	Replaced  Ending = "replaced"  // the student gave consent to another binding
)

// Live reports whether the student's consent stands.
func (b Binding) Live() bool { return !b.Given.IsZero() && b.Ended.IsZero() }

// AskConsent writes down that a coach wants a thread to be a student's lesson
// thread. Asked again while the answer is open or given, the same binding
// comes back. It is ErrTaken if the thread is another student's.
func (db *DB) AskConsent(ctx context.Context, server, thread, student, coach string) (b Binding, err error) {
	id := db.newID()
	err = db.update(ctx, "asking consent", func(tx *sql.Tx) error {
		if err := db.ensureStudent(ctx, tx, server, student); err != nil {
			return err
		}
		if err := threadFree(ctx, tx, server, thread, student); err != nil {
			return err
		}
		b, err = scanBinding(tx.QueryRowContext(ctx, selectBinding+`
			WHERE server = ? AND thread = ? AND student = ? AND coach = ? AND ended IS NULL`,
			server, thread, student, coach))
		if !errors.Is(err, sql.ErrNoRows) {
			return err
		}
		b = Binding{ID: id, Server: server, Student: student, Coach: coach, Thread: thread, Asked: db.stamp()}
		_, err = tx.ExecContext(ctx, `
			INSERT INTO bindings (id, server, student, coach, thread, asked, guardian, why)
			VALUES (?, ?, ?, ?, ?, ?, 0, '')`,
			b.ID, b.Server, b.Student, b.Coach, b.Thread, millis(b.Asked))
		return err
	})
	return b, err
}

// GiveConsent makes a binding live and ends the one the student had before: a
// student has one coach at a time. Only the student may give it or, for a
// junior, the coach on a guardian's word; anybody else is ErrForbidden. A
// binding that is over is ErrExpired.
func (db *DB) GiveConsent(ctx context.Context, server, id, by string) (b Binding, err error) {
	err = db.update(ctx, "giving consent", func(tx *sql.Tx) error {
		b, err = findBinding(ctx, tx, server, id)
		if err != nil {
			return err
		}
		s, err := findStudent(ctx, tx, server, b.Student)
		if err != nil {
			return err
		}
		switch {
		case by != b.Student && !(s.Junior && by == b.Coach):
			return ErrForbidden
		case !b.Ended.IsZero():
			return ErrExpired
		case b.Live():
			return nil
		}
		if err := threadFree(ctx, tx, server, b.Thread, b.Student); err != nil {
			return err
		}
		b.Given, b.Guardian = db.stamp(), by != b.Student
		if _, err := tx.ExecContext(ctx, `
			UPDATE pins SET due = 1 WHERE binding IN (
				SELECT id FROM bindings WHERE server = ? AND student = ? AND given IS NOT NULL AND ended IS NULL)`,
			server, b.Student); err != nil {
			return err
		}
		if _, err := tx.ExecContext(ctx, `INSERT INTO pins (binding, thread, message, due) VALUES (?, ?, '', 1)`,
			b.ID, b.Thread); err != nil {
			return err
		}
		if _, err := tx.ExecContext(ctx, `
			UPDATE bindings SET ended = ?, why = ?
			WHERE server = ? AND student = ? AND given IS NOT NULL AND ended IS NULL`,
			millis(b.Given), Replaced, server, b.Student); err != nil {
			return err
		}
		if _, err := tx.ExecContext(ctx, `UPDATE bindings SET given = ?, guardian = ? WHERE id = ?`,
			millis(b.Given), b.Guardian, b.ID); err != nil {
			return err
		}
		return db.revise(ctx, tx, server)
	})
	return b, err
}

// EndBinding ends a binding, which then lets nobody see anything. Only its
// student and its coach may; anybody else is ErrForbidden. One that is over
// already stays as it is.
func (db *DB) EndBinding(ctx context.Context, server, id, by string) (b Binding, err error) {
	err = db.update(ctx, "ending a binding", func(tx *sql.Tx) error {
		b, err = findBinding(ctx, tx, server, id)
		switch {
		case err != nil:
			return err
		case by != b.Student && by != b.Coach:
			return ErrForbidden
		case !b.Ended.IsZero():
			return nil
		case by == b.Coach:
			b.Why = Unbound
		case b.Live():
			b.Why = Withdrawn
		default:
			b.Why = Declined
		}
		b.Ended = db.stamp()
		if _, err := tx.ExecContext(ctx, `UPDATE pins SET due = 1 WHERE binding = ?`, b.ID); err != nil {
			return err
		}
		if _, err := tx.ExecContext(ctx, `UPDATE bindings SET ended = ?, why = ? WHERE id = ?`, millis(b.Ended), b.Why, b.ID); err != nil {
			return err
		}
		return db.revise(ctx, tx, server)
	})
	return b, err
}

// StudentBinding is the live binding of a student, or ErrNotFound.
func (db *DB) StudentBinding(ctx context.Context, server, student string) (b Binding, err error) {
	err = db.query(ctx, "reading a student's binding", func(tx *sql.Tx) error {
		b, err = scanBinding(tx.QueryRowContext(ctx, selectBinding+`
			WHERE server = ? AND student = ? AND given IS NOT NULL AND ended IS NULL`, server, student))
		return err
	})
	return b, err
}

// MaySee reports whether a student's consent lets this coach see their data.
func (db *DB) MaySee(ctx context.Context, server, coach, student string) (bool, error) {
	b, err := db.StudentBinding(ctx, server, student)
	if errors.Is(err, ErrNotFound) {
		return false, nil
	}
	return err == nil && b.Coach == coach, err
}

// Left lists the students who took their consent back from a coach, or gave it
// to another, since a time and have not come back.
func (db *DB) Left(ctx context.Context, server, coach string, since time.Time) (students []string, err error) {
	err = db.query(ctx, "listing who left a coach", func(tx *sql.Tx) error {
		students, err = collect(ctx, tx, func(row scanner) (id string, err error) { return id, row.Scan(&id) }, `
			SELECT DISTINCT student FROM bindings AS was
			WHERE server = ?1 AND coach = ?2 AND given IS NOT NULL AND ended > ?3 AND why IN (?4, ?5)
				AND NOT EXISTS (
					SELECT 1 FROM bindings
					WHERE server = ?1 AND coach = ?2 AND student = was.student AND given IS NOT NULL AND ended IS NULL)
			ORDER BY student`, server, coach, millis(since), Withdrawn, Replaced)
		return err
	})
	return students, err
}

// LiveBindings lists the live bindings of every server, for the bot to know
// them by heart.
func (db *DB) LiveBindings(ctx context.Context) ([]Binding, error) {
	return db.bindings(ctx, ` WHERE given IS NOT NULL AND ended IS NULL ORDER BY server, given, id`)
}

// LiveBindingsOf lists the live ones of a server.
func (db *DB) LiveBindingsOf(ctx context.Context, server string) ([]Binding, error) {
	return db.bindings(ctx, ` WHERE server = ? AND given IS NOT NULL AND ended IS NULL ORDER BY given, id`, server)
}

const (
	selectBinding = `SELECT id, server, student, coach, thread, asked, given, guardian, ended, why FROM bindings`
	liveOfCoach   = ` WHERE server = ? AND coach = ? AND given IS NOT NULL AND ended IS NULL ORDER BY given, id`
)

func (db *DB) bindings(ctx context.Context, where string, args ...any) (all []Binding, err error) {
	err = db.query(ctx, "listing bindings", func(tx *sql.Tx) error {
		all, err = collect(ctx, tx, scanBinding, selectBinding+where, args...)
		return err
	})
	return all, err
}

func findBinding(ctx context.Context, tx *sql.Tx, server, id string) (Binding, error) {
	return scanBinding(tx.QueryRowContext(ctx, selectBinding+` WHERE server = ? AND id = ?`, server, id))
}

func threadBinding(ctx context.Context, tx *sql.Tx, server, thread string) (Binding, error) {
	return scanBinding(tx.QueryRowContext(ctx, selectBinding+`
		WHERE server = ? AND thread = ? AND given IS NOT NULL AND ended IS NULL`, server, thread))
}

// threadFree is ErrTaken if a thread is bound to another than this student.
func threadFree(ctx context.Context, tx *sql.Tx, server, thread, student string) error {
	held, err := threadBinding(ctx, tx, server, thread)
	switch {
	case errors.Is(err, sql.ErrNoRows):
		return nil
	case err == nil && held.Student != student:
		return ErrTaken
	}
	return err
}

func scanBinding(row scanner) (b Binding, err error) {
	var asked, given, ended sql.NullInt64
	err = row.Scan(&b.ID, &b.Server, &b.Student, &b.Coach, &b.Thread, &asked, &given, &b.Guardian, &ended, &b.Why)
	b.Asked, b.Given, b.Ended = timeOf(asked), timeOf(given), timeOf(ended)
	return b, err
}
