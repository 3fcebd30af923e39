package record

import (
	"context"
	"errors"
	"time"
	_ "time/tzdata" // everybody's time zones, wherever this runs

	"rangepost/store"
)

// Zone is a time zone by its name; UTC for one that is not, or no more, in the
// world's database.
func Zone(name string) *time.Location {
	zone, ok := KnownZone(name)
	if !ok {
		return time.UTC
	}
	return zone
}

// KnownZone is a time zone by its name, if the world's database has it.
func KnownZone(name string) (zone *time.Location, ok bool) {
	if name == "Local" { // wherever the bot happens to run
		return nil, false
	}
	zone, err := time.LoadLocation(name)
	return zone, err == nil
}

// Zone is where somebody's days begin and end, and what clock they read: the
// one they said, else that of their digest, else the clubhouse's.
func (rs *Records) Zone(ctx context.Context, server, who string) (*time.Location, error) {
	known, err := rs.db.TimeZone(ctx, server, who)
	if err != nil {
		return nil, err
	}
	if known != "" {
		return Zone(known), nil
	}
	digest, err := rs.db.Digest(ctx, server, who)
	switch {
	case err == nil:
		return Zone(digest.TimeZone), nil
	case !errors.Is(err, store.ErrNotFound):
		return nil, err
	}
	house, err := rs.db.Clubhouse(ctx, server)
	return Zone(house.TimeZone), err
}

// Quiet reports whether a time is in a clubhouse's quiet hours, on its clock.
func Quiet(c store.Clubhouse, at time.Time) bool {
	at = at.In(Zone(c.TimeZone))
	minute := at.Hour()*60 + at.Minute()
	if c.QuietFrom <= c.QuietUntil {
		return c.QuietFrom <= minute && minute < c.QuietUntil
	}
	return minute >= c.QuietFrom || minute < c.QuietUntil
}
