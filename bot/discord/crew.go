package discord

import (
	"context"
	"errors"
	"fmt"
	"time"

	"golang.org/x/sync/errgroup"

	"rangepost/bot"
)

const (
	// lookEach is how often a process looks at its crew: what another gave back or
	// left is taken that soon.
	lookEach   = time.Second
	lookWithin = 3 * time.Second

	// keepEvery is how often it is kept how far a shard was read.
	keepEvery = 3 * time.Second

	// settleWithin is how long a shard that is handed over waits for its last events
	// to be written down. What is not is sent again to who resumes.
	settleWithin = 1500 * time.Millisecond

	chores = "chores" // the lease of what is done of the bot's own accord
)

// alive reports whether this process may act: always where it serves alone, else
// while its life as a member of a crew goes on.
func (a *Adapter) alive() bool {
	m := a.member.Load()
	return m == nil || m.Alive()
}

// serveLives serves as a member of a crew until ctx ends, life after life: when
// this process was not heard of for too long, all that it did is dropped where it
// stands, since others do it now, and it begins anew.
func (a *Adapter) serveLives(ctx context.Context) error {
	for {
		m, err := a.join(ctx)
		if err != nil {
			return nil // told to stop before it could
		}
		a.member.Store(m)
		err = a.serveLife(ctx, m)
		lost := !m.Alive()
		bye, cancel := context.WithTimeout(context.WithoutCancel(ctx), 2*time.Second)
		if err := m.Leave(bye); err != nil && !lost {
			a.log.Warn("could not give back what this process held; the others take it within seconds", "err", err)
		}
		cancel()
		if !lost || ctx.Err() != nil {
			return err
		}
		a.health.outside.Store(true)
		a.log.Warn("this process was not heard of for too long: it has dropped what it did, and begins anew")
	}
}

// join joins the crew, through an outage of the database of whatever length.
func (a *Adapter) join(ctx context.Context) (*bot.Member, error) {
	for attempt := 0; ; attempt++ {
		try, cancel := context.WithTimeout(ctx, lookWithin)
		m, err := a.cfg.Crew.Join(try)
		cancel()
		if err == nil || ctx.Err() != nil {
			return m, err
		}
		a.health.outside.Store(true)
		a.log.Warn("cannot join the others; trying again", "err", err)
		if err := sleep(ctx, backOff(min(attempt, 3))); err != nil {
			return nil, err
		}
	}
}

// serveLife is serve for one life.
func (a *Adapter) serveLife(ctx context.Context, m *bot.Member) error {
	work, stop := context.WithCancel(m.Context())
	defer stop()
	ctx, end := both(ctx, m.Context())
	defer end()
	q := newQueue(a, m)
	q.start(work)
	context.AfterFunc(m.Context(), stop) // nothing is finished in a life that is over
	tell := func(long time.Duration) {
		within, cancel := context.WithTimeout(m.Context(), lookWithin)
		defer cancel()
		if err := m.HoldRequests(within, long); err != nil && m.Alive() {
			a.log.Warn("could not tell the others that the platform will have no requests", "for", long, "err", err)
		}
	}
	a.rest.limits.tell.Store(&tell)
	return a.serve(ctx, stop, q, func(ctx context.Context) error { return a.serveLeases(ctx, q, m) })
}

// both ends with either of two contexts, and has the values of the second.
func both(ctx, with context.Context) (context.Context, context.CancelFunc) {
	with, cancel := context.WithCancel(with)
	stop := context.AfterFunc(ctx, cancel)
	return with, func() { stop(); cancel() }
}

// holding is a lease of this process, and what is done by it.
type holding struct {
	lease bot.Lease
	end   context.CancelFunc
	done  chan struct{} // closed when it was given back, or lost
}

// serveLeases serves this process's share of the shards, does the chores if nobody
// else does, and takes over what those who died had taken in, until ctx ends. Then
// it hands all of it over.
func (a *Adapter) serveLeases(ctx context.Context, q *queue, m *bot.Member) error {
	st, err := a.start(ctx)
	for attempt := 0; err != nil; attempt++ {
		if refused(err) {
			return startError(err)
		}
		a.log.Warn("the platform does not say where the gateway is; asking again (rangepost check says what to do)", "err", err)
		if sleep(ctx, backOff(min(attempt+2, 6))) != nil {
			return nil
		}
		st, err = a.start(ctx)
	}
	turn := a.turnOf(m, max(1, st.Limit.AtOnce))
	count := a.cfg.Shards
	var names []string
	ids := map[string]int{}

	g, ctx := errgroup.WithContext(ctx)
	held := map[string]*holding{}
	doing := make(chan struct{}) // closed when the chores have ended
	close(doing)
	hold := func(l bot.Lease) {
		h := &holding{lease: l, done: make(chan struct{})}
		var within context.Context
		within, h.end = context.WithCancel(ctx)
		held[l.Name] = h
		if l.Name == chores {
			doing = h.done
			go a.doChores(within, m, h)
			return
		}
		a.hold(1)
		g.Go(func() error {
			defer a.hold(-1)
			return a.serveHeld(within, m, h, shard{queue: q, id: ids[l.Name], count: count, turn: turn, ledger: newLedger(l.Place)})
		})
	}
	for wait := time.Duration(0); sleep(ctx, wait) == nil; wait = lookEach {
		for name, h := range held {
			select {
			case <-h.done:
				delete(held, name)
			default:
			}
		}
		look, cancel := context.WithTimeout(ctx, lookWithin)
		v, err := m.Look(look, names, chores)
		cancel()
		if ctx.Err() != nil {
			break
		}
		a.health.outside.Store(err != nil)
		if err != nil {
			a.log.Warn("cannot look at the crew; trying again", "err", err)
			continue
		}
		if names == nil { // the first look
			if count == 0 {
				count = a.agreed(v, max(1, st.Shards))
			}
			for i := range count {
				name := fmt.Sprintf("shard %d of %d", i, count)
				names, ids[name] = append(names, name), i
			}
			a.health.total.Store(int64(count))
			if v, err = m.Look(ctx, names, chores); err != nil {
				names = nil
				continue
			}
		}
		a.rest.limits.shareOut(v.Lives)
		a.rest.limits.hold(ofBot, v.Wait)
		for name, l := range v.Mine { // of which it was not heard that they were taken
			if _, known := ids[name]; held[name] == nil && (known || name == chores) {
				hold(l)
			}
		}
		take := v.Take
		if v.Free[chores] && a.cfg.Chores != nil {
			take = append(take, chores)
		}
		for _, name := range take {
			l, err := m.Take(ctx, name)
			switch {
			case err == nil:
				if l.Fence > 1 {
					a.metrics.taken.Inc()
				}
				a.log.Info("took a lease", "lease", name, "fence", l.Fence)
				hold(l)
			case !errors.Is(err, bot.ErrTaken) && ctx.Err() == nil:
				a.log.Warn("could not take a lease; trying again", "lease", name, "err", err)
			}
		}
		if h := held[v.Give]; h != nil {
			h.end()
		}
		if v.Orphans > 0 && !q.isClosing() {
			a.tookUp(q.ctx, q, time.Time{})
		}
	}
	err = g.Wait()
	select {
	case <-doing:
	case <-time.After(settleWithin):
	}
	if !m.Alive() {
		a.metrics.lost.Add(len(held))
	}
	return err
}

// agreed is how many shards there are, where that is left to the platform: as many
// as those who serve already were told.
func (a *Adapter) agreed(v bot.View, recommended int) int {
	for _, name := range v.Held {
		var i, of int
		if n, _ := fmt.Sscanf(name, "shard %d of %d", &i, &of); n == 2 && of > 0 {
			return of
		}
	}
	return recommended
}

// turnOf waits for a shard's turn to start a session, which is one of all the
// crew's: one in five seconds for each of the platform's groups.
func (a *Adapter) turnOf(m *bot.Member, groups int) func(ctx context.Context, shard int) error {
	return func(ctx context.Context, shard int) error {
		wait, err := m.TakeTurn(ctx, fmt.Sprintf("session of group %d", shard%groups), nextTurn)
		if err != nil {
			return err
		}
		return sleep(ctx, wait)
	}
}

// serveHeld serves a shard until ctx ends, and hands it over: what came last is
// written down first, and who takes it goes on from there.
func (a *Adapter) serveHeld(ctx context.Context, m *bot.Member, h *holding, s shard) error {
	defer close(h.done)
	defer h.end()
	lost := make(chan struct{})
	kept := make(chan struct{})
	go func() {
		defer close(kept)
		if a.keepPlace(ctx, m, h.lease, s.ledger) != nil {
			close(lost)
			h.end()
		}
	}()
	err := a.serveShard(ctx, s)
	h.end()
	<-kept
	s.ledger.close()
	select {
	case <-lost:
		a.metrics.lost.Inc()
		return err
	default:
	}
	for end := time.Now().Add(settleWithin); !s.ledger.settled() && m.Alive() && time.Now().Before(end); {
		time.Sleep(5 * time.Millisecond)
	}
	for attempt := 0; m.Alive(); attempt++ {
		try, cancel := context.WithTimeout(m.Context(), lookWithin)
		back := m.GiveBack(try, h.lease, s.ledger.place())
		cancel()
		switch {
		case back == nil:
			a.log.Info("handed a shard over", "shard", s.id)
			return err
		case errors.Is(back, bot.ErrTaken):
			return err
		}
		a.log.Warn("could not hand a shard over", "shard", s.id, "err", back)
		if attempt == 3 && s.queue.isClosing() {
			return err // the end of this process's life does
		}
		sleep(m.Context(), backOff(attempt))
	}
	return err
}

// keepPlace keeps every few seconds how far a shard was read, until ctx ends. It
// returns an error when the lease is another's.
func (a *Adapter) keepPlace(ctx context.Context, m *bot.Member, l bot.Lease, led *ledger) error {
	kept := l.Place
	for sleep(ctx, keepEvery) == nil {
		place := led.place()
		if place == kept {
			continue
		}
		try, cancel := context.WithTimeout(ctx, lookWithin)
		err := m.KeepPlace(try, l, place)
		cancel()
		switch {
		case err == nil:
			kept = place
		case errors.Is(err, bot.ErrTaken):
			return err
		}
	}
	return nil
}

// doChores does what is done of the bot's own accord until ctx ends, and gives it
// back.
func (a *Adapter) doChores(ctx context.Context, m *bot.Member, h *holding) {
	defer close(h.done)
	a.cfg.Chores(ctx)
	back, cancel := context.WithTimeout(m.Context(), lookWithin)
	defer cancel()
	if err := m.GiveBack(back, h.lease, bot.Place{}); err != nil && m.Alive() {
		a.log.Warn("could not hand the chores over; the others take them within seconds", "err", err)
	}
}
