package bot

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"slices"
	"time"

	"rangepost/store"
)

// A Noticeboard is where the bot posts, and writes anew, messages of its own
// accord.
type Noticeboard interface {
	// Post posts a message and says its id. The platform posts the same nonce,
	// of at most 25 characters, once within some minutes. It is ErrNoChannel if
	// the channel is gone or closed to the bot.
	Post(ctx context.Context, channel, nonce string, reply Reply) (message string, err error)

	// Edit writes a message anew. It is ErrNoMessage if it was deleted,
	// ErrNoChannel as for Post.
	Edit(ctx context.Context, channel, message string, reply Reply) error
}

// What a Noticeboard says no with. Anything else may work another time.
var (
	ErrNoMessage = errors.New("the message is gone")
	ErrNoChannel = errors.New("no posting in that channel")
)

// betweenDraws is how long standings stand before they are written anew.
const betweenDraws = time.Minute

// Club does what is due in the challenges: scores anew what was read again,
// closes what has had its time, and brings each one's message up to date, at
// most once a minute. All it goes by is in the database, so a restart at any
// moment loses nothing. Call it every minute or oftener.
func (b *Bot) Club(ctx context.Context, on Noticeboard) error {
	b.clubbing.Lock()
	defer b.clubbing.Unlock()
	due, err := b.db.DueChallenges(ctx)
	if err != nil {
		return fmt.Errorf("bot: challenges: %w", err)
	}
	var failed []error
	for _, c := range due {
		if err := b.tend(ctx, on, c); err != nil {
			failed = append(failed, fmt.Errorf("bot: a challenge: %w", err))
		}
	}
	return errors.Join(failed...)
}

// tend brings one challenge up to date.
func (b *Bot) tend(ctx context.Context, on Noticeboard, c store.Challenge) error {
	now := b.now()
	if c.Closed.IsZero() {
		if err := b.rescore(ctx, c); err != nil {
			return err
		}
		if c.Over(now) {
			if _, err := b.closeChallenge(ctx, c); err != nil && !errors.Is(err, store.ErrExpired) {
				return err
			}
		}
		var err error
		if c, err = b.db.Challenge(ctx, c.Server, c.ID); err != nil {
			return err
		}
	}
	if c.Closed.IsZero() && !c.Drawn.IsZero() && now.Sub(c.Drawn) < betweenDraws {
		return nil
	}
	if hold, err := b.heldBack(ctx, c); err != nil || hold {
		return err
	}
	t, err := b.table(ctx, c)
	if err != nil {
		return err
	}
	err = b.show(ctx, on, &t)
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

// heldBack reports whether it is to be said later who won: a challenge that
// ended by its time, and not by hand, ends without a word in quiet hours.
func (b *Bot) heldBack(ctx context.Context, c store.Challenge) (bool, error) {
	if c.Closed.IsZero() || c.Winners != "" || c.Until.IsZero() || c.Closed.Before(c.Until) {
		return false, nil
	}
	house, err := b.db.Clubhouse(ctx, c.Server)
	return err == nil && quiet(house, b.now()), err
}

// show brings the messages of a challenge up to date and says in t which they
// are.
func (b *Bot) show(ctx context.Context, on Noticeboard, t *table) error {
	if err := b.showStandings(ctx, on, t); err != nil || t.Closed.IsZero() {
		return err
	}
	won := b.certificate(ctx, *t)
	if t.Winners == "" {
		message, err := on.Post(ctx, t.Channel, t.ID+"-won", won)
		if err == nil {
			t.Winners = message
		}
		return err
	}
	// A name that was taken back goes from here too.
	if err := on.Edit(ctx, t.Channel, t.Winners, won); !errors.Is(err, ErrNoMessage) && !errors.Is(err, ErrNoChannel) {
		return err
	}
	return nil
}

// showStandings writes the standings into their message or, where that is gone,
// posts them anew: in the same channel, else in another challenge channel.
func (b *Bot) showStandings(ctx context.Context, on Noticeboard, t *table) error {
	reply := b.board(ctx, *t)
	if t.Message != "" {
		err := on.Edit(ctx, t.Channel, t.Message, reply)
		if !errors.Is(err, ErrNoMessage) && !errors.Is(err, ErrNoChannel) {
			return err
		}
	}
	house, err := b.db.Clubhouse(ctx, t.Server)
	if err != nil {
		return err
	}
	channels := append([]string{t.Channel}, house.ChallengeChannels...)
	for i, channel := range channels {
		if slices.Contains(channels[:i], channel) {
			continue
		}
		var message string
		message, err = on.Post(ctx, channel, fmt.Sprintf("%s-%d", t.ID, t.Revision), reply)
		if err == nil {
			t.Channel, t.Message = channel, message
		}
		if !errors.Is(err, ErrNoChannel) {
			return err
		}
	}
	return err
}

// rescore scores anew the entries of an open challenge whose files were read
// again. A reading that can no longer be scored leaves the entry as it was: a
// score once seen cannot be taken back by calling the balls something else.
func (b *Bot) rescore(ctx context.Context, c store.Challenge) error {
	terms, err := decodeTerms(c.Terms)
	if err != nil {
		return err
	}
	entries, err := b.db.Entries(ctx, c.ID)
	if err != nil {
		return err
	}
	for _, e := range entries {
		if !e.Reread {
			continue
		}
		before, err := decodeEntry(e)
		if err != nil {
			return err
		}
		var stretch []byte
		s, err := b.db.Session(ctx, c.Server, e.Session)
		if err != nil && !errors.Is(err, store.ErrNotFound) {
			return err
		}
		if err == nil && len(s.Reading.Questions) == 0 {
			if taken, err := terms.Take(s.Reading.Session); err == nil && !slices.Equal(taken.Balls, before.stretch.Balls) {
				if stretch, err = json.Marshal(taken); err != nil {
					return err
				}
			}
		}
		if err := b.db.Rescore(ctx, e, stretch); err != nil {
			return err
		}
	}
	return nil
}

// closeChallenge closes a challenge and keeps how it ended, with whoever got in
// at the last moment.
func (b *Bot) closeChallenge(ctx context.Context, c store.Challenge) (store.Challenge, error) {
	for {
		t, err := b.table(ctx, c)
		if err != nil {
			return c, err
		}
		finals := map[string][]byte{}
		for _, r := range t.Rows {
			data, err := json.Marshal(finalOf(r, t.Best))
			if err != nil {
				return c, err
			}
			finals[t.entries[r.Entry].ID] = data
		}
		closed, err := b.db.CloseChallenge(ctx, c.Server, c.ID, finals)
		if !errors.Is(err, store.ErrChanged) {
			return closed, err
		}
	}
}
