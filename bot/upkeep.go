package bot

import (
	"context"
	"errors"
	"fmt"
	"slices"
	"time"

	"rangepost/bot/record"
	"rangepost/store"
)

// A Platform is what the bot needs to speak of its own accord, and to know who
// is still there.
type Platform interface {
	Notices

	// Direct sends a message to somebody directly. The platform posts the same
	// nonce once within some minutes. It is ErrRefused if that person, or the
	// platform, will not have it.
	Direct(ctx context.Context, person, nonce string, reply Reply) error

	// Sent reports whether one of the bot's latest messages to somebody directly
	// has a text. It is ErrRefused if the platform will not say.
	Sent(ctx context.Context, person string, is func(text string) bool) (bool, error)

	// Open opens a private thread and says its id. One of that name that the bot
	// opened in the channel since then is that thread: asked again after a
	// failure it is not opened twice. It is ErrNoChannel or ErrRefused if the bot
	// may not.
	Open(ctx context.Context, t Thread) (id string, err error)

	// Roles are a member's roles; ErrGone if they are no member.
	Roles(ctx context.Context, server, person string) ([]string, error)
}

// A Thread is a private thread to be opened.
type Thread struct {
	Server, Channel, Name string
	People                []string // who is to be in it; one who has left is not
	Since                 time.Time
}

// What a Platform says no with. Anything else may work another time.
var (
	ErrRefused = errors.New("the platform refuses it")
	ErrGone    = errors.New("not a member of the server")
)

// Tick opens lesson threads and what a season has due, tends the challenges, the
// seasons and the messages pinned in lesson threads, dates
// sessions whose clock has changed, and sends the digests that are due. Call it a
// few times a minute. A digest goes to somebody who is a coach of that server at
// that moment and to nobody else; one that cannot be sent for now, or not in
// quiet hours, is tried again with the next tick.
func (b *Bot) Tick(ctx context.Context, on Platform) error {
	failed := []error{b.makeUp(ctx), b.tendThreads(ctx, on), b.tendPins(ctx, on), b.records.OpenScheduled(ctx), b.tendChallenges(ctx, on), b.tendSeasons(ctx, on), b.records.Redate(ctx)}
	open, err := b.settleSent(ctx, on)
	if err != nil {
		failed = append(failed, fmt.Errorf("bot: digests on their way: %w", err))
	}
	due, err := b.due(ctx, b.now())
	if err != nil {
		failed = append(failed, fmt.Errorf("bot: digests: %w", err))
	}
	for _, d := range due {
		if open[[2]string{d.Digest.Server, d.Digest.Coach}] {
			continue // before it is known whether the last one got through
		}
		if err := send(ctx, b, on, d); err != nil {
			failed = append(failed, err)
		}
	}
	return errors.Join(failed...)
}

func send(ctx context.Context, b *Bot, on Platform, d Due) error {
	server, coach := d.Digest.Server, d.Digest.Coach
	if d.Reply.Text != "" {
		house, err := b.db.Clubhouse(ctx, server)
		if err != nil {
			return fmt.Errorf("bot: sending a digest: %w", err)
		}
		if record.Quiet(house, b.now()) {
			return nil // still due when they are over
		}
		roles, err := on.Roles(ctx, server, coach)
		role := b.known.coachRole(server)
		switch {
		case errors.Is(err, ErrGone), err == nil && (role == "" || !slices.Contains(roles, role)):
			// No coach there any more: the digest ends, and starts afresh if
			// they ask for it again.
			return b.db.EndDigest(ctx, server, coach)
		case err != nil:
			return fmt.Errorf("bot: who is a coach: %w", err)
		}
		if err := b.db.Sending(ctx, d.Telling); err != nil {
			return fmt.Errorf("bot: sending a digest: %w", err)
		}
		switch err := on.Direct(ctx, coach, d.Nonce, d.Reply); {
		case errors.Is(err, ErrRefused):
			return b.db.DigestRefused(ctx, server, coach)
		case err != nil:
			return fmt.Errorf("bot: sending a digest: %w", err)
		}
	}
	return b.db.DigestSent(ctx, d.Telling)
}

// settleSent finds out what became of the digests that were being sent when the
// process or the link broke off: one that got through was told, whatever
// would be told now, and one that did not is composed anew. open are the
// servers and coaches of those that cannot be known yet.
func (b *Bot) settleSent(ctx context.Context, on Platform) (open map[[2]string]bool, err error) {
	all, err := b.db.InDoubt(ctx)
	failed, open := []error{err}, map[[2]string]bool{}
	for _, t := range all {
		there, err := on.Sent(ctx, t.Coach, func(text string) bool { return store.SumOf(text) == t.Sum })
		switch {
		case err != nil && !errors.Is(err, ErrRefused): // refused, it would refuse the message too
			open[[2]string{t.Server, t.Coach}] = true
		case there:
			err = b.db.DigestSent(ctx, t)
		default:
			err = b.db.NotSent(ctx, t)
		}
		failed = append(failed, err)
	}
	return open, errors.Join(failed...)
}

// Sweep ends the bindings of people who left their server: a student who left
// takes their consent along, a coach who left is nobody's coach. Call it daily.
// Nothing is deleted; whoever comes back is asked anew. Then it makes what is due
// of what tools do to each coach's students together.
func (b *Bot) Sweep(ctx context.Context, on Platform) error {
	live, err := b.db.LiveBindings(ctx)
	if err != nil {
		return fmt.Errorf("bot: sweeping: %w", err)
	}
	gone := map[[2]string]bool{}
	left := func(server, person string) (bool, error) {
		key := [2]string{server, person}
		if is, known := gone[key]; known {
			return is, nil
		}
		_, err := on.Roles(ctx, server, person)
		if err != nil && !errors.Is(err, ErrGone) {
			return false, err
		}
		gone[key] = err != nil
		return err != nil, nil
	}
	var failed []error
	for _, binding := range live {
		for _, who := range []string{binding.Student, binding.Coach} {
			is, err := left(binding.Server, who)
			if err != nil {
				failed = append(failed, fmt.Errorf("bot: sweeping: %w", err))
				continue
			}
			if !is {
				continue
			}
			ended, err := b.db.EndBinding(ctx, binding.Server, binding.ID, who)
			if err != nil {
				failed = append(failed, fmt.Errorf("bot: sweeping: %w", err))
				continue
			}
			b.known.learn(ended)
			b.log.InfoContext(ctx, "a binding ended: a member left the server", "why", ended.Why)
			break
		}
	}
	pooled := map[[2]string]bool{}
	for _, binding := range live {
		key := [2]string{binding.Server, binding.Coach}
		if pooled[key] {
			continue
		}
		pooled[key] = true
		if _, _, err := b.records.Pool(ctx, binding.Server, binding.Coach); err != nil {
			failed = append(failed, fmt.Errorf("bot: sweeping: %w", err))
		}
	}
	return errors.Join(failed...)
}

// Run ticks and sweeps until ctx ends. Between its ticks it ticks when something
// is due at once.
func (b *Bot) Run(ctx context.Context, on Platform) {
	if err := b.db.WantMissingPins(ctx); err != nil {
		b.log.ErrorContext(ctx, "could not see which lesson threads lack their message; the next start tries again", "err", err)
	}
	often := time.NewTicker(20 * time.Second)
	defer often.Stop()
	var swept time.Time
	for {
		if err := b.Tick(ctx, on); err != nil && ctx.Err() == nil {
			b.log.ErrorContext(ctx, "what was due failed; the next tick tries again", "err", err)
		}
		if now := b.now(); now.Sub(swept) >= 24*time.Hour {
			swept = now
			if err := b.Sweep(ctx, on); err != nil && ctx.Err() == nil {
				b.log.ErrorContext(ctx, "could not see who is still there; tomorrow tries again", "err", err)
			}
		}
		select {
		case <-ctx.Done():
			return
		case <-often.C:
		case <-b.soon:
		}
	}
}

// hurry has Run tick at once.
func (b *Bot) hurry() {
	select {
	case b.soon <- struct{}{}:
	default: // it will already
	}
}
