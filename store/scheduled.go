package store

import (
	"context"
	"database/sql"
	"time"
)

// A Template is the terms of challenges a club holds again and again.
type Template struct {
	Server, Name string // Name is untrusted text
	Terms        []byte // the caller's own encoding, never read here
}

// A Scheduled is a challenge that opens, or opened, on a day of a season.
type Scheduled struct {
	Server    string // its season's
	Season    string
	Day       time.Time // on the clubhouse's clock, as its midnight in UTC
	Name      string    // untrusted text
	Days      int       // it is open
	Terms     []byte
	Challenge string    // "" before it opens
	Made      time.Time // it was planned; zero of those of before that was kept
	Missed    bool      // nobody was there to open it while it was to be open
}

// KeepTemplate keeps a template in place of the one of that name. A server has
// so many at most: ErrTaken.
func (db *DB) KeepTemplate(ctx context.Context, t Template, most int) error {
	return db.update(ctx, "keeping a template", func(tx *sql.Tx) error {
		var others int
		if err := tx.QueryRowContext(ctx, `SELECT count(*) FROM templates WHERE server = ? AND name <> ?`, t.Server, t.Name).Scan(&others); err != nil {
			return err
		}
		if others >= most {
			return ErrTaken
		}
		_, err := tx.ExecContext(ctx, `INSERT INTO templates (server, name, terms) VALUES (?, ?, ?)
			ON CONFLICT (server, name) DO UPDATE SET terms = excluded.terms`, t.Server, t.Name, nonNil(t.Terms))
		return err
	})
}

// Templates lists a server's templates by name.
func (db *DB) Templates(ctx context.Context, server string) (all []Template, err error) {
	err = db.query(ctx, "listing templates", func(tx *sql.Tx) error {
		all, err = collect(ctx, tx, func(row scanner) (t Template, err error) {
			err = row.Scan(&t.Server, &t.Name, &t.Terms)
			return t, err
		}, `SELECT server, name, terms FROM templates WHERE server = ? ORDER BY name`, server)
		return err
	})
	return all, err
}

// Schedule puts challenges into a season that runs; those that are there already
// stay as they are. It says how many are new. More than most in all is ErrTaken.
func (db *DB) Schedule(ctx context.Context, server, season string, all []Scheduled, most int) (added int, err error) {
	err = db.update(ctx, "scheduling challenges", func(tx *sql.Tx) error {
		if _, err := runningSeason(ctx, tx, server, season); err != nil {
			return err
		}
		added = 0
		for _, d := range all {
			res, err := tx.ExecContext(ctx, `
				INSERT INTO scheduled (season, day, name, days, terms, missed, made) VALUES (?, ?, ?, ?, ?, 0, ?) ON CONFLICT DO NOTHING`,
				season, dayText(d.Day), d.Name, d.Days, nonNil(d.Terms), millis(db.now()))
			if err != nil {
				return err
			}
			n, err := res.RowsAffected()
			if err != nil {
				return err
			}
			added += int(n)
		}
		var n int
		if err := tx.QueryRowContext(ctx, `SELECT count(*) FROM scheduled WHERE season = ?`, season).Scan(&n); err != nil {
			return err
		}
		if n > most {
			return ErrTaken
		}
		return reviseSeason(ctx, tx, season)
	})
	return added, err
}

// ScheduledOf lists the challenges of a season by day.
func (db *DB) ScheduledOf(ctx context.Context, season string) (all []Scheduled, err error) {
	err = db.query(ctx, "listing a schedule", func(tx *sql.Tx) error {
		all, err = collect(ctx, tx, scanScheduled, selectScheduled+` WHERE season = ? ORDER BY day, name`, season)
		return err
	})
	return all, err
}

// DueScheduled lists, of every server, what was to open by a day and is not open
// yet.
func (db *DB) DueScheduled(ctx context.Context, day time.Time) (all []Scheduled, err error) {
	err = db.query(ctx, "listing what is to open", func(tx *sql.Tx) error {
		all, err = collect(ctx, tx, scanScheduled, selectScheduled+dueScheduled, dayText(day))
		return err
	})
	return all, err
}

// OpenedByClock reports whether a challenge opened on a schedule.
func (db *DB) OpenedByClock(ctx context.Context, challenge string) (is bool, err error) {
	err = db.query(ctx, "looking up a schedule", func(tx *sql.Tx) error {
		return tx.QueryRowContext(ctx, `SELECT EXISTS (SELECT 1 FROM scheduled WHERE challenge = ?)`, challenge).Scan(&is)
	})
	return is, err
}

// OpenScheduled opens a challenge that is due, once: opened already, or taken
// out, is ErrNotFound. It counts as opened when c says.
func (db *DB) OpenScheduled(ctx context.Context, d Scheduled, c Challenge) (Challenge, error) {
	opened := c.Opened
	c = db.newChallenge(c)
	c.Opened = opened
	return c, db.update(ctx, "opening a scheduled challenge", func(tx *sql.Tx) error {
		if err := insertChallenge(ctx, tx, c); err != nil {
			return err
		}
		if err := changed(tx.ExecContext(ctx, `UPDATE scheduled SET challenge = ?`+ofScheduled, c.ID, d.Season, dayText(d.Day), d.Name)); err != nil {
			return err
		}
		return reviseSeason(ctx, tx, d.Season)
	})
}

// Miss writes down that a challenge was not held, since nobody was there to open
// it. Opened already is ErrNotFound.
func (db *DB) Miss(ctx context.Context, d Scheduled) error {
	return db.unschedule(ctx, d, `UPDATE scheduled SET missed = 1`)
}

// Unschedule takes a challenge that is not open yet out of its season.
func (db *DB) Unschedule(ctx context.Context, d Scheduled) error {
	return db.unschedule(ctx, d, `DELETE FROM scheduled`)
}

func (db *DB) unschedule(ctx context.Context, d Scheduled, statement string) error {
	return db.update(ctx, "changing a schedule", func(tx *sql.Tx) error {
		if err := changed(tx.ExecContext(ctx, statement+ofScheduled, d.Season, dayText(d.Day), d.Name)); err != nil {
			return err
		}
		return reviseSeason(ctx, tx, d.Season)
	})
}

const (
	selectScheduled = `SELECT (SELECT server FROM seasons WHERE id = season), season, day, name, days, terms, coalesce(challenge, ''), missed, made FROM scheduled`
	dueScheduled    = ` WHERE challenge IS NULL AND missed = 0 AND day <= ? ORDER BY day, season, name`
	ofScheduled     = ` WHERE season = ? AND day = ? AND name = ? AND challenge IS NULL AND missed = 0`
)

func scanScheduled(row scanner) (d Scheduled, err error) {
	var day string
	var made sql.NullInt64
	if err = row.Scan(&d.Server, &d.Season, &day, &d.Name, &d.Days, &d.Terms, &d.Challenge, &d.Missed, &made); err != nil {
		return d, err
	}
	d.Made = timeOf(made)
	d.Day, err = time.Parse(time.DateOnly, day)
	return d, err
}
