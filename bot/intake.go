package bot

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"time"

	"rangepost/store"
)

// maxAttempts is how often work on a request is begun before it is set aside:
// one that brings the process down each time must not do so for ever.
const maxAttempts = 4

// together is how many requests are worked on at once at the most, in this
// process; the platform's adapter has fewer slots.
const together = 1 << 20

// Accept writes r to the intake before any work on it starts. It reports false
// if the same event was accepted before. A completion is never kept: it is
// worth nothing a second later.
func (b *Bot) Accept(ctx context.Context, r Request) (fresh bool, err error) {
	if r.Kind == CompletionAsk {
		return true, nil
	}
	body, err := json.Marshal(r)
	if err != nil {
		return false, fmt.Errorf("bot: accepting a request: %w", err)
	}
	return b.db.Accept(ctx, store.Intake{ID: r.ID, Server: r.Server, Asker: r.Asker.ID, Kind: string(r.Kind), Body: body})
}

// Answered marks the request with that id as answered: it will not be taken up
// again, and the way back to the asker is erased. A request whose asker had
// everything deleted meanwhile is gone, and that is no error.
func (b *Bot) Answered(ctx context.Context, id string) error {
	if err := b.db.Answered(ctx, id); !errors.Is(err, store.ErrNotFound) {
		return err
	}
	return nil
}

// ErrNotOurs is a request that another process works on, or nobody any more.
var ErrNotOurs = errors.New("the request is not ours to answer")

// Redirect writes down that the answer to a request that was accepted takes
// another way back from now on, that of r.ReplyTo. It is ErrNotOurs where several
// processes serve and this one does not work on it any more.
func (b *Bot) Redirect(ctx context.Context, r Request) error {
	body, err := json.Marshal(r)
	if err != nil {
		return fmt.Errorf("bot: redirecting an answer: %w", err)
	}
	if err := b.db.Rewrite(ctx, r.ID, body); !errors.Is(err, store.ErrNotFound) {
		return err
	}
	return ErrNotOurs
}

// mostAtOnce is how many requests a process takes over from dead ones at once, so
// that the others take some too.
const mostAtOnce = 50

// Unfinished are the requests accepted but not answered, oldest first, for a
// restart to take up; where several processes serve, those that nobody alive works
// on, some of them, which are this one's from now on. With an error come those that
// were read before it.
func (b *Bot) Unfinished(ctx context.Context) ([]Request, error) {
	list := b.db.Unfinished
	if store.LifeOf(ctx) != nil {
		list = func(ctx context.Context) ([]store.Intake, error) { return b.db.TakeOver(ctx, mostAtOnce) }
	}
	open, err := list(ctx)
	if err != nil {
		return nil, err
	}
	var requests []Request
	for _, in := range open {
		var r Request
		if err := json.Unmarshal(in.Body, &r); err != nil {
			b.log.ErrorContext(ctx, "request given up: unreadable", "kind", in.Kind, "err", err)
			if err := b.db.Failed(ctx, in.ID, "unreadable"); err != nil {
				return requests, err
			}
			continue
		}
		r.begun = in.Attempts
		requests = append(requests, r)
	}
	return requests, nil
}

// begin writes down that work on a request begins; end is to be called when it
// has ended. One that was under way when the process went down before is worked
// on alone, so that if it is the one that brings it down nothing else is
// suspected; after a few times it is refused with errSetAside.
func (b *Bot) begin(ctx context.Context, r Request) (end func(), err error) {
	if r.Kind == CompletionAsk {
		return func() {}, nil
	}
	b.inTurn(ctx, r)
	room := roomOf(r)
	if !b.working.TryAcquire(room) {
		// Whoever has room may be waiting for a place among those who work: one
		// that waits for room must not hold it.
		got := false
		err := aside(ctx, func() error {
			err := b.working.Acquire(ctx, room)
			got = err == nil
			return err
		})
		if err != nil {
			if got {
				b.working.Release(room)
			}
			return func() {}, err
		}
	}
	end = func() {
		b.working.Release(room)
		if errors.Is(ctx.Err(), context.Canceled) {
			// It was stopped with the process: that says nothing against it.
			ctx, cancel := context.WithTimeout(context.WithoutCancel(ctx), time.Second)
			defer cancel()
			if err := b.db.Unbegin(ctx, r.ID); err != nil {
				b.log.WarnContext(ctx, "could not take a beginning back", "incident", r.Incident, "err", err)
			}
		}
	}
	attempts, err := b.db.Begin(ctx, r.ID)
	for waited := false; (errors.Is(err, store.ErrBusy) || errors.Is(err, store.ErrUnreachable)) && ctx.Err() == nil; attempts, err = b.db.Begin(ctx, r.ID) {
		// Whatever is asked, it could not be kept now either.
		if !waited {
			b.log.WarnContext(ctx, "the database is held, or away; waiting to begin", "incident", r.Incident, "err", err)
			waited = true
		}
	}
	switch {
	case errors.Is(err, store.ErrNotFound):
		return end, nil // its asker was forgotten meanwhile, or it never came through the intake
	case err != nil:
		// Better answered than counted.
		b.log.WarnContext(ctx, "could not count a beginning", "incident", r.Incident, "err", err)
		return end, nil
	case attempts > maxAttempts:
		b.log.ErrorContext(ctx, "request set aside: it brought the process down", "incident", r.Incident, "kind", r.Kind, "what", r.what(), "attempts", attempts-1)
		return end, errSetAside
	}
	return end, nil
}

// turnWithin is how long a request waits for what its asker asked before of another
// process: as long as within one for an answer to get through.
const turnWithin = 5 * time.Second

// inTurn waits until what the asker asked before, of a process that served their
// shard until now, is answered: "/cause" right behind a post is about that post,
// whoever answers which. Within a process a line sees to it.
func (b *Bot) inTurn(ctx context.Context, r Request) {
	if store.LifeOf(ctx) == nil || b.Urgent(r) {
		return
	}
	// If it cannot be asked it is not waited for: better answered than in order.
	if earlier, err := b.db.Earlier(ctx, r.ID); err != nil || !earlier {
		return
	}
	aside(ctx, func() error {
		for end := time.Now().Add(turnWithin); time.Now().Before(end); {
			select {
			case <-ctx.Done():
				return nil
			case <-time.After(50 * time.Millisecond):
			}
			if earlier, err := b.db.Earlier(ctx, r.ID); err != nil || !earlier {
				return nil
			}
		}
		return nil
	})
}

type asideKey struct{}

// WithAside says how a request that is worked on in ctx waits without taking the
// place of another: by the function aside, which returns what wait returns.
func WithAside(ctx context.Context, aside func(ctx context.Context, wait func() error) error) context.Context {
	return context.WithValue(ctx, asideKey{}, aside)
}

func aside(ctx context.Context, wait func() error) error {
	if f, ok := ctx.Value(asideKey{}).(func(context.Context, func() error) error); ok {
		return f(ctx, wait)
	}
	return wait()
}

// roomOf is how much of the room for work a request takes: all of it if it is
// suspected.
func roomOf(r Request) int64 {
	if r.begun > 0 {
		return together
	}
	return 1
}

var errSetAside = errors.New("the request brought the process down several times")
