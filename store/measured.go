package store

import (
	"context"
	"database/sql"

	"rangepost/analysis"
)

// Measured is in how many sessions a student has a number with a club.
type Measured struct {
	Number   analysis.Number
	Club     analysis.Club
	Sessions int
}

// Measured lists what numbers a student's sessions have, with which clubs.
func (db *DB) Measured(ctx context.Context, server, student string) (all []Measured, err error) {
	clubs := clubs{}
	err = db.query(ctx, "listing what was measured", func(tx *sql.Tx) error {
		all, err = collect(ctx, tx, func(row scanner) (m Measured, err error) {
			var number, club string
			if err := row.Scan(&number, &club, &m.Sessions); err != nil {
				return m, err
			}
			m.Number, _ = analysis.NumberByKey(number)
			m.Club, err = clubs.parse(club)
			return m, err
		}, measured, server, student)
		return err
	})
	return all, err
}

const measured = `
	SELECT number, club, count(*) FROM session_values WHERE server = ? AND student = ? GROUP BY number, club ORDER BY number, club`

// Airs are the air and wind of a student's sessions, of those that have any.
func (db *DB) Airs(ctx context.Context, server, student string) (airs map[string]analysis.Conditions, err error) {
	type air struct {
		session string
		analysis.Conditions
	}
	err = db.query(ctx, "reading the air of sessions", func(tx *sql.Tx) error {
		all, err := collect(ctx, tx, func(row scanner) (a air, err error) {
			err = row.Scan(&a.session, &a.Temperature, &a.Altitude, &a.WindSpeed, &a.WindFrom)
			return a, err
		}, airsOf, server, student)
		airs = make(map[string]analysis.Conditions, len(all))
		for _, a := range all {
			airs[a.session] = a.Conditions
		}
		return err
	})
	return airs, err
}

const airsOf = `
	SELECT id, temperature, altitude, wind_speed, wind_from FROM sessions ` + ofStudent + `
		AND (temperature IS NOT NULL OR altitude IS NOT NULL OR wind_speed IS NOT NULL)`
