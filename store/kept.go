package store

import (
	"context"
	"database/sql"
	"time"
)

// Progress is how far a brief has been worked on.
type Progress struct {
	Balls      [][]bool  // whether each ball was inside its limits, a series a session, those posted first before
	Inside, Of int       // balls inside its limits, of those that have its number
	Sessions   int       // they were hit in
	Last       time.Time // when the last of those was hit
}

// Progress lists the balls of a brief: those posted since it was set, hit
// since then and no later than its date, with its club and number, of the set
// it is about (analysis.Brief.About). Of balls whose hour is not known the day has to reach into that time.
// Mishits count, misreads do not: a ball that was struck was struck. So does one
// that was posted with that club and is called another since. After it
// ended nothing counts any more.
func (db *DB) Progress(ctx context.Context, b Brief) (p Progress, err error) {
	err = db.query(ctx, "reading a brief's progress", func(tx *sql.Tx) error {
		p, err = progress(ctx, tx, b)
		return err
	})
	return p, err
}

func progress(ctx context.Context, tx *sql.Tx, b Brief) (p Progress, err error) {
	rows, err := tx.QueryContext(ctx, progressOf(b.Number.Info().Key),
		b.Server, b.Student, millis(b.At), millis(b.Until), millis(b.Ended), b.Club.Key(), b.Low, b.High, folded(b.Label))
	if err != nil {
		return p, err
	}
	defer rows.Close()
	for rows.Next() {
		var at sql.NullInt64
		var series sql.NullString // a 0 or a 1 a ball
		if err := rows.Scan(&at, &series); err != nil {
			return p, err
		}
		balls := series.String
		if balls == "" { // no ball of the brief's
			continue
		}
		inside := make([]bool, len(balls))
		for i := range balls {
			if inside[i] = balls[i] == '1'; inside[i] {
				p.Inside++
			}
		}
		p.Balls = append(p.Balls, inside)
		p.Of += len(balls)
		p.Sessions++
		if t := timeOf(at); t.After(p.Last) {
			p.Last = t
		}
	}
	return p, rows.Err()
}

// progressOf is the query for one column of numbers.
func progressOf(number string) string {
	v := `h."` + number + `"`
	return `
	SELECT s.at, (
		SELECT string_agg(inside, '') FROM (
			SELECT CASE WHEN (` + v + ` >= ?7 OR ?7 IS NULL) AND (` + v + ` <= ?8 OR ?8 IS NULL) THEN '1' ELSE '0' END AS inside
			FROM shots h WHERE h.session = s.id AND (h.club = ?6 OR h.was = ?6 OR ?6 = '') AND h.aside IN ('', 'mishit') AND ` + v + ` IS NOT NULL
				AND CASE ?9 WHEN '' THEN h.setup <> 1 ELSE lower(trim(h.label)) = ?9 END
			ORDER BY h.place) AS hit)
	FROM sessions s
	WHERE s.server = ?1 AND s.student = ?2 AND s.posted >= ?3
		AND ` + hitSince("?3") + ` AND (` + hitBy("?4") + ` OR ?4 IS NULL) AND (s.posted <= ?5 OR ?5 IS NULL)
	ORDER BY s.posted, s.id`
}
