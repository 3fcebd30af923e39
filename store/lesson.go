package store

import (
	"context"
	"database/sql"

	"rangepost/analysis"
)

// A Lesson is a mark on a student's timeline.
type Lesson struct {
	ID, Server, Student, Coach string
	analysis.Lesson
}

// AddLesson marks a lesson; a zero At is now.
func (db *DB) AddLesson(ctx context.Context, l Lesson) (Lesson, error) {
	l.ID, l.At = db.newID(), timeOf(millis(l.At))
	if l.At.IsZero() {
		l.At = db.stamp()
	}
	return l, db.update(ctx, "marking a lesson", func(tx *sql.Tx) error {
		if err := db.ensureStudent(ctx, tx, l.Server, l.Student); err != nil {
			return err
		}
		_, err := tx.ExecContext(ctx, `INSERT INTO lessons (id, server, student, coach, at, note) VALUES (?, ?, ?, ?, ?, ?)`,
			l.ID, l.Server, l.Student, l.Coach, millis(l.At), l.Note)
		return err
	})
}

// Lessons lists a student's lessons, oldest first.
func (db *DB) Lessons(ctx context.Context, server, student string) (all []Lesson, err error) {
	err = db.query(ctx, "listing lessons", func(tx *sql.Tx) error {
		all, err = lessons(ctx, tx, server, student)
		return err
	})
	return all, err
}

// DeleteLesson takes a lesson off a student's timeline.
func (db *DB) DeleteLesson(ctx context.Context, server, student, id string) error {
	return db.update(ctx, "deleting a lesson", func(tx *sql.Tx) error {
		return changed(tx.ExecContext(ctx, `DELETE FROM lessons WHERE server = ? AND student = ? AND id = ?`, server, student, id))
	})
}

func lessons(ctx context.Context, tx *sql.Tx, server, student string) ([]Lesson, error) {
	return collect(ctx, tx, scanLesson, selectLesson+` WHERE server = ? AND student = ? ORDER BY at, id`, server, student)
}

const selectLesson = `SELECT id, server, student, coach, at, note FROM lessons`

func scanLesson(row scanner) (l Lesson, err error) {
	var at sql.NullInt64
	err = row.Scan(&l.ID, &l.Server, &l.Student, &l.Coach, &at, &l.Note)
	l.At = timeOf(at)
	return l, err
}
