package bot

import (
	"context"
	"errors"
	"fmt"
	"time"
)

const (
	// seenEvery is how often it is kept that the bot runs, and awayFrom how long
	// it was away for that to be told from a restart.
	seenEvery, awayFrom = 5 * time.Minute, 15 * time.Minute

	// leastGrace and mostGrace bound the time a challenge is open longer for:
	// as long as the bot was away, which may be too short to come back and enter.
	leastGrace, mostGrace = time.Hour, 24 * time.Hour
)

// makeUp has challenges that ended while the bot was away end later, by as long
// as it was, since nobody could enter. It looks once, at the first tick of a
// process.
func (b *Bot) makeUp(ctx context.Context) error {
	b.tending.Lock()
	defer b.tending.Unlock()
	last, err := b.db.Running(ctx)
	if err != nil {
		return fmt.Errorf("bot: when it ran: %w", err)
	}
	now := b.now()
	away := now.Sub(last)
	if !b.backAgain && !last.IsZero() && away >= awayFrom {
		if err := b.extend(ctx, last, now.Add(min(max(away, leastGrace), mostGrace))); err != nil {
			return err
		}
	}
	b.backAgain = true
	if away < seenEvery {
		return nil
	}
	return b.db.KeepRunning(ctx)
}

// extend has every open challenge that was to end since then end at another
// time.
func (b *Bot) extend(ctx context.Context, since, until time.Time) error {
	due, err := b.db.DueChallenges(ctx)
	failed := []error{err}
	for _, c := range due {
		if c.Closed.IsZero() && c.Over(b.now()) && c.Until.After(since) {
			failed = append(failed, b.db.ExtendChallenge(ctx, c.Server, c.ID, until, "the bot was away"))
		}
	}
	return errors.Join(failed...)
}
