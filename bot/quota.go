package bot

import (
	"context"
	"fmt"
	"slices"
	"sync"
	"time"

	"rangepost/analysis"
	"rangepost/store"
)

// The most files one person may hand over. Nobody who practises comes near; it
// keeps one person, or a program in their name, from taking the bot's time from
// everybody else.
const (
	filesPerHour = 120
	filesPerDay  = 400
)

// A quota remembers when people handed over files, for a day. It lives in
// memory, and a restart forgives; where several processes serve, it is in the
// database.
type quota struct {
	db    *store.DB // nil for memory
	mu    sync.Mutex
	times map[string][]time.Time // by person, oldest first
}

// take counts a file of somebody's, or says in words why it is one too many.
func (q *quota) take(ctx context.Context, who string, now time.Time) error {
	if q.db != nil {
		return q.db.Handed(ctx, who, now, func(times []time.Time) error { return room(times, now) })
	}
	q.mu.Lock()
	defer q.mu.Unlock()
	if q.times == nil {
		q.times = map[string][]time.Time{}
	}
	for person, times := range q.times {
		// What a clock that was set back left in the future counts no more than
		// what is long past.
		times = slices.DeleteFunc(times, func(t time.Time) bool { return t.After(now) || now.Sub(t) >= 24*time.Hour })
		if q.times[person] = times; len(times) == 0 {
			delete(q.times, person)
		}
	}
	if err := room(q.times[who], now); err != nil {
		return err
	}
	q.times[who] = append(q.times[who], now)
	return nil
}

// room says in words why a file is one too many for who handed over some of late.
func room(times []time.Time, now time.Time) error {
	for _, bound := range []struct {
		most int
		per  time.Duration
		name string
	}{{filesPerHour, time.Hour, "an hour"}, {filesPerDay, 24 * time.Hour, "a day"}} {
		if len(times) < bound.most {
			continue
		}
		// There is room again once the first of the last so many is past.
		wait := times[len(times)-bound.most].Add(bound.per).Sub(now)
		if wait > 0 {
			return analysis.Refuse(fmt.Sprintf("Post it again in %s.", roughly(wait)),
				"That is one file too many: I read %d of one person within %s. Nothing of it was kept.", bound.most, bound.name)
		}
	}
	return nil
}

// forget drops what is remembered of a person.
func (q *quota) forget(ctx context.Context, who string) error {
	if q.db != nil {
		return q.db.ForgetHanded(ctx, who)
	}
	q.mu.Lock()
	defer q.mu.Unlock()
	delete(q.times, who)
	return nil
}

// roughly is a time to wait, rounded up to whole minutes or hours.
func roughly(d time.Duration) string {
	n, unit := int((d+time.Minute-1)/time.Minute), "minute"
	if n > 90 {
		n, unit = (n+59)/60, "hour"
	}
	if n != 1 {
		unit += "s"
	}
	return fmt.Sprintf("%d %s", n, unit)
}
