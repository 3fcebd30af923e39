package bot

import (
	"context"
	"errors"
	"fmt"

	"rangepost/bot/record"
	"rangepost/store"
)

// tendSeasons ends the seasons that have had their time and brings each one's
// messages up to date, as tendChallenges does those of challenges. All it goes by
// is in the database, so a restart at any moment loses nothing.
func (b *Bot) tendSeasons(ctx context.Context, on Notices) error {
	b.tending.Lock()
	defer b.tending.Unlock()
	due, err := b.db.DueSeasons(ctx)
	failed := []error{err}
	for _, s := range due {
		if err := tendSeason(ctx, b, on, s); err != nil {
			failed = append(failed, fmt.Errorf("bot: a season: %w", err))
		}
	}
	return errors.Join(failed...)
}

func tendSeason(ctx context.Context, b *Bot, on Notices, s store.Season) error {
	closed, err := b.records.CloseSeason(ctx, s)
	if err != nil {
		return err
	}
	if closed {
		if s, err = b.db.Season(ctx, s.Server, s.ID); err != nil {
			return err
		}
	}
	now := b.now()
	if s.Revision == s.Shown || s.Closed.IsZero() && !s.Drawn.IsZero() && now.Sub(s.Drawn) < betweenDraws {
		return nil
	}
	t, err := b.records.Season(ctx, s)
	if err != nil {
		return err
	}
	if len(t.Parts) == 0 && t.Message == "" {
		return nil // nothing is planned, so there is nothing to show yet
	}
	if t.Message == "" || !t.Closed.IsZero() && t.Winners == "" {
		house, err := b.db.Clubhouse(ctx, t.Server)
		if err != nil || record.Quiet(house, now) {
			return err // what is new waits until quiet hours are over
		}
	}
	err = showSeason(ctx, b, on, &t)
	if errors.Is(err, ErrNoChannel) {
		b.log.WarnContext(ctx, "a season's table cannot be shown", "err", err)
		t.Message = ""
	} else if err != nil {
		return err
	}
	return b.db.SeasonShown(ctx, t.Season)
}

// showSeason brings the messages of a season up to date and says in t which they
// are.
func showSeason(ctx context.Context, b *Bot, on Notices, t *record.Season) (err error) {
	if t.Channel, t.Message, err = stand(ctx, b, on, t.Server, t.Channel, t.Message, fmt.Sprintf("%s-%d", t.ID, t.Revision), seasonMessage(ctx, b, *t)); err != nil || t.Closed.IsZero() {
		return err
	}
	t.Winners, err = sayWon(ctx, on, t.Channel, t.Winners, t.ID, seasonCertificate(ctx, b, *t))
	return err
}
