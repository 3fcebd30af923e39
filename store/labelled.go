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

// A LabelledBall is a number of one used ball of a session that names sets.
type LabelledBall struct {
	Club     analysis.Club
	Label    string // of its set, "" without one
	Value    float64
	Inferred bool
}

// Labelled is a number of the used balls of a student's sessions hit since then
// that name sets, in the order of the file, by session: the values that Values
// has of them, ball by ball. Sessions that name none, by far the most, are not
// read.
func (db *DB) Labelled(ctx context.Context, server, student string, n analysis.Number, hitSince time.Time) (balls map[string][]LabelledBall, err error) {
	if int(n) >= analysis.NumNumbers {
		return nil, fmt.Errorf("store: reading labelled balls: there is no number %d", n)
	}
	key := n.Info().Key
	type ball struct {
		session string
		LabelledBall
	}
	clubs := clubs{}
	err = db.query(ctx, "reading labelled balls", func(tx *sql.Tx) error {
		all, err := collect(ctx, tx, func(row scanner) (b ball, err error) {
			var club, inferred string
			if err := row.Scan(&b.session, &club, &b.Label, &b.Value, &inferred); err != nil {
				return b, err
			}
			b.Inferred = slices.Contains(strings.Fields(inferred), key)
			b.Club, err = clubs.parse(club)
			return b, err
		}, labelledBalls(key), server, student, since(hitSince))
		balls = map[string][]LabelledBall{}
		for _, b := range all {
			balls[b.session] = append(balls[b.session], b.LabelledBall)
		}
		return err
	})
	return balls, err
}

// labelledBalls reads the balls of sessions whose file or poster names sets. A
// cross join is read as it is written: session by session, place by place.
func labelledBalls(column string) string {
	return `
	SELECT s.id, h.club, h.label, h.` + column + `, h.inferred
	FROM sessions s CROSS JOIN shots h ON h.session = s.id
	WHERE s.server = ? AND s.student = ? AND s.at >= ? AND (s.labelled = 1 OR instr(s.said, '"sets":') > 0)
		AND h.aside = '' AND h.` + column + ` IS NOT NULL`
}
