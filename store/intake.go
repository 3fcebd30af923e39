package store

import (
	"context"
	"database/sql"
	"errors"
	"time"
)

// An Intake is a request taken on. Its body may hold the secret way back to
// the asker: it is kept only until the request is settled.
type Intake struct {
	ID            string // the platform's id of the event
	Server, Asker string
	Kind          string
	Body          []byte // the caller's own encoding, never read here
	At            time.Time
	Attempts      int // how often work on it was begun
}

// Accept writes a request down before any work on it starts. It reports false
// if a request with that id was taken on before, settled or not. It is the life of
// ctx that works on it. After ErrInDoubt it may be said again, and then reports
// true if it was taken on by that.
func (db *DB) Accept(ctx context.Context, in Intake) (fresh bool, err error) {
	defer func() {
		if errors.Is(err, ErrInDoubt) {
			db.doubtful.Store(in.ID, true)
		} else if _, mine := db.doubtful.LoadAndDelete(in.ID); mine && err == nil {
			fresh = true
		} else if mine {
			db.doubtful.Store(in.ID, true)
		}
	}()
	err = db.update(ctx, "accepting a request", func(tx *sql.Tx) error {
		res, err := tx.ExecContext(ctx, `
			INSERT INTO intake (id, server, asker, kind, state, at, attempts, reason, body, worker)
			VALUES (?, ?, ?, ?, 'accepted', ?, 0, '', ?, ?) ON CONFLICT DO NOTHING`,
			in.ID, in.Server, in.Asker, in.Kind, millis(db.now()), nonNil(in.Body), lifeID(ctx))
		if err != nil {
			return err
		}
		n, err := res.RowsAffected()
		fresh = n == 1
		return err
	})
	return fresh, err
}

// Answered settles a request that was answered. One that is not there, because
// its asker was forgotten meanwhile, needs no settling.
func (db *DB) Answered(ctx context.Context, id string) error {
	return db.settle(ctx, id, "answered", "")
}

// Failed settles a request that is given up, like Answered, with the reason
// for the operator.
func (db *DB) Failed(ctx context.Context, id, reason string) error {
	return db.settle(ctx, id, "failed", reason)
}

// Unfinished lists the requests taken on and not settled, oldest first.
func (db *DB) Unfinished(ctx context.Context) (all []Intake, err error) {
	err = db.query(ctx, "listing unfinished requests", func(tx *sql.Tx) error {
		all, err = collect(ctx, tx, scanIntake, `
			SELECT id, server, asker, kind, body, at, attempts FROM intake
			WHERE state = 'accepted' ORDER BY at, rowid`)
		return err
	})
	return all, err
}

// TakeOver has the life of ctx work on requests that nobody alive works on, and
// returns them, oldest first: at most so many.
func (db *DB) TakeOver(ctx context.Context, most int) (all []Intake, err error) {
	err = db.update(ctx, "taking requests over", func(tx *sql.Tx) error {
		now, err := db.clock(ctx, tx)
		if err != nil {
			return err
		}
		if err := living(ctx, tx, now); err != nil {
			return err
		}
		if all, err = collect(ctx, tx, scanIntake, `SELECT id, server, asker, kind, body, at, attempts FROM intake`+orphaned+` ORDER BY at, rowid LIMIT ?`, millis(now), most); err != nil {
			return err
		}
		for _, in := range all {
			if _, err := tx.ExecContext(ctx, `UPDATE intake SET worker = ? WHERE id = ?`, lifeID(ctx), in.ID); err != nil {
				return err
			}
		}
		return nil
	})
	return all, err
}

// Earlier reports whether another than the life of ctx has to answer something yet
// that the same person asked on the same server before a request, within a minute of
// it. Servers are other processes' by right, and not waited for.
func (db *DB) Earlier(ctx context.Context, id string) (bool, error) {
	found, err := glance(ctx, db, "looking for earlier requests", scanText, `
		SELECT e.id FROM intake i JOIN intake e ON e.state = 'accepted' AND e.at >= i.at - 60000
			AND e.server = i.server AND e.asker = i.asker AND e.rowid < i.rowid AND e.worker <> ?2
		WHERE i.id = ?1 LIMIT 1`, id, lifeID(ctx))
	return len(found) > 0, err
}

// Release gives back a request that the life of ctx was to work on.
func (db *DB) Release(ctx context.Context, id string) error {
	return db.update(ctx, "giving a request back", func(tx *sql.Tx) error {
		_, err := tx.ExecContext(ctx, `UPDATE intake SET worker = '' WHERE id = ? AND worker = ? AND state = 'accepted'`, id, lifeID(ctx))
		return err
	})
}

// byWorker narrows a statement about a request, with its arguments, to one that
// the life of ctx works on. Where one process serves all are its own.
func byWorker(ctx context.Context, args ...any) (where string, _ []any) {
	if id := lifeID(ctx); id != "" {
		return ` AND worker = ?`, append(args, id)
	}
	return "", args
}

// Begin writes down that work on a request begins and says how often it now
// did: a request that brings the bot down each time can be given up. It is
// ErrNotFound for one that was not taken on, or is settled.
func (db *DB) Begin(ctx context.Context, id string) (attempts int, err error) {
	err = db.update(ctx, "beginning a request", func(tx *sql.Tx) error {
		where, args := byWorker(ctx, id)
		return tx.QueryRowContext(ctx, `
			UPDATE intake SET attempts = attempts + 1 WHERE id = ? AND state = 'accepted'`+where+`
			RETURNING attempts`, args...).Scan(&attempts)
	})
	return attempts, err
}

// Unbegin takes back that work on a request began: it was cut short from
// outside, which says nothing against it.
func (db *DB) Unbegin(ctx context.Context, id string) error {
	return db.update(ctx, "taking a beginning back", func(tx *sql.Tx) error {
		where, args := byWorker(ctx, id)
		_, err := tx.ExecContext(ctx, `UPDATE intake SET attempts = attempts - 1 WHERE id = ? AND attempts > 0`+where, args...)
		return err
	})
}

// Rewrite keeps another body for a request that is taken on and not settled. Where
// several processes serve it is ErrNotFound for any that the life of ctx does not
// work on.
func (db *DB) Rewrite(ctx context.Context, id string, body []byte) error {
	return db.update(ctx, "rewriting a request", func(tx *sql.Tx) error {
		where, args := byWorker(ctx, nonNil(body), id)
		err := changed(tx.ExecContext(ctx, `UPDATE intake SET body = ? WHERE id = ? AND state = 'accepted'`+where, args...))
		if err == ErrNotFound && where == "" {
			return nil
		}
		return err
	})
}

func (db *DB) settle(ctx context.Context, id, state, reason string) error {
	return db.update(ctx, "settling a request", func(tx *sql.Tx) error {
		where, args := byWorker(ctx, state, reason, millis(db.now()), []byte{}, id)
		_, err := tx.ExecContext(ctx, `UPDATE intake SET state = ?, reason = ?, settled = ?, body = ? WHERE id = ?`+where, args...)
		return err
	})
}

func scanIntake(row scanner) (in Intake, err error) {
	var at sql.NullInt64
	err = row.Scan(&in.ID, &in.Server, &in.Asker, &in.Kind, &in.Body, &at, &in.Attempts)
	in.At = timeOf(at)
	return in, err
}
