package sessionfile

import (
	"fmt"
	"time"

	"rangepost/analysis"
)

// Devices lose their clocks: a session dated years ahead would be the latest
// for good, one dated back would stand before every lesson. What cannot be is
// asked about and not taken. (The bounds are common practice, no source; that
// clocks differ by at most 26 hours follows from the zones, UTC-12 to UTC+14.)

const (
	dateKey = "date"

	// clocksApart is how far ahead a right clock can seem that is read in a
	// wrong zone.
	clocksApart = 26 * time.Hour
	// slow is how far ahead a clock may be that is a little fast.
	slow = 5 * time.Minute
)

// The answers about a date. A year is one, too.
const (
	dateRight  = "file"
	datePosted = "posted"
)

// judgeDate holds the date of a session against when its file was handed over:
// what is a little ahead was hit when it was posted; what is far ahead or long
// past is asked about, and left open until somebody says.
func (r *Reading) judgeDate(o Options) {
	s := &r.Session
	if o.Posted.IsZero() || s.When.IsZero() {
		return
	}
	says, long := s.When, s.When.Before(o.Posted.AddDate(-analysis.LongAgo, 0, 0))
	ahead := s.When.Sub(o.Posted)
	switch {
	case !long && ahead <= slow:
		return
	case !long && ahead <= clocksApart:
		s.When, s.Dated = o.Posted, analysis.ByPosting
		r.add([]string{"the file's clock is ahead, so it is taken as hit when it was posted"}, nil)
		return
	}
	q := analysis.Question{Key: dateKey, Alone: true, Choices: []analysis.Choice{
		{Value: datePosted, Text: "The day is wrong: take the one it was posted"},
	}}
	years := map[string]time.Time{}
	if near, ok := nearestYear(says, o.Posted); ok {
		year := near.Format("2006")
		years[year] = near
		q.Choices = append(q.Choices, analysis.Choice{Value: year, Text: "Only the year is wrong: " + near.Format("2 January 2006")})
	}
	q.Text = fmt.Sprintf("The file says it was hit on %s, which is still to come. When was it?", says.Format("2 January 2006"))
	if long {
		q.Text = fmt.Sprintf("The file says it was hit on %s, more than %d years ago. When was it?", says.Format("2 January 2006"), analysis.LongAgo)
		q.Choices = append(q.Choices, analysis.Choice{Value: dateRight, Text: "The date is right: " + says.Format("2 January 2006")})
	}
	answer := o.Answers[dateKey]
	switch near, ok := years[answer]; {
	case ok:
		s.When = near
	case answer == dateRight && long:
	case answer == datePosted:
		s.When, s.Dated = o.Posted, analysis.ByPosting
	default:
		s.When, s.Dated = time.Time{}, analysis.Undated
		r.add(nil, []analysis.Question{q})
	}
}

// nearestYear is a date in the last year in which it was past; ok is false for
// a 29 February that year did not have.
func nearestYear(date, now time.Time) (near time.Time, ok bool) {
	in := func(year int) time.Time {
		return time.Date(year, date.Month(), date.Day(), date.Hour(), date.Minute(), date.Second(), 0, date.Location())
	}
	near = in(now.In(date.Location()).Year())
	if near.After(now) {
		near = in(near.Year() - 1)
	}
	return near, near.Day() == date.Day()
}
