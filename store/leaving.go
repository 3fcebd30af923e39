package store

import (
	"context"
	"crypto/sha256"
	"database/sql"
	"encoding/hex"
	"fmt"
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
// again and was made fewer than most times. It is ErrTaken once the player has entered,
// and ErrSpent once they made as many and took them back.
func (db *DB) Announce(ctx context.Context, server, challenge, player string, seed uint64, again time.Duration, most int) (a Announcement, err error) {
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
		before, err := announcedBefore(ctx, tx, challenge, player)
		switch {
		case err != nil:
			return err
		case before >= most:
			return ErrSpent
		}
		if _, err := tx.ExecContext(ctx, `
			INSERT INTO announced (challenge, server, player, at, seed, times) VALUES (?1, ?2, ?3, ?4, ?5, ?8)
			ON CONFLICT (challenge, player) DO UPDATE SET at = excluded.at, seed = excluded.seed, times = announced.times + 1
			WHERE announced.at <= ?6 AND announced.times < ?7`,
			challenge, server, player, millis(now), int64(seed), millis(now.Add(-again)), most, before+1); err != nil {
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

// announcer is who made announcement k and took it back.
func announcer(player string, k int) string { return fmt.Sprintf("%s\x00%d", player, k) }

// announcedBefore is how many announcements of an open challenge a player took back.
func announcedBefore(ctx context.Context, tx *sql.Tx, challenge, player string) (n int, err error) {
	for made := true; made && err == nil; {
		if made, err = hasLeft(ctx, tx, challenge, announcer(player, n)); made {
			n++
		}
	}
	return n, err
}

// takeBackAnnouncements forgets those of a player, but for that there were some.
func takeBackAnnouncements(ctx context.Context, tx *sql.Tx, server, player string) error {
	type taken struct {
		challenge string
		times     int
	}
	all, err := collect(ctx, tx, func(row scanner) (t taken, err error) { return t, row.Scan(&t.challenge, &t.times) }, `
		SELECT c.id, a.times FROM announced a JOIN challenges c ON c.id = a.challenge WHERE a.server = ? AND a.player = ? AND c.closed IS NULL`, server, player)
	for _, t := range all {
		if err == nil {
			err = keepLeft(ctx, tx, t.challenge, player)
		}
		for k := range t.times {
			if err == nil {
				err = keepLeft(ctx, tx, t.challenge, announcer(player, k))
			}
		}
	}
	if err != nil {
		return err
	}
	_, err = tx.ExecContext(ctx, `DELETE FROM announced WHERE server = ? AND player = ?`, server, player)
	return err
}
