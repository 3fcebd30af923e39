package bot

import (
	"context"
	"errors"
	"time"
	_ "time/tzdata" // everybody's time zones, wherever this runs

	"rangepost/store"
)

// zone is where somebody's days begin and end: the zone of their digest, else
// the clubhouse's.
func (b *Bot) zone(ctx context.Context, server, who string) (*time.Location, error) {
	digest, err := b.db.Digest(ctx, server, who)
	name := digest.TimeZone
	if errors.Is(err, store.ErrNotFound) {
		house, err := b.db.Clubhouse(ctx, server)
		if err != nil {
			return nil, err
		}
		name = house.TimeZone
	} else if err != nil {
		return nil, err
	}
	zone, err := time.LoadLocation(name)
	if err != nil {
		return time.UTC, nil // a zone that is no more
	}
	return zone, nil
}
