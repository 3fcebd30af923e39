package season

import (
	"slices"
	"strings"
	"time"

	"rangepost/analysis"
)

// MostChallenges is the most a season has: one a week for a year, and some.
const MostChallenges = 60

// Days reads on which days of a season, from first to last, something is:
//
//	every Saturday
//	every other Saturday      from the first in the season on
//	every first Monday        of each month; first to fourth, or last
//	2026-06-13, 2026-07-11    those days
//
// A day is its midnight in UTC, which stands for a date and no instant.
func Days(text string, first, last time.Time) ([]time.Time, error) {
	words := strings.Fields(strings.ToLower(strings.ReplaceAll(text, ",", " ")))
	if len(words) == 0 {
		return nil, unclear(text)
	}
	var days []time.Time
	if words[0] != "every" {
		for _, w := range words {
			day, err := time.Parse(time.DateOnly, w)
			if err != nil {
				return nil, unclear(w)
			}
			if day.Before(first) || day.After(last) {
				return nil, analysis.Refuse("Leave it out, or open a season that has it.", "that day is outside the season.").In(w).Of("when")
			}
			days = append(days, day)
		}
		slices.SortFunc(days, time.Time.Compare)
		return slices.Compact(days), nil
	}
	weekday, of, ok := every(words[1:])
	if !ok {
		return nil, unclear(text)
	}
	seen := 0 // days of that name
	for day := first; !day.After(last); day = day.AddDate(0, 0, 1) {
		if day.Weekday() != weekday {
			continue
		}
		if of(day, seen) {
			days = append(days, day)
		}
		seen++
	}
	if len(days) == 0 {
		return nil, analysis.Refuse("Choose another day, or open a longer season.", "no such day is in the season.").Of("when")
	}
	return days, nil
}

func unclear(text string) error {
	return analysis.Refuse("Write it as every Saturday, every other Saturday, every first Monday, every last Friday, or days as 2026-06-13, 2026-07-11.",
		"I cannot tell which days those are.").In(text).Of("when")
}

// ofMonth are the weeks of a month, from nought.
var ofMonth = map[string]int{
	"first": 0, "second": 1, "third": 2, "fourth": 3, "1st": 0, "2nd": 1, "3rd": 2, "4th": 3, "last": -1,
}

// every reads what follows "every": a day of the week, and which of those. seen
// is how many such days the season had before.
func every(words []string) (weekday time.Weekday, of func(day time.Time, seen int) bool, ok bool) {
	if len(words) == 0 || len(words) > 2 {
		return 0, nil, false
	}
	weekday, ok = weekdays[strings.TrimSuffix(words[len(words)-1], "s")]
	if !ok || len(words) == 1 {
		return weekday, func(time.Time, int) bool { return true }, ok
	}
	if words[0] == "other" {
		return weekday, func(_ time.Time, seen int) bool { return seen%2 == 0 }, true
	}
	week, ok := ofMonth[words[0]]
	return weekday, func(day time.Time, _ int) bool {
		if week < 0 {
			return day.AddDate(0, 0, 7).Month() != day.Month()
		}
		return (day.Day()-1)/7 == week
	}, ok
}

var weekdays = func() map[string]time.Weekday {
	all := map[string]time.Weekday{}
	for d := time.Sunday; d <= time.Saturday; d++ {
		name := strings.ToLower(d.String())
		all[name], all[name[:3]] = d, d
	}
	return all
}()

// Midnight is the instant at which a day begins on the clocks of a zone: where
// they are put forward over midnight the first the day has, where they show it
// twice the first of the two.
func Midnight(day time.Time, zone *time.Location) time.Time {
	y, m, d := day.Date()
	t := time.Date(y, m, d, 0, 0, 0, 0, zone)
	// Where a clock changes, time.Date promises one of the two readings and not
	// which. No zone moves by more than two hours at once [M].
	for t.Day() != d {
		t = t.Add(15 * time.Minute)
	}
	for earlier := 15 * time.Minute; earlier <= 2*time.Hour; earlier += 15 * time.Minute {
		if before := t.Add(-earlier); before.Day() == d {
			t, earlier = before, 0
		}
	}
	return t
}

// Day is the day an instant falls on, on the clocks of a zone.
func Day(at time.Time, zone *time.Location) time.Time {
	y, m, d := at.In(zone).Date()
	return time.Date(y, m, d, 0, 0, 0, 0, time.UTC)
}
