package store

import (
	"context"
	"database/sql"
	"errors"
)

// Somebody who only wrote direct messages is a student of no server. The first
// server that comes to know them takes along what they posted, so that nothing
// of theirs is out of their reach, and nothing is kept that they can neither
// export nor delete. Migration 5 did the same for those who were known before.

// adopt moves what a student posted by direct message to a server that has just
// come to know them.
func adopt(ctx context.Context, tx *sql.Tx, server, student string) error {
	direct, err := findStudent(ctx, tx, "", student)
	if errors.Is(err, sql.ErrNoRows) {
		return nil
	}
	if err != nil {
		return err
	}
	for _, statement := range []string{
		`UPDATE students SET (name, hand, distance, speed, time_zone) =
			(SELECT name, hand, distance, speed, time_zone FROM students WHERE server = '' AND student = ?2)
			WHERE server = ?1 AND student = ?2`,
		`UPDATE sessions SET server = ?1 WHERE server = '' AND student = ?2`,
		`UPDATE session_values SET server = ?1 WHERE server = '' AND student = ?2`,
		`UPDATE tallies SET server = ?1 WHERE server = '' AND student = ?2`,
		`UPDATE views SET server = ?1 WHERE server = '' AND owner = ?2`,
		`UPDATE answers SET server = ?1 WHERE server = '' AND who = ?2`,
		`UPDATE intake SET server = ?1 WHERE server = '' AND asker = ?2`,
		`DELETE FROM students WHERE server = '' AND student = ?2 AND ?1 <> ''`,
	} {
		if _, err := tx.ExecContext(ctx, statement, server, direct.ID); err != nil {
			return err
		}
	}
	return nil
}
