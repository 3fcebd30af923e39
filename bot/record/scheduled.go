package record

import (
	"context"
	"errors"
	"time"

	"rangepost/analysis/season"
	"rangepost/store"
)

// OpenScheduled opens the challenges whose day has come, and writes down which
// were to be over by now. One that opens late is open for as many days as it was
// to be, and what was hit since the day it was announced for counts; of one that was
// planned on its day, since then. All it goes by is in the database, so that it may be
// called again after it was cut short anywhere.
func (rs *Records) OpenScheduled(ctx context.Context) error {
	now := rs.now()
	// No clock is more than 14 hours ahead of UTC.
	due, err := rs.db.DueScheduled(ctx, season.Day(now.Add(14*time.Hour), time.UTC))
	failed := []error{err}
	for _, d := range due {
		if err := rs.openScheduled(ctx, d, now); err != nil && !errors.Is(err, store.ErrNotFound) { // opened or taken out meanwhile
			failed = append(failed, err)
		}
	}
	return errors.Join(failed...)
}

// Held is what a challenge of a schedule is called where it is held.
func Held(d store.Scheduled) string { return d.Name + ", " + d.Day.Format("2 January") }

func (rs *Records) openScheduled(ctx context.Context, d store.Scheduled, now time.Time) error {
	house, err := rs.db.Clubhouse(ctx, d.Server)
	if err != nil {
		return err
	}
	zone := Zone(house.TimeZone)
	today := season.Day(now, zone)
	switch {
	case today.Before(d.Day):
		return nil
	case !today.Before(d.Day.AddDate(0, 0, d.Days)):
		return rs.db.Miss(ctx, d)
	}
	s, err := rs.db.Season(ctx, d.Server, d.Season)
	if err != nil {
		return err
	}
	opened := season.Midnight(d.Day, zone)
	if d.Made.After(opened) {
		opened = d.Made // nobody knew of it before
	}
	_, err = rs.db.OpenScheduled(ctx, d, store.Challenge{
		Server: d.Server, Name: Held(d), Channel: s.Channel,
		Opened: opened, Until: season.Midnight(today.AddDate(0, 0, d.Days), zone), Terms: d.Terms,
	})
	return err
}
