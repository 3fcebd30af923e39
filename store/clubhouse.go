package store

import (
	"context"
	"database/sql"
	"encoding/json"
	"errors"

	"rangepost/analysis"
)

// A Clubhouse is the settings of one server.
type Clubhouse struct {
	Server            string
	CoachRole         string // role id, "" when none was set
	ChallengeChannels []string
	Units             analysis.Units // for members who chose none
	TimeZone          string         // IANA name, "" for UTC
	QuietFrom         int            // minute of the day; no quiet hours when equal to QuietUntil
	QuietUntil        int
	RetentionDays     int // sessions are kept so long, 0 for ever
	JuniorsPrivate    bool
}

func defaultClubhouse(server string) Clubhouse {
	return Clubhouse{Server: server, Units: analysis.Units{Distance: analysis.Yards, Speed: analysis.MilesPerHour}, JuniorsPrivate: true}
}

// Clubhouse is the settings of a server; one never set up has the defaults.
func (db *DB) Clubhouse(ctx context.Context, server string) (c Clubhouse, err error) {
	err = db.query(ctx, "reading a clubhouse", func(tx *sql.Tx) error {
		c, err = clubhouse(ctx, tx, server)
		return err
	})
	return c, err
}

// SetClubhouse keeps the settings of a server. Where they change whether
// juniors are named, standings with juniors are to be shown anew; where they
// change its clock, times that were read on it are to be read again.
func (db *DB) SetClubhouse(ctx context.Context, c Clubhouse) error {
	channels, err := json.Marshal(nonNil(c.ChallengeChannels))
	if err != nil {
		return err
	}
	return db.update(ctx, "keeping a clubhouse", func(tx *sql.Tx) error {
		before, err := clubhouse(ctx, tx, c.Server)
		if err != nil {
			return err
		}
		if before.JuniorsPrivate != c.JuniorsPrivate {
			if _, err := tx.ExecContext(ctx, `
				UPDATE challenges SET revision = revision + 1
				WHERE id IN (
					SELECT e.challenge FROM students s JOIN entries e ON e.server = s.server AND e.player = s.student
					WHERE s.server = ? AND s.junior = 1)`, c.Server); err != nil {
				return err
			}
		}
		if before.TimeZone != c.TimeZone {
			const followers = `student IN (SELECT student FROM students WHERE server = ?1 AND time_zone = '')`
			if err := redate(ctx, tx, c.Server, followers); err != nil {
				return err
			}
		}
		if err := db.revise(ctx, tx, c.Server); err != nil {
			return err
		}
		_, err = tx.ExecContext(ctx, `
			INSERT INTO clubhouses (server, coach_role, challenge_channels, distance, speed,
				time_zone, quiet_from, quiet_until, retention_days, juniors_private)
			VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?)
			ON CONFLICT (server) DO UPDATE SET coach_role = excluded.coach_role, challenge_channels = excluded.challenge_channels,
				distance = excluded.distance, speed = excluded.speed, time_zone = excluded.time_zone,
				quiet_from = excluded.quiet_from, quiet_until = excluded.quiet_until,
				retention_days = excluded.retention_days, juniors_private = excluded.juniors_private`,
			c.Server, c.CoachRole, string(channels), c.Units.Distance, c.Units.Speed,
			c.TimeZone, c.QuietFrom, c.QuietUntil, c.RetentionDays, c.JuniorsPrivate)
		return err
	})
}

// Clubhouses lists the settings of every server that was set up, for the bot
// to know the coach roles by heart.
func (db *DB) Clubhouses(ctx context.Context) (all []Clubhouse, err error) {
	err = db.query(ctx, "listing clubhouses", func(tx *sql.Tx) error {
		all, err = collect(ctx, tx, scanClubhouse, selectClubhouse+` ORDER BY server`)
		return err
	})
	return all, err
}

const selectClubhouse = `
	SELECT server, coach_role, challenge_channels, distance, speed,
		time_zone, quiet_from, quiet_until, retention_days, juniors_private
	FROM clubhouses`

func clubhouse(ctx context.Context, tx *sql.Tx, server string) (Clubhouse, error) {
	c, err := scanClubhouse(tx.QueryRowContext(ctx, selectClubhouse+` WHERE server = ?`, server))
	if errors.Is(err, sql.ErrNoRows) {
		return defaultClubhouse(server), nil
	}
	return c, err
}

func scanClubhouse(row scanner) (c Clubhouse, err error) {
	var channels []byte
	err = row.Scan(&c.Server, &c.CoachRole, &channels, &c.Units.Distance, &c.Units.Speed,
		&c.TimeZone, &c.QuietFrom, &c.QuietUntil, &c.RetentionDays, &c.JuniorsPrivate)
	if err != nil {
		return c, err
	}
	return c, json.Unmarshal(channels, &c.ChallengeChannels)
}
