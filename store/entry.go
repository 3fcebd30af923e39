package store

import (
	"context"
	"database/sql"
	"encoding/json"
	"strings"
	"time"
)

// An Entry is a player's stretch of balls in a challenge.
type Entry struct {
	ID, Challenge, Server string
	Player                string   // "" once they took their data back
	Session               string   // the last whose balls it has, "" once it was deleted
	Sessions              []string // all of them while the challenge is open, in their order
	SHA256                string   // of the session's file
	At                    time.Time
	Reread                bool      // the file was read again since it was scored
	Rescored              time.Time // when that last changed the balls

	Waiting json.RawMessage // why a host is to look at it first, never read here; nil if it counts
	Removed string          // why a host took it out, "" if none did; untrusted text

	// The balls, what they are measured against, and how it ended, never read
	// here; Final is nil while the challenge is open.
	Stretch, Past, Final json.RawMessage
}

// InPlay reports whether an entry counts.
func (e Entry) InPlay() bool { return e.Waiting == nil && e.Removed == "" }

const inPlay = `waiting IS NULL AND removed = ''`

// Enter keeps an entry, if fits has nothing against it, and why it waits for a
// host, if it does: fits is given the others in one transaction with keeping it,
// so that two entries in the same instant see each other, and whether its player
// left before or deleted a session since. A player has one entry, and a file
// counts once: ErrTaken. A challenge that is over is ErrExpired.
func (db *DB) Enter(ctx context.Context, e Entry, fits func(others []Entry, left bool) (waiting []byte, err error)) (Entry, error) {
	e.ID, e.At = db.newID(), db.stamp()
	err := db.update(ctx, "entering a challenge", func(tx *sql.Tx) error {
		c, err := findChallenge(ctx, tx, e.Server, e.Challenge)
		if err != nil {
			return err
		}
		if c.Over(e.At) {
			return ErrExpired
		}
		others, err := entries(ctx, tx, e.Challenge)
		if err != nil {
			return err
		}
		for _, o := range others {
			if o.Player == e.Player || o.SHA256 == e.SHA256 {
				return ErrTaken
			}
		}
		left, err := hasLeft(ctx, tx, e.Challenge, e.Player)
		if err != nil {
			return err
		}
		if e.Waiting, err = fits(others, left); err != nil {
			return err
		}
		if _, err := tx.ExecContext(ctx, `
			INSERT INTO entries (id, challenge, server, player, session, sha256, at, stretch, past, waiting, reread)
			VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, 0)`,
			e.ID, e.Challenge, e.Server, e.Player, e.Session, e.SHA256, millis(e.At), nonNil(e.Stretch), nonNil(e.Past), []byte(e.Waiting)); err != nil {
			return err
		}
		if len(e.Sessions) == 0 {
			e.Sessions = []string{e.Session}
		}
		for place, session := range e.Sessions {
			if _, err := tx.ExecContext(ctx, `INSERT INTO entry_sessions (entry, place, session) VALUES (?, ?, ?)`, e.ID, place, session); err != nil {
				return err
			}
		}
		return revise(ctx, tx, e.Challenge)
	})
	return e, err
}

// Entries lists the entries of a challenge in the order they came.
func (db *DB) Entries(ctx context.Context, challenge string) (all []Entry, err error) {
	err = db.query(ctx, "listing entries", func(tx *sql.Tx) error {
		all, err = entries(ctx, tx, challenge)
		return err
	})
	return all, err
}

// Rescore keeps what a file that was read again makes of an entry. nil leaves
// the balls as they were: the other reading changed none of them, or cannot be
// scored.
func (db *DB) Rescore(ctx context.Context, e Entry, stretch []byte) error {
	return db.update(ctx, "rescoring an entry", func(tx *sql.Tx) error {
		if stretch == nil {
			_, err := tx.ExecContext(ctx, `UPDATE entries SET reread = 0 WHERE id = ?`, e.ID)
			return err
		}
		if err := changed(tx.ExecContext(ctx, `UPDATE entries SET stretch = ?, reread = 0, rescored = ? WHERE id = ? AND final IS NULL`,
			stretch, millis(db.now()), e.ID)); err != nil {
			return err
		}
		return revise(ctx, tx, e.Challenge)
	})
}

// LeaveChallenges takes a player out of every open challenge of a server and,
// unless it is to stay, their name off every closed one. It says how many that
// were.
func (db *DB) LeaveChallenges(ctx context.Context, server, player string, nameStays bool) (n int, err error) {
	err = db.update(ctx, "leaving challenges", func(tx *sql.Tx) error {
		n, err = db.leave(ctx, tx, server, player, nameStays)
		return err
	})
	return n, err
}

// Entered counts the challenges a player is in.
func (db *DB) Entered(ctx context.Context, server, player string) (n int, err error) {
	err = db.query(ctx, "counting entries", func(tx *sql.Tx) error {
		return tx.QueryRowContext(ctx, `SELECT count(*) FROM entries WHERE server = ? AND player = ? AND player <> ''`, server, player).Scan(&n)
	})
	return n, err
}

func (db *DB) leave(ctx context.Context, tx *sql.Tx, server, player string, nameStays bool) (n int, err error) {
	mine, err := collect(ctx, tx, scanEntry, selectEntry+` WHERE server = ? AND player = ? AND player <> '' ORDER BY at, rowid`, server, player)
	if err != nil {
		return 0, err
	}
	if err := takeBackAnnouncements(ctx, tx, server, player); err != nil {
		return 0, err
	}
	drawn := map[string]string{}
	for _, e := range mine {
		c, err := findChallenge(ctx, tx, server, e.Challenge)
		if err != nil {
			return 0, err
		}
		statement, args := `DELETE FROM entries WHERE id = ?1`, []any{e.ID}
		if c.Closed.IsZero() {
			if err := keepLeft(ctx, tx, c.ID, player); err != nil {
				return 0, err
			}
		} else if nameStays {
			continue
		} else if e.InPlay() {
			if err := db.nameless(ctx, tx, e, drawn); err != nil {
				return 0, err
			}
			statement, args = `UPDATE entries SET player = '', session = NULL, sha256 = '', stretch = ?2, past = ?2 WHERE id = ?1`, []any{e.ID, []byte{}}
		}
		for _, about := range []string{`DELETE FROM entry_sessions WHERE entry = ?`, `UPDATE rulings SET entry = NULL, reason = '' WHERE entry = ?`} {
			if _, err := tx.ExecContext(ctx, about, e.ID); err != nil {
				return 0, err
			}
		}
		if _, err := tx.ExecContext(ctx, statement, args...); err != nil {
			return 0, err
		}
		if err := revise(ctx, tx, e.Challenge); err != nil {
			return 0, err
		}
		n++
	}
	return n, nil
}

// reread marks the entries of a session whose file was read again.
func reread(ctx context.Context, tx *sql.Tx, session string) error {
	_, err := tx.ExecContext(ctx, `
		UPDATE challenges SET revision = revision + 1
		WHERE closed IS NULL AND id IN (SELECT challenge FROM entries WHERE id IN (SELECT entry FROM entry_sessions WHERE session = ?))`, session)
	if err != nil {
		return err
	}
	_, err = tx.ExecContext(ctx, `UPDATE entries SET reread = 1 WHERE id IN (SELECT entry FROM entry_sessions WHERE session = ?) AND final IS NULL`, session)
	return err
}

func revise(ctx context.Context, tx *sql.Tx, challenge string) error {
	_, err := tx.ExecContext(ctx, `UPDATE challenges SET revision = revision + 1 WHERE id = ?`, challenge)
	return err
}

const selectEntry = `
	SELECT id, challenge, server, player, session, sha256, at, stretch, past, reread, rescored, final, waiting, removed,
		(SELECT string_agg(session, ' ' ORDER BY place) FROM entry_sessions WHERE entry = entries.id) FROM entries`

func entries(ctx context.Context, tx *sql.Tx, challenge string) ([]Entry, error) {
	return collect(ctx, tx, scanEntry, selectEntry+` WHERE challenge = ? ORDER BY at, rowid`, challenge)
}

func scanEntry(row scanner) (e Entry, err error) {
	var session sql.NullString
	var at, rescored sql.NullInt64
	var sessions sql.NullString // ids, space between
	err = row.Scan(&e.ID, &e.Challenge, &e.Server, &e.Player, &session, &e.SHA256, &at,
		(*[]byte)(&e.Stretch), (*[]byte)(&e.Past), &e.Reread, &rescored, (*[]byte)(&e.Final),
		(*[]byte)(&e.Waiting), &e.Removed, &sessions)
	if err != nil {
		return e, err
	}
	e.Sessions = strings.Fields(sessions.String)
	e.Session, e.At, e.Rescored = session.String, timeOf(at), timeOf(rescored)
	return e, err
}
