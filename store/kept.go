package store

import (
	"context"
	"database/sql"
	"time"
)

// Progress is how far a brief has been worked on.
type Progress struct {
	Inside, Of int       // balls inside its limits, of those that have its number
	Sessions   int       // they were hit in
	Last       time.Time // when the last of those was hit
}

// Progress counts the balls of a brief: those posted since it was set, hit
// since then and no later than its date, with its club and number. Of balls
// whose hour is not known the day has to reach into that time.
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
	var last sql.NullInt64
	err = tx.QueryRowContext(ctx, progressOf(b.Number.Info().Key),
		b.Server, b.Student, millis(b.At), millis(b.Until), millis(b.Ended), b.Club.Key(), b.Low, b.High).
		Scan(&p.Of, &p.Inside, &p.Sessions, &last)
	p.Last = timeOf(last)
	return p, err
}

// progressOf is the query for one column of numbers.
func progressOf(number string) string {
	return `
	SELECT count(v), coalesce(sum((?7 IS NULL OR v >= ?7) AND (?8 IS NULL OR v <= ?8)), 0), count(DISTINCT session), max(at)
	FROM (SELECT s.id AS session, s.at AS at, h.` + number + ` AS v
		FROM sessions s CROSS JOIN shots h ON h.session = s.id
		WHERE s.server = ?1 AND s.student = ?2 AND s.posted >= ?3
			AND ` + hitSince("?3") + ` AND (?4 IS NULL OR ` + hitBy("?4") + `) AND (?5 IS NULL OR s.posted <= ?5)
			AND (?6 = '' OR h.club = ?6 OR h.was = ?6) AND h.aside IN ('', 'mishit') AND h.` + number + ` IS NOT NULL)`
}
