package store

import (
	"context"
	"database/sql"
	"fmt"
	"time"
)

const (
	keepSettled = 7 * 24 * time.Hour  // a platform repeats an event within minutes, never after days
	keepExpired = 30 * 24 * time.Hour // how long a view is known to have expired
)

// Pruned is how much Prune deleted.
type Pruned struct{ Requests, Views, Sessions int64 }

// Prune deletes what has had its time: settled requests, expired views, and
// sessions older than their clubhouse keeps them; then it empties the log of
// whatever was deleted since. Call it daily.
func (db *DB) Prune(ctx context.Context) (p Pruned, err error) {
	now := db.now()
	err = db.update(ctx, "pruning", func(tx *sql.Tx) error {
		for _, d := range []struct {
			n     *int64
			query string
			arg   any
		}{
			{&p.Requests, `DELETE FROM intake WHERE state <> 'accepted' AND settled < ?`, millis(now.Add(-keepSettled))},
			{&p.Views, `DELETE FROM views WHERE expires < ?`, millis(now.Add(-keepExpired))},
			{new(int64), `DELETE FROM handed WHERE at < ?`, millis(now.Add(-24 * time.Hour))},
			{new(int64), `DELETE FROM revisions WHERE at < ?`, millis(now.Add(-24 * time.Hour))},
			{&p.Sessions, `
				DELETE FROM sessions WHERE id IN (
					SELECT s.id FROM clubhouses c JOIN sessions s ON s.server = c.server
					WHERE c.retention_days > 0 AND s.posted < ? - c.retention_days * 86400000)`, millis(now)},
		} {
			res, err := tx.ExecContext(ctx, d.query, d.arg)
			if err != nil {
				return err
			}
			if *d.n, err = res.RowsAffected(); err != nil {
				return err
			}
		}
		return nil
	})
	if err != nil {
		return Pruned{}, err
	}
	if err := db.emptyLog(ctx); err != nil {
		return p, fmt.Errorf("store: emptying the log: %w", classify(err))
	}
	if err := db.engine.tidy(ctx, db); err != nil {
		return p, fmt.Errorf("store: tidying: %w", classify(err))
	}
	return p, nil
}

// CountPosted counts the sessions of a server posted before a time, and all.
func (db *DB) CountPosted(ctx context.Context, server string, before time.Time) (older, all int, err error) {
	err = db.query(ctx, "counting sessions", func(tx *sql.Tx) error {
		return tx.QueryRowContext(ctx, `SELECT count(posted < ?2 OR NULL), count(*) FROM sessions WHERE server = ?1`,
			server, millis(before)).Scan(&older, &all)
	})
	return older, all, err
}
