package store

import (
	"context"
	"database/sql"
	"slices"
	"time"
)

// An Answer settles a question about files with the same header. It counts for
// the files of whoever gave it, and of the student whose file it was about; one
// of a coach's or a manager's counts for everybody else's on the server too.
// What was said of one's own files counts more than that; of the same rank the
// newest.
type Answer struct {
	ID, Server  string
	Fingerprint string // of the header
	Key, Value  string // question and choice
	Who         string
	Student     string // whose file was asked about
	Coach       bool   // it was given as a coach, and serves the server
	Manager     bool   // likewise as a manager
	At          time.Time
}

// Own reports whether the answer was given by a student, or about a file of
// theirs.
func (a Answer) Own(student string) bool { return a.Who == student || a.Student == student }

// RememberAnswer keeps an answer for the files to come.
func (db *DB) RememberAnswer(ctx context.Context, a Answer) (Answer, error) {
	a.ID, a.At = db.newID(), db.stamp()
	return a, db.update(ctx, "remembering an answer", func(tx *sql.Tx) error {
		_, err := tx.ExecContext(ctx, `
			INSERT INTO answers (id, server, fingerprint, key, value, who, student, coach, manager, at)
			VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?)`,
			a.ID, a.Server, a.Fingerprint, a.Key, a.Value, a.Who, a.Student, a.Coach, a.Manager, millis(a.At))
		return err
	})
}

// Answers are the answers that count for a student's files with a header, one
// a question.
func (db *DB) Answers(ctx context.Context, server, fingerprint, student string) (counting []Answer, err error) {
	all, err := db.answers(ctx, `
		WHERE server = ?1 AND fingerprint = ?2 AND (coach = 1 OR manager = 1 OR who = ?3 OR student = ?3)
		ORDER BY who = ?3 OR student = ?3, at, rowid`, server, fingerprint, student)
	for _, a := range all {
		counting = slices.DeleteFunc(counting, func(before Answer) bool { return before.Key == a.Key })
		counting = append(counting, a)
	}
	return counting, err
}

// AnswerHistory lists every remembered answer of a server, newest first,
// outranked ones included: what can be shown, and undone.
func (db *DB) AnswerHistory(ctx context.Context, server string) ([]Answer, error) {
	return db.answers(ctx, ` WHERE server = ? ORDER BY at DESC, rowid DESC`, server)
}

// UndoAnswer takes an answer back and says which it was. The one it had
// replaced counts again.
func (db *DB) UndoAnswer(ctx context.Context, server, id string) (a Answer, err error) {
	err = db.update(ctx, "undoing an answer", func(tx *sql.Tx) error {
		a, err = scanAnswer(tx.QueryRowContext(ctx, `
			DELETE FROM answers WHERE server = ? AND id = ? RETURNING `+answerColumns, server, id))
		return err
	})
	return a, err
}

func (db *DB) answers(ctx context.Context, where string, args ...any) (all []Answer, err error) {
	err = db.query(ctx, "reading answers", func(tx *sql.Tx) error {
		all, err = collect(ctx, tx, scanAnswer, selectAnswer+where, args...)
		return err
	})
	return all, err
}

const (
	answerColumns = `id, server, fingerprint, key, value, who, student, coach, manager, at`
	selectAnswer  = `SELECT ` + answerColumns + ` FROM answers`
)

func scanAnswer(row scanner) (a Answer, err error) {
	var at sql.NullInt64
	err = row.Scan(&a.ID, &a.Server, &a.Fingerprint, &a.Key, &a.Value, &a.Who, &a.Student, &a.Coach, &a.Manager, &at)
	a.At = timeOf(at)
	return a, err
}
