package store

import (
	"context"
	"database/sql"
	"fmt"
	"slices"
	"strings"
	"time"

	"rangepost/analysis"
)

// A TriedBall is a number of one used ball that was hit otherwise than usual.
type TriedBall struct {
	Club     analysis.Club
	Label    string // of its set
	Value    float64
	Inferred bool
}

// Tried is a number of the used balls that a student hit otherwise than usual, in
// sessions hit since then, in the order of the file, by session: Values has the
// others. Sessions that name no sets, by far the most, are not read.
func (db *DB) Tried(ctx context.Context, server, student string, n analysis.Number, hitSince time.Time) (balls map[string][]TriedBall, err error) {
	if int(n) >= analysis.NumNumbers {
		return nil, fmt.Errorf("store: reading what was tried: there is no number %d", n)
	}
	key := n.Info().Key
	type ball struct {
		session string
		place   int
		TriedBall
	}
	clubs := clubs{}
	err = db.query(ctx, "reading what was tried", func(tx *sql.Tx) error {
		all, err := collect(ctx, tx, func(row scanner) (b ball, err error) {
			var club, inferred string
			if err := row.Scan(&b.session, &b.place, &club, &b.Label, &b.Value, &inferred); err != nil {
				return b, err
			}
			b.Inferred = slices.Contains(strings.Fields(inferred), key)
			b.Club, err = clubs.parse(club)
			return b, err
		}, triedBalls(key), server, student, since(hitSince))
		// SQLite hands them over in order, and sorting them there would cost it more.
		slices.SortStableFunc(all, func(a, b ball) int { return a.place - b.place })
		balls = map[string][]TriedBall{}
		for _, b := range all {
			balls[b.session] = append(balls[b.session], b.TriedBall)
		}
		return err
	})
	return balls, err
}

// triedBalls reads them of sessions whose file or poster names sets. A
// cross join is read as it is written: session by session, place by place.
func triedBalls(column string) string {
	return `
	SELECT s.id, h.place, h.club, h.label, h."` + column + `", h.inferred
	FROM sessions s CROSS JOIN shots h
	WHERE h.session = s.id AND s.server = ? AND s.student = ? AND s.at >= ? AND (s.labelled = 1 OR s.said LIKE '%"sets":%')
		AND h.setup = 2 AND h.aside = '' AND h."` + column + `" IS NOT NULL`
}
