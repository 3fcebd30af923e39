package store

import (
	"context"
	"database/sql"
	"time"
)

// A Ruling is what a host did in a challenge.
type Ruling struct {
	At     time.Time
	Host   string // "" once they were forgotten, and for what nobody did
	What   RulingKind
	Entry  string // it is about, "" if about none or its player is gone
	Reason string // untrusted text
}

// RulingKind is what was ruled.
type RulingKind string

// The kinds of ruling.
const (
	Accepted RulingKind = "accepted" // an entry that waited counts
	TakenOut RulingKind = "removed"  // an entry counts no more
	Voided   RulingKind = "voided"   // the challenge was called off
	Extended RulingKind = "extended" // it ends later, the bot having been away
)

// Rulings lists what hosts did in a challenge, the first before.
func (db *DB) Rulings(ctx context.Context, challenge string) (all []Ruling, err error) {
	err = db.query(ctx, "listing rulings", func(tx *sql.Tx) error {
		all, err = collect(ctx, tx, func(row scanner) (r Ruling, err error) {
			var at sql.NullInt64
			var entry sql.NullString
			err = row.Scan(&at, &r.Host, &r.What, &entry, &r.Reason)
			r.At, r.Entry = timeOf(at), entry.String
			return r, err
		}, `SELECT at, host, what, entry, reason FROM rulings WHERE challenge = ? ORDER BY at, rowid`, challenge)
		return err
	})
	return all, err
}

func (db *DB) rule(ctx context.Context, tx *sql.Tx, challenge string, r Ruling) error {
	if _, err := tx.ExecContext(ctx, `INSERT INTO rulings (id, challenge, at, host, what, entry, reason) VALUES (?, ?, ?, ?, ?, ?, ?)`,
		db.newID(), challenge, millis(db.stamp()), r.Host, r.What, sql.NullString{String: r.Entry, Valid: r.Entry != ""}, r.Reason); err != nil {
		return err
	}
	return revise(ctx, tx, challenge)
}

// AcceptEntry lets an entry count that waited for a host. ErrNotFound if it does
// not wait (any more), ErrExpired once the challenge is closed.
func (db *DB) AcceptEntry(ctx context.Context, server, id, host string) error {
	return db.ruleOn(ctx, server, id, Ruling{Host: host, What: Accepted, Entry: id},
		`UPDATE entries SET waiting = NULL WHERE id = ? AND waiting IS NOT NULL AND removed = ''`)
}

// TakeOutEntry takes an entry out of an open challenge, for good: its player
// does not enter again. ErrNotFound if it is out already, ErrExpired once the
// challenge is closed.
func (db *DB) TakeOutEntry(ctx context.Context, server, id, host, reason string) error {
	return db.ruleOn(ctx, server, id, Ruling{Host: host, What: TakenOut, Entry: id, Reason: reason},
		`UPDATE entries SET removed = ?, waiting = NULL WHERE id = ? AND removed = ''`, reason)
}

func (db *DB) ruleOn(ctx context.Context, server, id string, r Ruling, update string, args ...any) error {
	return db.update(ctx, "ruling on an entry", func(tx *sql.Tx) error {
		e, err := scanEntry(tx.QueryRowContext(ctx, selectEntry+` WHERE server = ? AND id = ?`, server, id))
		if err != nil {
			return err
		}
		c, err := findChallenge(ctx, tx, server, e.Challenge)
		if err != nil {
			return err
		}
		if !c.Closed.IsZero() {
			return ErrExpired
		}
		if err := changed(tx.ExecContext(ctx, update, append(args, id)...)); err != nil {
			return err
		}
		return db.rule(ctx, tx, c.ID, r)
	})
}

// VoidChallenge calls a challenge off, open or closed: nobody has won it.
// ErrExpired if it was before.
func (db *DB) VoidChallenge(ctx context.Context, server, id, host, reason string) error {
	return db.update(ctx, "calling a challenge off", func(tx *sql.Tx) error {
		c, err := findChallenge(ctx, tx, server, id)
		if err != nil {
			return err
		}
		if c.Voided != "" {
			return ErrExpired
		}
		if _, err := tx.ExecContext(ctx, `UPDATE challenges SET voided = ?, closed = coalesce(closed, ?) WHERE id = ?`, reason, millis(db.stamp()), id); err != nil {
			return err
		}
		if err := forgetLeft(ctx, tx, id); err != nil {
			return err
		}
		return db.rule(ctx, tx, id, Ruling{Host: host, What: Voided, Reason: reason})
	})
}

// ExtendChallenge has an open challenge end later.
func (db *DB) ExtendChallenge(ctx context.Context, server, id string, until time.Time, reason string) error {
	return db.update(ctx, "extending a challenge", func(tx *sql.Tx) error {
		if err := changed(tx.ExecContext(ctx, `UPDATE challenges SET until = ? WHERE server = ? AND id = ? AND closed IS NULL AND until < ?`,
			millis(until), server, id, millis(until))); err != nil {
			return err
		}
		return db.rule(ctx, tx, id, Ruling{What: Extended, Reason: reason})
	})
}

// Running is when the bot was last seen to run, the zero time if it never was.
func (db *DB) Running(ctx context.Context) (last time.Time, err error) {
	err = db.query(ctx, "reading when it ran", func(tx *sql.Tx) error {
		at, err := optional(scanTime(tx.QueryRowContext(ctx, `SELECT at FROM running`)))
		if at != nil {
			last = *at
		}
		return err
	})
	return last, err
}

// KeepRunning keeps that it runs now.
func (db *DB) KeepRunning(ctx context.Context) error {
	return db.update(ctx, "keeping that it runs", func(tx *sql.Tx) error {
		_, err := tx.ExecContext(ctx, `INSERT INTO running (id, at) VALUES (1, ?) ON CONFLICT (id) DO UPDATE SET at = excluded.at`, millis(db.stamp()))
		return err
	})
}
