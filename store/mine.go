package store

import (
	"context"
	"database/sql"
	"fmt"
	"time"
)

// A StudentExport is everything kept of one student on one server but the
// sessions, which are handed over one at a time. What is kept for a while only
// to answer (requests, what buttons need to know) says nothing else and is left
// out, and so is which of their sessions a coach's pools rest on.
type StudentExport struct {
	Student  Student
	Bindings []Binding
	Lessons  []Lesson
	Findings []Finding // of their lessons
	Noted    []Noted   // drifts somebody has seen
	Briefs   []Brief
	Answers  []Answer // those the student gave
	Entries  []Entry  // in challenges
	Tallies  []Tally
	Removed  []Removed // sessions they deleted
	Comments []string  // they sent as a coach, kept for reuse

	Plans     []Plan
	Placed    []Placed   // where the balls of their sessions belong on those
	Forecasts []Forecast // of theirs, for their own plans and, as a coach, for others'
	Handicaps []Handicap // entered for them, by season
}

// ExportStudent hands over everything kept of a student, on one snapshot. each
// is given every session in turn, oldest first, with its file as it was handed
// over, so that no more than one file is in memory; its error ends the export. It is
// given none twice: a connection lost after the first ends it too.
func (db *DB) ExportStudent(ctx context.Context, server, student string, each func(s Session, raw []byte) error) (e StudentExport, err error) {
	begun := false
	err = db.query(ctx, "exporting a student", func(tx *sql.Tx) (err error) {
		defer func() {
			if err != nil && begun {
				err = once{err}
			}
		}()
		if e.Student, err = findStudent(ctx, tx, server, student); err != nil {
			return err
		}
		if e.Bindings, err = collect(ctx, tx, scanBinding, selectBinding+`
			WHERE server = ? AND student = ? ORDER BY asked, id`, server, student); err != nil {
			return err
		}
		if e.Lessons, err = lessons(ctx, tx, server, student); err != nil {
			return err
		}
		if e.Findings, err = findings(ctx, tx, server, student); err != nil {
			return err
		}
		if e.Noted, err = noted(ctx, tx, server, student); err != nil {
			return err
		}
		if e.Briefs, err = briefs(ctx, tx, server, student); err != nil {
			return err
		}
		if e.Answers, err = collect(ctx, tx, scanAnswer, selectAnswer+`
			WHERE server = ? AND who = ? ORDER BY at, rowid`, server, student); err != nil {
			return err
		}
		if e.Entries, err = collect(ctx, tx, scanEntry, selectEntry+`
			WHERE server = ? AND player = ? AND player <> '' ORDER BY at, rowid`, server, student); err != nil {
			return err
		}
		if e.Tallies, err = tallies(ctx, tx, server, student, time.Time{}); err != nil {
			return err
		}
		if e.Removed, err = removedSince(ctx, tx, server, student, time.Time{}); err != nil {
			return err
		}
		if e.Comments, err = comments(ctx, tx, server, student); err != nil {
			return err
		}
		if e.Plans, err = plans(ctx, tx, server, student); err != nil {
			return err
		}
		if e.Placed, err = collect(ctx, tx, scanPlaced, placedOf, server, student); err != nil {
			return err
		}
		if e.Forecasts, err = forecasts(ctx, tx, server, student, ""); err != nil {
			return err
		}
		if e.Handicaps, err = collect(ctx, tx, scanHandicap, selectHandicap+` WHERE server = ? AND student = ? ORDER BY season`, server, student); err != nil {
			return err
		}
		ids, err := collect(ctx, tx, scanText, `SELECT id FROM sessions `+ofStudent+hitFirst, server, student)
		if err != nil {
			return err
		}
		for _, id := range ids {
			s, err := findSession(ctx, tx, `WHERE server = ? AND id = ?`, server, id)
			if err != nil {
				return err
			}
			if s.Reading.Session.Shots, err = findShots(ctx, tx, id); err != nil {
				return err
			}
			if s.Was, err = renamed(ctx, tx, id); err != nil {
				return err
			}
			raw, err := findRaw(ctx, tx, server, id)
			if err != nil {
				return err
			}
			begun = true
			if err := each(s, raw); err != nil {
				return err
			}
		}
		return nil
	})
	return e, err
}

// ForgetStudent deletes everything kept of a student on a server, in one
// transaction: the student, bindings and the looks at their threads, sessions
// with files and shots, tallies, lessons, briefs, plans, requests, views, their digest,
// comments and forecasts, entries in open challenges, and the answers they gave; entries in
// closed ones lose all that leads to them. Where a message stands pinned in their
// threads is kept until it is taken away there. No figure over a coach's students that
// their trials went into is left. What they did as somebody's coach belongs to that
// somebody and stays, and so do the pools of their students: made afresh they would
// give those away.
//
// Deleted content is overwritten with zeros in the file (secure_delete), and
// the log beside it, where older pages wait, is emptied afterwards; nothing is
// left for VACUUM to do. While a reader still needs the log that has to wait,
// for Prune at the latest. A backup made before still holds the student; one
// made after does not.
func (db *DB) ForgetStudent(ctx context.Context, server, student string) error {
	err := db.update(ctx, "forgetting a student", func(tx *sql.Tx) error {
		if _, err := db.leave(ctx, tx, server, student, false); err != nil {
			return err
		}
		if err := keepDeleted(ctx, tx, server, student, ""); err != nil {
			return err
		}
		if err := untell(ctx, tx, server, student); err != nil {
			return err
		}
		if err := db.revise(ctx, tx, server); err != nil {
			return err
		}
		for _, statement := range []string{
			`DELETE FROM looks WHERE server = ?1 AND thread IN
				(SELECT thread FROM bindings WHERE server = ?1 AND student = ?2)`,
			`DELETE FROM pins WHERE message = '' AND binding IN (SELECT id FROM bindings WHERE server = ?1 AND student = ?2)`,
			`UPDATE pins SET due = 1 WHERE binding IN (SELECT id FROM bindings WHERE server = ?1 AND student = ?2)`,
			`DELETE FROM intake WHERE server = ?1 AND asker = ?2`,
			`DELETE FROM views WHERE server = ?1 AND (owner = ?2 OR student = ?2)`,
			`DELETE FROM answers WHERE server = ?1 AND who = ?2 AND coach = 0 AND manager = 0`,
			`UPDATE answers SET student = '' WHERE server = ?1 AND student = ?2`,
			`DELETE FROM openings WHERE server = ?1 AND coach = ?2`,
			`DELETE FROM digests WHERE server = ?1 AND coach = ?2`,
			`DELETE FROM comments WHERE server = ?1 AND coach = ?2`,
			`DELETE FROM forecasts WHERE server = ?1 AND who = ?2`,
			`UPDATE rulings SET host = '' WHERE host = ?2 AND challenge IN (SELECT id FROM challenges WHERE server = ?1)`,
			// Files, shots, values, bindings, openings, lessons, briefs, plans and tallies go with these two.
			`DELETE FROM sessions WHERE server = ?1 AND student = ?2`,
			`DELETE FROM students WHERE server = ?1 AND student = ?2`,
		} {
			if _, err := tx.ExecContext(ctx, statement, server, student); err != nil {
				return err
			}
		}
		return nil
	})
	if err != nil {
		return err
	}
	if err := db.emptyLog(ctx); err != nil {
		return fmt.Errorf("store: emptying the log: %w", classify(err))
	}
	return nil
}

// emptyLog has what was deleted leave the files.
func (db *DB) emptyLog(ctx context.Context) error { return db.engine.overwrite(ctx, db) }
