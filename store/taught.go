package store

import (
	"context"
	"database/sql"
	"fmt"

	"rangepost/analysis"
)

// Taught lists what a student's trials with a club taught, oldest session
// first. The zero club is every club.
func (db *DB) Taught(ctx context.Context, server, student string, club analysis.Club) (all []analysis.Observation, err error) {
	err = db.query(ctx, "reading what trials taught", func(tx *sql.Tx) error {
		all, err = collect(ctx, tx, scanTaught, `
			SELECT t.club, t.tool, t.number, t.difference, t.error, t.balls
			FROM sessions s JOIN taught t ON t.session = s.id
			WHERE s.server = ?1 AND s.student = ?2 AND (?3 = '' OR t.club = ?3)
			ORDER BY s.at, s.id, t.place`, server, student, club.Key())
		return err
	})
	return all, err
}

func insertTaught(ctx context.Context, tx *sql.Tx, session string, all []analysis.Observation) error {
	rows := make([][]any, len(all))
	for i, t := range all {
		rows[i] = []any{session, i, t.Club.Key(), t.Tool, t.Number.Info().Key, t.Difference, t.SE, t.Balls}
	}
	return insertRows(ctx, tx, "taught", []string{"session", "place", "club", "tool", "number", "difference", "error", "balls"}, rows)
}

func findTaught(ctx context.Context, tx *sql.Tx, session string) ([]analysis.Observation, error) {
	return collect(ctx, tx, scanTaught, `
		SELECT club, tool, number, difference, error, balls FROM taught WHERE session = ? ORDER BY place`, session)
}

func scanTaught(row scanner) (t analysis.Observation, err error) {
	var club, number string
	if err := row.Scan(&club, &t.Tool, &number, &t.Difference, &t.SE, &t.Balls); err != nil {
		return t, err
	}
	if t.Number, err = taughtNumber(number); err != nil {
		return t, err
	}
	t.Club, err = analysis.ParseClub(club)
	return t, err
}

func taughtNumber(key string) (analysis.Number, error) {
	n, known := analysis.NumberByKey(key)
	if !known {
		return n, fmt.Errorf("a trial taught of a number this program does not know: %s", key)
	}
	return n, nil
}
