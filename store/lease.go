package store

import (
	"context"
	"database/sql"
	"time"
)

// A Lease is something that one life at a time does: serve a shard of the
// gateway, or do the bot's chores. It lasts as long as its owner's life, or until
// it is given back.
type Lease struct {
	Name  string
	Owner string // the life that holds it, "" if nobody alive does
	Fence int64  // grows whenever it changes hands
	Place Place
}

// A Place is how far a session on the gateway was read, for another process to
// resume it there.
type Place struct {
	Session string // the gateway's id of it, "" for none
	Address string // where it is resumed
	Seq     int64  // events up to this one need not be sent again
}

// A Crew is the processes that serve one bot together, as they are at one moment.
type Crew struct {
	Lives   []string // in the order they began, which is the same for all who look
	Leases  map[string]Lease
	Orphans int           // requests taken in that nobody alive works on
	Wait    time.Duration // how long the platform will have no requests still
}

// Crew says who lives and who holds what.
func (db *DB) Crew(ctx context.Context) (c Crew, err error) {
	err = db.query(ctx, "looking at the crew", func(tx *sql.Tx) error {
		now, err := db.clock(ctx, tx)
		if err != nil {
			return err
		}
		c = Crew{Leases: map[string]Lease{}}
		if c.Lives, err = collect(ctx, tx, scanText, `SELECT id FROM lives WHERE until > ? ORDER BY started, id`, millis(now)); err != nil {
			return err
		}
		leases, err := collect(ctx, tx, scanLease, selectLease)
		if err != nil {
			return err
		}
		for _, l := range leases {
			c.Leases[l.Name] = l
		}
		c.free()
		var free sql.NullInt64
		if err := tx.QueryRowContext(ctx, `SELECT max(free) FROM turns WHERE name = ?`, ofRequests).Scan(&free); err != nil {
			return err
		}
		c.Wait = max(0, timeOf(free).Sub(now))
		return tx.QueryRowContext(ctx, `SELECT count(*) FROM intake`+orphaned, millis(now)).Scan(&c.Orphans)
	})
	return c, err
}

// free takes away from leases the owners that do not live.
func (c Crew) free() {
	alive := map[string]bool{}
	for _, id := range c.Lives {
		alive[id] = true
	}
	for name, l := range c.Leases {
		if !alive[l.Owner] {
			l.Owner = ""
			c.Leases[name] = l
		}
	}
}

// Take takes a lease that nobody alive holds for the life of ctx. While somebody
// does it is ErrTaken; a life that is over takes nothing: ErrLapsed.
func (db *DB) Take(ctx context.Context, name string) (l Lease, err error) {
	err = db.update(ctx, "taking a lease", func(tx *sql.Tx) error {
		now, err := db.clock(ctx, tx)
		if err != nil {
			return err
		}
		if err := living(ctx, tx, now); err != nil {
			return err
		}
		l, err = scanLease(tx.QueryRowContext(ctx, `
			INSERT INTO leases (name, owner, fence, session, address, seq) VALUES (?, ?, 1, '', '', 0)
			ON CONFLICT (name) DO UPDATE SET owner = excluded.owner, fence = leases.fence + 1
				WHERE NOT EXISTS (SELECT 1 FROM lives v WHERE v.id = leases.owner AND v.until > ?)
			RETURNING name, owner, fence, session, address, seq`, name, lifeID(ctx), millis(now)))
		if err == sql.ErrNoRows {
			return ErrTaken
		}
		return err
	})
	return l, err
}

// living is ErrLapsed unless the life of ctx goes on by the database's clock.
func living(ctx context.Context, tx *sql.Tx, now time.Time) error {
	var alive bool
	err := tx.QueryRowContext(ctx, `SELECT EXISTS (SELECT 1 FROM lives WHERE id = ? AND until > ?)`, lifeID(ctx), millis(now)).Scan(&alive)
	if err == nil && !alive {
		err = ErrLapsed
	}
	return err
}

// KeepPlace keeps how far the session of a shard was read. It is ErrTaken once
// another life holds the lease, or it was given back.
func (db *DB) KeepPlace(ctx context.Context, l Lease, p Place) error {
	return db.update(ctx, "keeping a place", func(tx *sql.Tx) error { return keepPlace(ctx, tx, l, p) })
}

func keepPlace(ctx context.Context, tx *sql.Tx, l Lease, p Place) error {
	err := changed(tx.ExecContext(ctx, `UPDATE leases SET session = ?, address = ?, seq = ? WHERE name = ? AND owner = ? AND fence = ?`,
		p.Session, p.Address, p.Seq, l.Name, l.Owner, l.Fence))
	if err == ErrNotFound {
		return ErrTaken
	}
	return err
}

// GiveBack gives a lease back, with the place where whoever takes it goes on. It
// is ErrTaken if it is another's already.
func (db *DB) GiveBack(ctx context.Context, l Lease, p Place) error {
	return db.update(ctx, "giving a lease back", func(tx *sql.Tx) error {
		if err := keepPlace(ctx, tx, l, p); err != nil {
			return err
		}
		_, err := tx.ExecContext(ctx, `UPDATE leases SET owner = '' WHERE name = ?`, l.Name)
		return err
	})
}

const (
	selectLease = `SELECT name, owner, fence, session, address, seq FROM leases`

	// orphaned are the requests that nobody alive works on.
	orphaned = ` WHERE state = 'accepted' AND NOT EXISTS (SELECT 1 FROM lives v WHERE v.id = intake.worker AND v.until > ?)`
)

func scanLease(row scanner) (l Lease, err error) {
	err = row.Scan(&l.Name, &l.Owner, &l.Fence, &l.Place.Session, &l.Place.Address, &l.Place.Seq)
	return l, err
}
