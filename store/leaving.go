package store

import (
	"context"
	"crypto/sha256"
	"database/sql"
	"encoding/hex"
	"time"
)

// Whoever leaves a challenge, or deletes a session of theirs, could enter a
// better one. That they did is kept until the challenge ends, under a sum that
// leads to nobody who is not asked about.

func leaver(challenge, player string) string {
	sum := sha256.Sum256([]byte(challenge + "\x00" + player))
	return hex.EncodeToString(sum[:])
}

func keepLeft(ctx context.Context, tx *sql.Tx, challenge, player string) error {
	_, err := tx.ExecContext(ctx, `INSERT INTO left_challenges (challenge, who) VALUES (?, ?) ON CONFLICT DO NOTHING`, challenge, leaver(challenge, player))
	return err
}

// keepDeleted keeps it of every open challenge that a session, or with "" any
// of a student's, was posted since.
func keepDeleted(ctx context.Context, tx *sql.Tx, server, student, session string) error {
	ids, err := collect(ctx, tx, scanText, `
		SELECT id FROM challenges c WHERE server = ?1 AND closed IS NULL AND EXISTS (
			SELECT 1 FROM sessions s WHERE s.server = ?1 AND s.student = ?2 AND s.posted >= c.opened AND ?3 IN ('', s.id))`, server, student, session)
	for _, id := range ids {
		if err == nil {
			err = keepLeft(ctx, tx, id, student)
		}
	}
	return err
}

func hasLeft(ctx context.Context, tx *sql.Tx, challenge, player string) (left bool, err error) {
	err = tx.QueryRowContext(ctx, `SELECT EXISTS (SELECT 1 FROM left_challenges WHERE challenge = ? AND who = ?)`, challenge, leaver(challenge, player)).Scan(&left)
	return left, err
}

// forgetLeft forgets who left a challenge, which has ended.
func forgetLeft(ctx context.Context, tx *sql.Tx, challenge string) error {
	_, err := tx.ExecContext(ctx, `DELETE FROM left_challenges WHERE challenge = ?`, challenge)
	return err
}

// An Announcement is a player saying that the next session they hit is the one that
// counts in a challenge.
type Announcement struct {
	At    time.Time // zero if there is none
	Seed  uint64    // of what was drawn for it
	Times int       // how often they said so; At and Seed are of the last
}

// Announce keeps an announcement. Said again it stays as it is, unless it is as old as
// again, which is not 0. It is ErrTaken once the player has entered.
func (db *DB) Announce(ctx context.Context, server, challenge, player string, seed uint64, again time.Duration) (a Announcement, err error) {
	err = db.update(ctx, "announcing a session", func(tx *sql.Tx) error {
		c, err := findChallenge(ctx, tx, server, challenge)
		if err != nil {
			return err
		}
		now := db.stamp()
		if c.Over(now) {
			return ErrExpired
		}
		var entered bool
		if err := tx.QueryRowContext(ctx, `SELECT EXISTS (SELECT 1 FROM entries WHERE challenge = ? AND player = ?)`, challenge, player).Scan(&entered); err != nil {
			return err
		}
		if entered {
			return ErrTaken
		}
		var lapsed time.Time // an announcement of then or before
		if again > 0 {
			lapsed = now.Add(-again)
		}
		if _, err := tx.ExecContext(ctx, `
			INSERT INTO announced (challenge, server, player, at, seed, times) VALUES (?1, ?2, ?3, ?4, ?5, 1)
			ON CONFLICT (challenge, player) DO UPDATE SET at = excluded.at, seed = excluded.seed, times = announced.times + 1
			WHERE announced.at <= ?6`,
			challenge, server, player, millis(now), int64(seed), millis(lapsed)); err != nil {
			return err
		}
		a, err = announced(ctx, tx, challenge, player)
		return err
	})
	return a, err
}

// Announced is a player's announcement, the zero one if they made none.
func (db *DB) Announced(ctx context.Context, challenge, player string) (a Announcement, err error) {
	err = db.query(ctx, "reading an announcement", func(tx *sql.Tx) error {
		a, err = announced(ctx, tx, challenge, player)
		return err
	})
	return a, err
}

func announced(ctx context.Context, tx *sql.Tx, challenge, player string) (a Announcement, err error) {
	found, err := optional(scanAnnouncement(tx.QueryRowContext(ctx, `SELECT at, seed, times FROM announced WHERE challenge = ? AND player = ?`, challenge, player)))
	if found == nil {
		return a, err
	}
	return *found, err
}

func scanAnnouncement(row scanner) (a Announcement, err error) {
	var at sql.NullInt64
	var seed int64
	err = row.Scan(&at, &seed, &a.Times)
	a.At, a.Seed = timeOf(at), uint64(seed)
	return a, err
}

// takeBackAnnouncements forgets those of a player, but for that there were some.
func takeBackAnnouncements(ctx context.Context, tx *sql.Tx, server, player string) error {
	ids, err := collect(ctx, tx, scanText, `
		SELECT c.id FROM announced a JOIN challenges c ON c.id = a.challenge WHERE a.server = ? AND a.player = ? AND c.closed IS NULL`, server, player)
	for _, id := range ids {
		if err == nil {
			err = keepLeft(ctx, tx, id, player)
		}
	}
	if err != nil {
		return err
	}
	_, err = tx.ExecContext(ctx, `DELETE FROM announced WHERE server = ? AND player = ?`, server, player)
	return err
}
