package store

import (
	"context"
	"database/sql"
	"time"

	"rangepost/analysis"
)

// An Answer settles a question about every file with the same header on a
// server. A coach's outranks a student's; of the same rank the newest counts.
type Answer struct {
	ID, Server  string
	Fingerprint string // of the header
	Key, Value  string // question and choice
	Who         string
	Coach       bool
	At          time.Time
}

// RememberAnswer keeps an answer for the files to come.
func (db *DB) RememberAnswer(ctx context.Context, a Answer) (Answer, error) {
	a.ID, a.At = newID(), db.stamp()
	return a, db.update(ctx, "remembering an answer", func(tx *sql.Tx) error {
		_, err := tx.ExecContext(ctx, `
			INSERT INTO answers (id, server, fingerprint, key, value, who, coach, at)
			VALUES (?, ?, ?, ?, ?, ?, ?, ?)`,
			a.ID, a.Server, a.Fingerprint, a.Key, a.Value, a.Who, a.Coach, millis(a.At))
		return err
	})
}

// Answers are the answers that count for files with a header.
func (db *DB) Answers(ctx context.Context, server, fingerprint string) (analysis.Answers, error) {
	all, err := db.answers(ctx, `
		WHERE server = ? AND fingerprint = ? ORDER BY coach, at, rowid`, server, fingerprint)
	if err != nil {
		return nil, err
	}
	counts := make(analysis.Answers, len(all))
	for _, a := range all {
		counts[a.Key] = a.Value
	}
	return counts, nil
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
	answerColumns = `id, server, fingerprint, key, value, who, coach, at`
	selectAnswer  = `SELECT ` + answerColumns + ` FROM answers`
)

func scanAnswer(row scanner) (a Answer, err error) {
	var at sql.NullInt64
	err = row.Scan(&a.ID, &a.Server, &a.Fingerprint, &a.Key, &a.Value, &a.Who, &a.Coach, &at)
	a.At = timeOf(at)
	return a, err
}
