package store

import (
	"context"
	"database/sql"
	"time"
)

// An Opening is a lesson thread that a coach asked to have opened for a student.
// It is there until the thread is and the student was asked in it.
type Opening struct {
	ID, Server, Channel string
	Student, Coach      string
	Name                string // the student's, as last seen; untrusted text
	Asked               time.Time
	Thread              string // "" until it is open
}

// WantThread writes down that a coach wants a lesson thread for a student, in a
// channel. Wanted again before it is open, it is opened where it was wanted
// last.
func (db *DB) WantThread(ctx context.Context, server, channel, student, coach string) error {
	id := db.newID()
	return db.update(ctx, "wanting a lesson thread", func(tx *sql.Tx) error {
		if err := db.ensureStudent(ctx, tx, server, student); err != nil {
			return err
		}
		_, err := tx.ExecContext(ctx, `
			INSERT INTO openings (id, server, channel, student, coach, asked, thread) VALUES (?, ?, ?, ?, ?, ?, '')
			ON CONFLICT (server, student, coach) DO UPDATE SET channel = excluded.channel WHERE openings.thread = ''`,
			id, server, channel, student, coach, millis(db.now()))
		return err
	})
}

// Openings lists the lesson threads that are wanted, those asked for first
// before.
func (db *DB) Openings(ctx context.Context) (all []Opening, err error) {
	err = db.query(ctx, "listing the lesson threads that are wanted", func(tx *sql.Tx) error {
		all, err = collect(ctx, tx, func(row scanner) (o Opening, err error) {
			var asked sql.NullInt64
			err = row.Scan(&o.ID, &o.Server, &o.Channel, &o.Student, &o.Coach, &o.Name, &asked, &o.Thread)
			o.Asked = timeOf(asked)
			return o, err
		}, `
			SELECT o.id, o.server, o.channel, o.student, o.coach, s.name, o.asked, o.thread
			FROM openings o JOIN students s ON s.server = o.server AND s.student = o.student
			ORDER BY o.asked, o.id`)
		return err
	})
	return all, err
}

// Opened keeps which thread was opened. It is ErrNotFound if its student, or the
// coach, was forgotten meanwhile.
func (db *DB) Opened(ctx context.Context, id, thread string) error {
	return db.update(ctx, "keeping a lesson thread", func(tx *sql.Tx) error {
		return changed(tx.ExecContext(ctx, `UPDATE openings SET thread = ? WHERE id = ?`, thread, id))
	})
}

// DropOpening is done with a lesson thread that was wanted.
func (db *DB) DropOpening(ctx context.Context, id string) error {
	return db.update(ctx, "dropping a lesson thread that was wanted", func(tx *sql.Tx) error {
		_, err := tx.ExecContext(ctx, `DELETE FROM openings WHERE id = ?`, id)
		return err
	})
}
