package bot

import (
	"fmt"
	"slices"
	"sync"
	"time"

	"rangepost/analysis"
)

// The most files one person may hand over. Nobody who practises comes near; it
// keeps one person, or a program in their name, from taking the bot's time from
// everybody else.
const (
	filesPerHour = 120
	filesPerDay  = 400
)

// A quota remembers when people handed over files, for a day. It lives in
// memory: a restart forgives.
type quota struct {
	mu    sync.Mutex
	times map[string][]time.Time // by person, oldest first
}

// take counts a file of somebody's, or says in words why it is one too many.
func (q *quota) take(who string, now time.Time) error {
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
	times := q.times[who]
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
	q.times[who] = append(times, now)
	return nil
}

// forget drops what is remembered of a person.
func (q *quota) forget(who string) {
	q.mu.Lock()
	defer q.mu.Unlock()
	delete(q.times, who)
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
