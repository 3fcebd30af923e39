package bot

import (
	"context"
	"errors"
	"fmt"
	"sync"
	"time"

	"rangepost/store"
)

// Several processes may serve one bot together, a crew, where the database allows
// it. Each is a member of it by a life (store.Life) and does what it holds a lease
// of; what a member that died had taken in goes to the others. Nobody is in charge:
// each looks at the database every second and knows what is its own (crewshare.go).
//
// What a process keeps in memory, and what becomes of it where there are several:
//
//	lesson threads, coach roles, juniors   read anew within a second or two of a
//	(known.go)                             change by another process (relearn)
//	remembered answers (record/late.go)    their key holds all that they rest on;
//	                                       dropped with the same change
//	files per person (quota.go)            counted in the database
//	requests in the queue, by person       a request is one process's at a time, by
//	(discord/dispatch.go)                  the intake; a person's order holds in each,
//	                                       and among them for some seconds (inTurn)
//	suspects worked on alone (intake.go)   each process's own
//	when it was away, when it last swept,  of who does the chores; hurry is heard by
//	hurry (outage.go, upkeep.go)           the same process alone, else the next tick
//	turns to start a session               in the database
//	(discord/gateway.go)
//	requests a second, refused ones        a part for each who lives
//	(discord/limits.go, budget.go)
//	what must wait by the limit of all     in the database: heard by the others
//	(discord/limits.go)                    within a second
//	what must wait by a route's limit      each process's own: it meets the limit
//	(discord/holds.go)                     itself
//	slots, health, metrics                 each process's own

// What members of a crew hold and keep.
type (
	Lease = store.Lease
	Place = store.Place
	Turn  = store.Turn
)

// What a member is told no with.
var (
	ErrTaken  = store.ErrTaken  // another member has it
	ErrLapsed = store.ErrLapsed // its life is over
)

// A Member is this process as one of a crew, for one life of it.
type Member struct {
	b    *Bot
	life *store.Life
	ctx  context.Context
	left chan struct{}
	once sync.Once

	revised map[string]int // what it knows by heart, by server
}

// renewWithin is how long one renewal may take before another is tried.
const renewWithin = 3 * time.Second

// Join makes this process a member of the crew. Its life is renewed until Leave.
func (b *Bot) Join(ctx context.Context) (*Member, error) {
	life, err := b.db.Join(ctx)
	if err != nil {
		return nil, fmt.Errorf("bot: %w", err)
	}
	m := &Member{b: b, life: life, left: make(chan struct{})}
	within, over := context.WithCancel(store.WithLife(context.WithoutCancel(ctx), life))
	m.ctx = within
	if m.revised, err = b.db.Revised(ctx, revisedWithin); err == nil {
		err = b.known.all(ctx, b.db) // it may have changed since it was read
	}
	if err != nil {
		over()
		return nil, errors.Join(fmt.Errorf("bot: %w", err), b.db.Leave(ctx, life))
	}
	go m.renew()
	go func() {
		defer over()
		for watch := time.NewTicker(100 * time.Millisecond); ; {
			select {
			case <-m.left:
				watch.Stop()
				return
			case <-watch.C:
				if !life.Alive() {
					watch.Stop()
					return
				}
			}
		}
	}()
	return m, nil
}

// renew has the life go on until it is left, or ends.
func (m *Member) renew() {
	for wait := store.RenewEvery; ; {
		select {
		case <-m.left:
			return
		case <-m.ctx.Done():
			return
		case <-time.After(wait):
		}
		ctx, cancel := context.WithTimeout(m.ctx, renewWithin)
		err := m.b.db.Renew(ctx, m.life)
		cancel()
		wait = store.RenewEvery
		if err != nil && m.life.Alive() {
			m.b.log.Warn("could not renew this process's life; trying again", "err", err)
			wait = time.Second
		}
	}
}

// Context is that of everything done in this life. It ends with it, and what is
// written with it is refused from then on.
func (m *Member) Context() context.Context { return m.ctx }

// Alive reports whether the life of this member goes on.
func (m *Member) Alive() bool { return m.life.Alive() }

// Alive reports whether the life in which something is done goes on; where one
// process serves alone it always does. It is asked before whatever others see.
func Alive(ctx context.Context) bool { return store.LifeOf(ctx).Alive() }

// Leave gives back what is held in this life, and what was taken in and not
// answered, for the others to take at once. Nothing may be done in it any more.
func (m *Member) Leave(ctx context.Context) error {
	m.once.Do(func() { close(m.left) })
	return m.b.db.Leave(ctx, m.life)
}

// A View is what a member sees of its crew.
type View struct {
	Lives   int
	Held    []string         // what anybody holds
	Mine    map[string]Lease // what it holds
	Take    []string         // shards that fall to it
	Give    string           // the shard it has to hand over, "" for none
	Free    map[string]bool  // which of the others asked for nobody holds
	Orphans int              // requests that nobody alive works on
	Wait    time.Duration    // how long the platform will have no requests of the bot still
}

// Look says what is to be done now: of shards this member's fair share, of what
// else there is whatever nobody does. It takes in what others changed that the bot
// knows by heart.
func (m *Member) Look(ctx context.Context, shards []string, others ...string) (v View, err error) {
	crew, err := m.b.db.Crew(ctx)
	if err != nil {
		return v, fmt.Errorf("bot: %w", err)
	}
	v = View{Lives: len(crew.Lives), Mine: map[string]Lease{}, Free: map[string]bool{}, Orphans: crew.Orphans, Wait: crew.Wait}
	alive := false
	for _, id := range crew.Lives {
		alive = alive || id == m.life.ID
	}
	if !alive {
		return v, fmt.Errorf("bot: looking at the crew: %w", ErrLapsed)
	}
	for name, l := range crew.Leases {
		if l.Owner != "" {
			v.Held = append(v.Held, name)
		}
		if l.Owner == m.life.ID {
			v.Mine[name] = l
		}
	}
	for _, name := range others {
		v.Free[name] = crew.Leases[name].Owner == ""
	}
	s := shareOut(m.life.ID, crew.Lives, shards, func(shard string) string { return crew.Leases[shard].Owner })
	v.Take, v.Give = s.Take, s.Give
	return v, m.relearn(ctx)
}

// Take takes a lease, or is ErrTaken.
func (m *Member) Take(ctx context.Context, name string) (Lease, error) {
	return m.b.db.Take(store.WithLife(ctx, m.life), name)
}

// KeepPlace keeps how far a shard was read. It is ErrTaken when the lease is
// another's.
func (m *Member) KeepPlace(ctx context.Context, l Lease, p Place) error {
	return m.b.db.KeepPlace(store.WithLife(ctx, m.life), l, p)
}

// GiveBack gives a lease back with the place where whoever takes it goes on.
func (m *Member) GiveBack(ctx context.Context, l Lease, p Place) error {
	return m.b.db.GiveBack(store.WithLife(ctx, m.life), l, p)
}

// TakeTurn takes a turn of all the crew's, and says in how long it is.
func (m *Member) TakeTurn(ctx context.Context, name string, next func(Turn, time.Time) Turn) (time.Duration, error) {
	return m.b.db.TakeTurn(store.WithLife(ctx, m.life), name, next)
}

// HoldRequests tells the crew that the platform will have no requests of the bot for
// so long.
func (m *Member) HoldRequests(ctx context.Context, long time.Duration) error {
	return m.b.db.HoldRequests(store.WithLife(ctx, m.life), long)
}

// Release gives back a request that was taken in and will not be worked on here.
func (m *Member) Release(ctx context.Context, id string) error {
	return m.b.db.Release(store.WithLife(ctx, m.life), id)
}

// revisedWithin is how far back what others changed is looked for: longer than any
// look takes, and any two clocks differ.
const revisedWithin = 5 * time.Minute

// relearn reads anew what the bot knows by heart, where another process changed
// it, and drops the answers that are remembered: one of them may be of somebody
// whose data is gone.
func (m *Member) relearn(ctx context.Context) error {
	counts, err := m.b.db.Revised(ctx, revisedWithin)
	if err != nil {
		return fmt.Errorf("bot: %w", err)
	}
	for server, n := range counts {
		if m.revised[server] == n {
			continue
		}
		if err := m.b.known.again(ctx, m.b.db, server); err != nil {
			return fmt.Errorf("bot: %w", err)
		}
		m.b.records.ForgetLate()
	}
	m.revised = counts
	return nil
}
