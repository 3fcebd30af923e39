package discord

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"math/rand/v2"
	"runtime/debug"
	"time"

	"golang.org/x/sync/errgroup"
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
	a.health.shards.Store(int64(count))
	for i := range count {
		g.Go(func() error { return a.serveShard(ctx, i, count, gate) })
	}
	return g.Wait()
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
func (a *Adapter) serveShard(ctx context.Context, shard, count int, gate *gate) error {
	var l *link
	log := a.log.With("shard", shard)
	failures, disowned := 0, 0
	for ctx.Err() == nil {
		fresh := l == nil
		if fresh {
			var err error
			if l, err = a.identify(ctx, shard, count, gate); err != nil {
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
			err = a.attend(ctx, l)
			a.health.connected.Add(-1)
		}
		if ctx.Err() != nil {
			l.close(3 * time.Second)
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

// identify waits for this shard's turn and prepares a new session.
func (a *Adapter) identify(ctx context.Context, shard, count int, gate *gate) (*link, error) {
	if err := gate.wait(ctx, shard); err != nil {
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
	return newLink(a.cfg.Token, st.URL, shard, count, networkFor(a.cfg.Platform), a.event, a.dropped)
}

// dropped notes that something of the gateway was dropped, without a flood in
// the log.
func (a *Adapter) dropped(why string) {
	a.metrics.undecoded.Inc()
	a.droppings.Do(func() { a.log.Warn("dropped what the gateway sent", "what", why) })
}

// event takes an event of the gateway to where it belongs. It is called by the
// link's reader and must not block.
func (a *Adapter) event(name string, data json.RawMessage) {
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
		a.queue.event(r, n)
	case "MESSAGE_CREATE":
		r, n, wanted, err := decodeMessage(data, a.self.Load().ID)
		if err != nil {
			a.metrics.undecoded.Inc()
			a.log.Error("a message cannot be read", "err", err)
			return
		}
		if wanted {
			a.queue.event(r, n)
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
type gate struct{ turns []chan turn }

// turn is when a group's next session may start, and how many have started in
// the hour that began at since.
type turn struct {
	free, since time.Time
	count       int
}

const (
	identifyEvery = 5100 * time.Millisecond
	atEase        = 10 // sessions of a group in an hour before it slows down
	slowly        = 2 * time.Minute
)

func newGate(atOnce int) *gate {
	g := &gate{}
	for range atOnce {
		c := make(chan turn, 1)
		c <- turn{}
		g.turns = append(g.turns, c)
	}
	return g
}

func (g *gate) wait(ctx context.Context, shard int) error {
	group := g.turns[shard%len(g.turns)]
	select {
	case t := <-group:
		err := sleep(ctx, time.Until(t.free))
		group <- t.next(time.Now())
		return err
	case <-ctx.Done():
		return ctx.Err()
	}
}

func (t turn) next(now time.Time) turn {
	if now.Sub(t.since) > time.Hour {
		t.since, t.count = now, 0
	}
	t.count++
	t.free = now.Add(identifyEvery)
	if t.count > atEase {
		t.free = now.Add(slowly)
	}
	return t
}
