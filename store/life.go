package store

import (
	"context"
	"database/sql"
	"errors"
	"fmt"
	"os"
	"sync"
	"time"
)

const (
	// LifeLasts is how long a life lasts without being renewed.
	LifeLasts = 15 * time.Second

	// RenewEvery is how often it is to be renewed.
	RenewEvery = 4 * time.Second

	// lifeMargin is how much earlier a process takes its life for over than the
	// others do: what it sent at its last moment arrives in that time.
	lifeMargin = 2 * time.Second
)

// ErrLapsed is a life that is over: whatever was done under it is others' now.
var ErrLapsed = errors.New("this process was not heard of for too long, and others may do its work")

// A Life is a process's membership among those who serve one bot together. It
// ends unless it is renewed, and never comes back: a process that goes on begins
// another. So its id is a fence as well, as what is written down under it says who
// may go on with it.
//
// Others see its end by the database's clock. The process itself sees it earlier,
// by its own clocks, reckoned from before it asked for the last renewal: by the
// monotonic clock, which nobody sets, and by the wall clock, which goes on while a
// machine sleeps. Whichever is ahead counts.
type Life struct {
	ID string

	now func() time.Time

	mu    sync.Mutex
	asked time.Time // for the renewal that holds
	over  bool
}

// Alive reports whether the life goes on. Once it does not it never does again. A
// nil Life is that of a process that serves alone: it does not end.
func (l *Life) Alive() bool {
	if l == nil {
		return true
	}
	l.mu.Lock()
	defer l.mu.Unlock()
	now := l.now()
	gone := max(now.Sub(l.asked), now.Round(0).Sub(l.asked.Round(0)))
	if gone >= LifeLasts-lifeMargin {
		l.over = true
	}
	return !l.over
}

func (l *Life) end() {
	l.mu.Lock()
	defer l.mu.Unlock()
	l.over = true
}

type lifeKey struct{}

// WithLife says in whose life something is done. What is written with it is
// refused with ErrLapsed once that is over.
func WithLife(ctx context.Context, l *Life) context.Context {
	return context.WithValue(ctx, lifeKey{}, l)
}

// LifeOf is the life in which something is done, nil where one process serves.
func LifeOf(ctx context.Context) *Life {
	l, _ := ctx.Value(lifeKey{}).(*Life)
	return l
}

// lifeID is the id of the life in which something is done, "" for none.
func lifeID(ctx context.Context) string {
	if l := LifeOf(ctx); l != nil {
		return l.ID
	}
	return ""
}

// Shared reports whether several processes may serve from this database.
func (db *DB) Shared() bool { return db.shared }

// Sharing makes a database one that several serve from, which one file is only
// within one process.
func Sharing() Option { return func(db *DB) { db.shared = true } }

// clock is the clock by which lives end, the same for all who share a database.
func (db *DB) clock(ctx context.Context, tx *sql.Tx) (time.Time, error) {
	if db.clocked {
		return db.stamp(), nil
	}
	now, err := db.engine.clock(ctx, tx)
	if now.IsZero() {
		now = db.stamp()
	}
	return now, err
}

// Join begins a life.
func (db *DB) Join(ctx context.Context) (*Life, error) {
	host, _ := os.Hostname()
	l := &Life{ID: hiddenID(), now: db.now, asked: db.now()}
	err := db.update(ctx, "joining", func(tx *sql.Tx) error {
		now, err := db.clock(ctx, tx)
		if err != nil {
			return err
		}
		// Those that ended long ago are of no use to anybody.
		if _, err := tx.ExecContext(ctx, `DELETE FROM lives WHERE until < ?`, millis(now.Add(-24*time.Hour))); err != nil {
			return err
		}
		_, err = tx.ExecContext(ctx, `INSERT INTO lives (id, process, started, until) VALUES (?, ?, ?, ?)`,
			l.ID, fmt.Sprintf("%d on %s", os.Getpid(), host), millis(now), millis(now.Add(LifeLasts)))
		return err
	})
	return l, err
}

// Renew has a life go on, or is ErrLapsed.
func (db *DB) Renew(ctx context.Context, l *Life) error {
	if !l.Alive() {
		return fmt.Errorf("store: renewing a life: %w", ErrLapsed)
	}
	asked := l.now()
	err := db.update(ctx, "renewing a life", func(tx *sql.Tx) error {
		now, err := db.clock(ctx, tx)
		if err != nil {
			return err
		}
		return changed(tx.ExecContext(ctx, `UPDATE lives SET until = ? WHERE id = ? AND until > ?`,
			millis(now.Add(LifeLasts)), l.ID, millis(now)))
	})
	switch {
	case errors.Is(err, ErrNotFound):
		l.end()
		return fmt.Errorf("store: renewing a life: %w", ErrLapsed)
	case err != nil:
		return err
	}
	l.mu.Lock()
	defer l.mu.Unlock()
	l.asked = asked
	return nil
}

// Leave ends a life at once and gives back all that is held in it, so that others
// need not wait for its end. To be called when nothing is done in it any more.
func (db *DB) Leave(ctx context.Context, l *Life) error {
	l.end()
	return db.update(WithLife(ctx, nil), "leaving", func(tx *sql.Tx) error {
		for _, statement := range []string{
			`UPDATE leases SET owner = '' WHERE owner = ?`,
			`UPDATE intake SET worker = '' WHERE worker = ? AND state = 'accepted'`,
			`DELETE FROM lives WHERE id = ?`,
		} {
			if _, err := tx.ExecContext(ctx, statement, l.ID); err != nil {
				return err
			}
		}
		return nil
	})
}
