package discord

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"math/rand/v2"
	"runtime/debug"
	"sync"
	"time"

	"golang.org/x/sync/errgroup"

	"rangepost/bot"
)

// start is what the platform says before one connects.
type start struct {
	URL    string `json:"url"`
	Shards int    `json:"shards"`
	Limit  struct {
		Total      int   `json:"total"`
		Remaining  int   `json:"remaining"`
		ResetAfter int64 `json:"reset_after"` // milliseconds
		AtOnce     int   `json:"max_concurrency"`
	} `json:"session_start_limit"`
}

func (s *start) told() bool { return s.URL != "" }

func (a *Adapter) start(ctx context.Context) (start, error) {
	ctx, cancel := context.WithTimeout(ctx, openWithin)
	defer cancel()
	var s start
	err := a.rest.do(ctx, call{method: "GET", route: "/gateway/bot", into: &s, manner: manner{trusting: true}})
	return s, err
}

// serveGateway keeps every shard connected until ctx ends, or until the
// platform refuses one for good.
func (a *Adapter) serveGateway(ctx context.Context) error {
	var st start
	err := a.insist(ctx, "where the gateway is", func(ctx context.Context) (err error) {
		st, err = a.start(ctx)
		return err
	})
	if err != nil {
		return err
	}
	count := a.cfg.Shards
	if count == 0 {
		count = max(1, st.Shards)
	}
	gate := newGate(max(1, st.Limit.AtOnce))
	g, ctx := errgroup.WithContext(ctx)
	a.health.total.Store(int64(count))
	a.hold(count)
	// Chores come after the people who wait, but not after a link that never opens.
	open := sync.OnceFunc(func() {
		if a.cfg.Chores != nil {
			go a.cfg.Chores(ctx)
		}
	})
	defer time.AfterFunc(openWithin, open).Stop()
	for i := range count {
		g.Go(func() error {
			return a.serveShard(ctx, shard{queue: a.queue, id: i, count: count, turn: gate.wait, open: open})
		})
	}
	return g.Wait()
}

// hold counts the shards that this process serves.
func (a *Adapter) hold(more int) {
	a.metrics.held.Set(float64(a.health.shards.Add(int64(more))))
}

// shard is a part of the gateway that this process serves.
type shard struct {
	queue     *queue
	id, count int
	turn      func(ctx context.Context, shard int) error // waits until a session may be started
	ledger    *ledger                                    // nil where this process serves alone
	open      func()                                     // called whenever the link is open; nil for nothing
}

const (
	openWithin = 15 * time.Second
	lookEvery  = 200 * time.Millisecond
	maxResumes = 8 // failures in a row before a new session is tried

	disownedOften = 3 // refusals of the token in a row before they are believed
)

// serveShard is the watchdog of one shard: it opens, resumes, and when that
// does not help builds a new session. It returns an error only for what
// connecting again cannot mend.
func (a *Adapter) serveShard(ctx context.Context, s shard) error {
	var l *link
	log := a.log.With("shard", s.id)
	failures, disowned := 0, 0
	for ctx.Err() == nil {
		session, _ := s.ledger.resumes()
		fresh := l == nil && session == ""
		if l == nil {
			var err error
			if l, err = a.prepare(ctx, s, failures); err != nil {
				if ctx.Err() != nil {
					return nil
				}
				// Once it may pass; again and again it is the token.
				if disowned++; !unauthorized(err) {
					disowned = 0
				} else if disowned == disownedOften {
					return errBadToken
				}
				log.Warn("cannot ask for the gateway", "err", err)
				l = nil
				failures++
				sleep(ctx, reconnectDelay(failures))
				continue
			}
		}
		err := l.open(ctx, openWithin)
		if err != nil {
			l.kill()
		} else {
			failures = 0
			log.Info("connected to the gateway", "resumed", !fresh)
			a.metrics.connected(fresh)
			if s.open != nil {
				s.open()
			}
			err = a.attend(ctx, l)
			a.health.connected.Add(-1)
		}
		if ctx.Err() != nil {
			if s.ledger != nil {
				l.hangUp() // another process goes on with the session
			} else {
				l.close(3 * time.Second)
			}
			return nil
		}
		if final := l.final(); final != nil {
			return final
		}
		log.Warn("the link to the gateway ended", "err", err)
		failures++
		if !l.worthKeeping() || failures > maxResumes {
			l.kill()
			l = nil
			s.ledger.forget()
		}
		sleep(ctx, reconnectDelay(failures))
	}
	return nil
}

// attend watches over an open link until it ends.
func (a *Adapter) attend(ctx context.Context, l *link) error {
	a.health.connected.Add(1)
	tick := time.NewTicker(lookEvery)
	defer tick.Stop()
	killed := time.Time{}
	for {
		select {
		case <-ctx.Done():
			return ctx.Err()
		case <-l.down:
			return l.explain(errors.New("the connection broke"))
		case <-tick.C:
			switch {
			case !killed.IsZero() && time.Since(killed) > 5*time.Second:
				return errors.New("the session is stuck")
			case killed.IsZero() && l.stale():
				a.metrics.stale.Inc()
				killed = time.Now()
				l.kill()
			}
		}
	}
}

// prepare prepares a link: to the session that another process left, by the
// address that goes with it first, or to a new one.
func (a *Adapter) prepare(ctx context.Context, s shard, failures int) (*link, error) {
	session, address := s.ledger.left()
	if session == "" {
		return a.identify(ctx, s)
	}
	if address == "" || failures%2 == 1 {
		st, err := a.start(ctx)
		if err != nil {
			return nil, err
		}
		address = st.URL
	}
	return a.linkTo(address, s)
}

func (a *Adapter) linkTo(address string, s shard) (*link, error) {
	take := func(name string, data json.RawMessage, settle func()) { a.event(s.queue, name, data, settle) }
	return newLink(a.cfg.Token, address, s.id, s.count, networkFor(a.cfg.Platform), take, a.dropped, s.ledger)
}

// identify waits for this shard's turn and prepares a new session.
func (a *Adapter) identify(ctx context.Context, s shard) (*link, error) {
	if err := s.turn(ctx, s.id); err != nil {
		return nil, err
	}
	st, err := a.start(ctx)
	if err != nil {
		return nil, err
	}
	// The platform resets the token of a bot that starts too many sessions in
	// a day. A few are kept for the operator.
	if st.Limit.Total > 0 && st.Limit.Remaining < 5 {
		wait := time.Duration(st.Limit.ResetAfter) * time.Millisecond
		a.log.Error("hardly any new sessions are left today; waiting", "left", st.Limit.Remaining, "wait", wait.Round(time.Second))
		if err := sleep(ctx, wait); err != nil {
			return nil, err
		}
	}
	return a.linkTo(st.URL, s)
}

// dropped notes that something of the gateway was dropped, without a flood in
// the log.
func (a *Adapter) dropped(why string) {
	a.metrics.undecoded.Inc()
	a.droppings.Do(func() { a.log.Warn("dropped what the gateway sent", "what", why) })
}

// event takes an event of the gateway to where it belongs, and settles it where
// nothing is to be done about it. It is called by the link's reader and must not
// block.
func (a *Adapter) event(q *queue, name string, data json.RawMessage, settle func()) {
	handed := false
	defer func() {
		if !handed {
			settle()
		}
	}()
	defer func() {
		if v := recover(); v != nil { // discordgo would let it end the process
			a.metrics.panics.Inc()
			a.log.Error("an event made us panic", "event", name, "panic", fmt.Sprintf("%T", v), "stack", string(debug.Stack()))
		}
	}()
	switch name {
	case "INTERACTION_CREATE":
		r, n, err := decodeInteraction(data)
		if err != nil {
			a.metrics.undecoded.Inc()
			a.log.Error("an interaction cannot be read", "err", err)
			return
		}
		q.event(r, n, settle)
		handed = true
	case "MESSAGE_CREATE":
		r, n, ours, err := decodeMessage(data, a.self.Load().ID)
		if err != nil {
			a.metrics.undecoded.Inc()
			a.log.Error("a message cannot be read", "err", err)
			return
		}
		if ours {
			q.event(r, n, settle)
			handed = true
		}
	}
}

// reconnectDelay grows from half a second to eight, with jitter. It can stay
// short: what is scarce is new sessions, and the gate spaces those.
func reconnectDelay(failures int) time.Duration {
	d := 500 * time.Millisecond << min(max(failures-1, 0), 4)
	return d/2 + time.Duration(rand.Int64N(int64(d)))
}

func sleep(ctx context.Context, d time.Duration) error {
	t := time.NewTimer(d)
	defer t.Stop()
	select {
	case <-t.C:
		return nil
	case <-ctx.Done():
		return ctx.Err()
	}
}

// gate lets sessions start no faster than the platform allows: one in five
// seconds for each of max_concurrency groups of shards, and a thousand a day.
type gate struct{ turns []chan bot.Turn }

const (
	identifyEvery = 5100 * time.Millisecond
	atEase        = 10 // sessions of a group in an hour before it slows down
	slowly        = 2 * time.Minute
)

func newGate(atOnce int) *gate {
	g := &gate{}
	for range atOnce {
		c := make(chan bot.Turn, 1)
		c <- bot.Turn{}
		g.turns = append(g.turns, c)
	}
	return g
}

func (g *gate) wait(ctx context.Context, shard int) error {
	group := g.turns[shard%len(g.turns)]
	select {
	case t := <-group:
		err := sleep(ctx, time.Until(t.Free))
		group <- nextTurn(t, time.Now())
		return err
	case <-ctx.Done():
		return ctx.Err()
	}
}

// nextTurn is when a group's next session may start after one that starts now.
func nextTurn(t bot.Turn, now time.Time) bot.Turn {
	if now.Sub(t.Since) > time.Hour {
		t.Since, t.Count = now, 0
	}
	t.Count++
	t.Free = now.Add(identifyEvery)
	if t.Count > atEase {
		t.Free = now.Add(slowly)
	}
	return t
}
