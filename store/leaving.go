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

// Announce keeps that a player's next session is the one that counts in a
// challenge. It is said once; at is when.
func (db *DB) Announce(ctx context.Context, server, challenge, player string) (at time.Time, err error) {
	err = db.update(ctx, "announcing a session", func(tx *sql.Tx) error {
		c, err := findChallenge(ctx, tx, server, challenge)
		if err != nil {
			return err
		}
		if c.Over(db.stamp()) {
			return ErrExpired
		}
		if _, err := tx.ExecContext(ctx, `INSERT INTO announced (challenge, server, player, at) VALUES (?, ?, ?, ?) ON CONFLICT DO NOTHING`,
			challenge, server, player, millis(db.stamp())); err != nil {
			return err
		}
		at, err = announced(ctx, tx, challenge, player)
		return err
	})
	return at, err
}

// Announced is when a player announced their session, the zero time if they
// did not.
func (db *DB) Announced(ctx context.Context, challenge, player string) (at time.Time, err error) {
	err = db.query(ctx, "reading an announcement", func(tx *sql.Tx) error {
		at, err = announced(ctx, tx, challenge, player)
		return err
	})
	return at, err
}

func announced(ctx context.Context, tx *sql.Tx, challenge, player string) (time.Time, error) {
	at, err := optional(scanTime(tx.QueryRowContext(ctx, `SELECT at FROM announced WHERE challenge = ? AND player = ?`, challenge, player)))
	if at == nil {
		return time.Time{}, err
	}
	return *at, err
}
