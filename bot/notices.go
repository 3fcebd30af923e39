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

// Notices is where the bot posts, and writes anew, messages of its own
// accord.
type Notices interface {
	// Put posts a message and says its id. The platform posts the same nonce,
	// of at most 25 characters, once within some minutes. It is ErrNoChannel if
	// the channel is gone or closed to the bot.
	Put(ctx context.Context, channel, nonce string, reply Reply) (message string, err error)

	// Edit writes a message anew. It is ErrNoMessage if it was deleted,
	// ErrNoChannel as for Put.
	Edit(ctx context.Context, channel, message string, reply Reply) error

	// Pin pins a message of the bot's in its channel; one that is pinned stays so.
	// It is ErrRefused if the bot may not, ErrNoMessage and ErrNoChannel as for
	// Edit.
	Pin(ctx context.Context, channel, message string) error

	// Delete takes a message of the bot's away. Its errors are those of Pin.
	Delete(ctx context.Context, channel, message string) error
}

// What Notices say no with. Anything else may work another time.
var (
	ErrNoMessage = errors.New("the message is gone")
	ErrNoChannel = errors.New("no posting in that channel")
)

// betweenDraws is how long standings stand before they are written anew.
const betweenDraws = time.Minute

// tendChallenges does what is due in the challenges: scores anew what was read again,
// closes what has had its time, and brings each one's message up to date, at
// most once a minute. All it goes by is in the database, so a restart at any
// moment loses nothing. Call it every minute or oftener.
func (b *Bot) tendChallenges(ctx context.Context, on Notices) error {
	b.tending.Lock()
	defer b.tending.Unlock()
	due, err := b.db.DueChallenges(ctx)
	if err != nil {
		return fmt.Errorf("bot: challenges: %w", err)
	}
	var failed []error
	for _, c := range due {
		if err := tend(ctx, b, on, c); err != nil {
			failed = append(failed, fmt.Errorf("bot: a challenge: %w", err))
		}
	}
	return errors.Join(failed...)
}

// tend brings one challenge up to date.
func tend(ctx context.Context, b *Bot, on Notices, c store.Challenge) error {
	now := b.now()
	if c.Closed.IsZero() {
		if err := b.records.Rescore(ctx, c); err != nil {
			return err
		}
		waits, err := waitsForHost(ctx, b, c)
		if err != nil {
			return err
		}
		if c.Over(now) && !waits {
			if _, err := b.records.CloseChallenge(ctx, c); err != nil && !errors.Is(err, store.ErrExpired) {
				return err
			}
		}
		if c, err = b.db.Challenge(ctx, c.Server, c.ID); err != nil {
			return err
		}
	}
	if c.Closed.IsZero() && (c.Shown == c.Revision || !c.Drawn.IsZero() && now.Sub(c.Drawn) < betweenDraws) {
		return nil
	}
	if hold, err := heldBack(ctx, b, c); err != nil || hold {
		return err
	}
	t, err := b.records.Standings(ctx, c)
	if err != nil {
		return err
	}
	err = show(ctx, b, on, &t)
	if errors.Is(err, ErrNoChannel) {
		// There is nowhere to show it. `/challenge standings` has it all the
		// same; the next change tries again.
		b.log.WarnContext(ctx, "standings cannot be shown", "err", err)
		t.Message = ""
	} else if err != nil {
		return err
	}
	return b.db.ChallengeShown(ctx, t.Challenge)
}

// looksFor is how long after its end a challenge with entries that wait stays
// unsettled for a host to look at them.
const looksFor = 48 * time.Hour

// waitsForHost reports whether a challenge that is over has entries that a host
// may still accept.
func waitsForHost(ctx context.Context, b *Bot, c store.Challenge) (bool, error) {
	if !c.Over(b.now()) || b.now().Sub(c.Until) >= looksFor {
		return false, nil
	}
	s, err := b.records.Standings(ctx, c)
	return s.Waiting() > 0, err
}

// heldBack reports whether something is to be said later: a challenge that opened
// on a schedule, or ended by its time, and not by hand, does so without a word in
// quiet hours.
func heldBack(ctx context.Context, b *Bot, c store.Challenge) (bool, error) {
	byClock := !c.Closed.IsZero() && c.Winners == "" && !c.Until.IsZero() && !c.Closed.Before(c.Until)
	if c.Closed.IsZero() && c.Message == "" {
		var err error
		if byClock, err = b.db.OpenedByClock(ctx, c.ID); err != nil {
			return false, err
		}
	}
	if !byClock {
		return false, nil
	}
	house, err := b.db.Clubhouse(ctx, c.Server)
	return err == nil && record.Quiet(house, b.now()), err
}

// show brings the messages of a challenge up to date and says in t which they
// are.
func show(ctx context.Context, b *Bot, on Notices, t *record.Standings) error {
	if err := showStandings(ctx, b, on, t); err != nil || t.Closed.IsZero() {
		return err
	}
	var err error
	t.Winners, err = sayWon(ctx, on, t.Channel, t.Winners, t.ID, certificate(ctx, b, *t))
	return err
}

// sayWon posts the message that says who won what has an id, or writes it anew: a
// name that was taken back goes from here too. It says which message that is.
func sayWon(ctx context.Context, on Notices, channel, message, id string, won Reply) (string, error) {
	if message == "" {
		return on.Put(ctx, channel, id+"-won", won)
	}
	if err := on.Edit(ctx, channel, message, won); !errors.Is(err, ErrNoMessage) && !errors.Is(err, ErrNoChannel) {
		return message, err
	}
	return message, nil
}

// showStandings brings the message with the standings up to date.
func showStandings(ctx context.Context, b *Bot, on Notices, t *record.Standings) (err error) {
	t.Channel, t.Message, err = stand(ctx, b, on, t.Server, t.Channel, t.Message, fmt.Sprintf("%s-%d", t.ID, t.Revision), standingsMessage(ctx, b, *t))
	return err
}

// stand writes a reply into the message it stands in or, where that is gone,
// posts it anew: in the same channel, else in another challenge channel. It says
// where it stands then.
func stand(ctx context.Context, b *Bot, on Notices, server, channel, message, nonce string, reply Reply) (string, string, error) {
	if message != "" {
		err := on.Edit(ctx, channel, message, reply)
		if !errors.Is(err, ErrNoMessage) && !errors.Is(err, ErrNoChannel) {
			return channel, message, err
		}
	}
	house, err := b.db.Clubhouse(ctx, server)
	if err != nil {
		return channel, message, err
	}
	channels := append([]string{channel}, house.ChallengeChannels...)
	for i, in := range channels {
		if slices.Contains(channels[:i], in) {
			continue
		}
		var posted string
		posted, err = on.Put(ctx, in, nonce, reply)
		if err == nil {
			return in, posted, nil
		}
		if !errors.Is(err, ErrNoChannel) {
			break
		}
	}
	return channel, message, err
}
