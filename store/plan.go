package store

import (
	"context"
	"database/sql"
	"encoding/json"
	"errors"
	"time"

	"rangepost/analysis"
)

// A Plan is a trial laid out before a ball was hit. A student has one at a time.
type Plan struct {
	ID, Server, Student string
	Setter              string // who set it: the student, or their coach
	At                  time.Time
	Club                analysis.Club
	Number              analysis.Number     // of interest
	Card                []byte              // JSON, never changed
	Claim               string              // what somebody holds to be so: untrusted text, "" for none
	Way                 int                 // which way the number has to go if it is, 0 until somebody says
	Settled             time.Time           // zero while it is not
	Status              string              // how it was settled, "" while it is not
	Found               *analysis.TrialGist // what it was found to say then, nil if nothing
	Ended               time.Time           // when it was replaced, ended or settled; zero while it runs
}

// Placed says where the balls of a session belong on the card of a plan.
type Placed struct {
	Session, Plan string
	Reading       string // how its balls were taken
	Turns         []int  // of each ball, -1 for none
	At            time.Time
}

// A Forecast is what its coach or student expects of a plan's claim.
type Forecast struct {
	Plan, Who string
	Chance    float64 // that it is so
	At        time.Time
}

// SetPlan sets a plan in place of the one a student has.
func (db *DB) SetPlan(ctx context.Context, p Plan) (Plan, error) {
	p.ID, p.At, p.Settled, p.Status, p.Found, p.Ended = db.newID(), db.stamp(), time.Time{}, "", nil, time.Time{}
	err := db.update(ctx, "setting a plan", func(tx *sql.Tx) error {
		if err := named(p.Club); err != nil {
			return err
		}
		if err := db.ensureStudent(ctx, tx, p.Server, p.Student); err != nil {
			return err
		}
		if _, err := endPlan(ctx, tx, p.Server, p.Student, p.At); err != nil {
			return err
		}
		_, err := tx.ExecContext(ctx, `
			INSERT INTO plans (id, server, student, setter, at, club, number, card, claim, way) VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?)`,
			p.ID, p.Server, p.Student, p.Setter, millis(p.At), p.Club.Key(), p.Number.Info().Key, string(p.Card), p.Claim, p.Way)
		return err
	})
	return p, err
}

// EndPlan ends the plan a student has, or is ErrNotFound.
func (db *DB) EndPlan(ctx context.Context, server, student string) error {
	return db.update(ctx, "ending a plan", func(tx *sql.Tx) error {
		return changed(endPlan(ctx, tx, server, student, db.stamp()))
	})
}

func endPlan(ctx context.Context, tx *sql.Tx, server, student string, at time.Time) (sql.Result, error) {
	return tx.ExecContext(ctx, `UPDATE plans SET ended = ? WHERE server = ? AND student = ? AND ended IS NULL`, millis(at), server, student)
}

// Plan is a plan of a server by its id.
func (db *DB) Plan(ctx context.Context, server, id string) (p Plan, err error) {
	err = db.query(ctx, "reading a plan", func(tx *sql.Tx) error {
		p, err = scanPlan(tx.QueryRowContext(ctx, selectPlan+` WHERE server = ? AND id = ?`, server, id))
		return err
	})
	return p, err
}

// LastPlan is the plan a student was set last, whether or not it runs, or
// ErrNotFound.
func (db *DB) LastPlan(ctx context.Context, server, student string) (p Plan, err error) {
	err = db.query(ctx, "reading the last plan", func(tx *sql.Tx) error {
		p, err = lastPlan(ctx, tx, server, student)
		return err
	})
	return p, err
}

// lastPlan finds it by when it was set; of two at once the later id is the last.
func lastPlan(ctx context.Context, tx *sql.Tx, server, student string) (Plan, error) {
	return scanPlan(tx.QueryRowContext(ctx, selectPlan+ofStudent+` ORDER BY at DESC, id DESC LIMIT 1`, server, student))
}

// Plans lists every plan a student was set, oldest first.
func (db *DB) Plans(ctx context.Context, server, student string) (all []Plan, err error) {
	err = db.query(ctx, "listing plans", func(tx *sql.Tx) error {
		all, err = plans(ctx, tx, server, student)
		return err
	})
	return all, err
}

func plans(ctx context.Context, tx *sql.Tx, server, student string) ([]Plan, error) {
	return collect(ctx, tx, scanPlan, selectPlan+ofStudent+` ORDER BY at, id`, server, student)
}

// SettlePlan keeps how a running plan was settled, and ends it. One that does
// not run any more stays as it is; it comes back as it is kept.
func (db *DB) SettlePlan(ctx context.Context, id, status string, found *analysis.TrialGist) (p Plan, err error) {
	text := ""
	if found != nil {
		text = encodeGist(&analysis.Gist{Trial: found})
	}
	err = db.update(ctx, "settling a plan", func(tx *sql.Tx) error {
		now := millis(db.stamp())
		if _, err := tx.ExecContext(ctx, `UPDATE plans SET settled = ?1, ended = ?1, status = ?2, found = ?3 WHERE id = ?4 AND ended IS NULL`,
			now, status, text, id); err != nil {
			return err
		}
		p, err = scanPlan(tx.QueryRowContext(ctx, selectPlan+` WHERE id = ?`, id))
		return err
	})
	return p, err
}

// Claims keeps which way the number of a plan has to go if its claim is so. Said
// once, and before a ball is hit, it stays: ErrNotFound after.
func (db *DB) Claims(ctx context.Context, id string, way int) error {
	return db.update(ctx, "keeping what a claim says", func(tx *sql.Tx) error {
		return changed(tx.ExecContext(ctx, `
			UPDATE plans SET way = ? WHERE id = ? AND way = 0 AND claim <> '' AND ended IS NULL
				AND NOT EXISTS (SELECT 1 FROM placed WHERE plan = plans.id AND reading <> ?)`, way, id, Elsewhere))
	})
}

// Elsewhere is the reading of a session whose balls belong to no plan.
const Elsewhere = "none"

// Unplace takes the balls of a session off the card they were placed on, while
// that plan runs.
func (db *DB) Unplace(ctx context.Context, session string) error {
	return db.update(ctx, "taking a session off a plan", func(tx *sql.Tx) error {
		_, err := tx.ExecContext(ctx, `DELETE FROM placed WHERE session = ? AND plan IN (SELECT id FROM plans WHERE ended IS NULL)`, session)
		return err
	})
}

// Place keeps where the balls of a session belong; said again, the last counts.
func (db *DB) Place(ctx context.Context, p Placed) error {
	turns, err := json.Marshal(nonNil(p.Turns))
	if err != nil {
		return err
	}
	return db.update(ctx, "placing a session's balls", func(tx *sql.Tx) error {
		_, err := tx.ExecContext(ctx, `
			INSERT INTO placed (session, plan, reading, turns, at)
			SELECT s.id, p.id, ?3, ?4, ?5 FROM sessions s JOIN plans p ON p.server = s.server AND p.student = s.student
			WHERE s.id = ?1 AND p.id = ?2
			ON CONFLICT (session) DO UPDATE SET plan = excluded.plan, reading = excluded.reading, turns = excluded.turns`,
			p.Session, p.Plan, p.Reading, string(turns), millis(db.stamp()))
		return err
	})
}

// PlacedOn lists the sessions that were placed on a plan, in the order they were.
func (db *DB) PlacedOn(ctx context.Context, plan string) (all []Placed, err error) {
	err = db.query(ctx, "listing the sessions of a plan", func(tx *sql.Tx) error {
		all, err = collect(ctx, tx, scanPlaced, selectPlaced+` WHERE plan = ? ORDER BY at, session`, plan)
		return err
	})
	return all, err
}

// PlacedAt is where the balls of a session belong, or ErrNotFound.
func (db *DB) PlacedAt(ctx context.Context, session string) (p Placed, err error) {
	err = db.query(ctx, "reading where a session was placed", func(tx *sql.Tx) error {
		p, err = scanPlaced(tx.QueryRowContext(ctx, selectPlaced+` WHERE session = ?`, session))
		return err
	})
	return p, err
}

// Expect keeps what somebody expects of a plan's claim. Before a ball was placed
// it may be said anew; after, it is ErrNotFound.
func (db *DB) Expect(ctx context.Context, f Forecast) error {
	return db.update(ctx, "keeping a forecast", func(tx *sql.Tx) error {
		return changed(tx.ExecContext(ctx, `
			INSERT INTO forecasts (plan, who, server, chance, at)
			SELECT id, ?2, server, ?3, ?4 FROM plans WHERE id = ?1 AND ended IS NULL
				AND NOT EXISTS (SELECT 1 FROM placed WHERE plan = plans.id AND reading <> ?5)
			ON CONFLICT (plan, who) DO UPDATE SET chance = excluded.chance, at = excluded.at`,
			f.Plan, f.Who, f.Chance, millis(db.stamp()), Elsewhere))
	})
}

// Forecasts lists what somebody expected of the plans of a server, those of one
// student or of everybody if student is "", the oldest first.
func (db *DB) Forecasts(ctx context.Context, server, who, student string) (all []Forecast, err error) {
	err = db.query(ctx, "listing forecasts", func(tx *sql.Tx) error {
		all, err = forecasts(ctx, tx, server, who, student)
		return err
	})
	return all, err
}

func forecasts(ctx context.Context, tx *sql.Tx, server, who, student string) ([]Forecast, error) {
	return collect(ctx, tx, scanForecast, selectForecast, server, who, student)
}

const (
	selectPlan   = `SELECT id, server, student, setter, at, club, number, card, claim, way, settled, status, found, ended FROM plans `
	selectPlaced = `SELECT session, plan, reading, turns, at FROM placed`
	placedOf     = `
		SELECT d.session, d.plan, d.reading, d.turns, d.at FROM plans p JOIN placed d ON d.plan = p.id
		WHERE p.server = ? AND p.student = ? ORDER BY d.at, d.session`
	selectForecast = `
		SELECT f.plan, f.who, f.chance, f.at FROM forecasts f JOIN plans p ON p.id = f.plan
		WHERE f.server = ?1 AND f.who = ?2 AND (?3 = '' OR p.student = ?3) ORDER BY f.at, f.plan`
)

func scanPlan(row scanner) (p Plan, err error) {
	var at, settled, ended sql.NullInt64
	var club, number, card, found string
	if err := row.Scan(&p.ID, &p.Server, &p.Student, &p.Setter, &at, &club, &number, &card, &p.Claim, &p.Way, &settled, &p.Status, &found, &ended); err != nil {
		return p, err
	}
	p.At, p.Settled, p.Ended, p.Card = timeOf(at), timeOf(settled), timeOf(ended), []byte(card)
	if g, err := parseGist(found); err != nil {
		return p, err
	} else if g != nil {
		p.Found = g.Trial
	}
	var known bool
	if p.Number, known = analysis.NumberByKey(number); !known {
		return p, errors.New("plan on a number this program does not know: " + number)
	}
	p.Club, err = analysis.ParseClub(club)
	return p, err
}

func scanPlaced(row scanner) (p Placed, err error) {
	var turns string
	var at sql.NullInt64
	if err := row.Scan(&p.Session, &p.Plan, &p.Reading, &turns, &at); err != nil {
		return p, err
	}
	p.At = timeOf(at)
	return p, json.Unmarshal([]byte(turns), &p.Turns)
}

func scanForecast(row scanner) (f Forecast, err error) {
	var at sql.NullInt64
	err = row.Scan(&f.Plan, &f.Who, &f.Chance, &at)
	f.At = timeOf(at)
	return f, err
}
