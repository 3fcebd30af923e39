package sessionfile

import (
	"strings"
	"testing"
	"time"

	"rangepost/analysis"
)

// A time without an offset is on the golfer's clock, one with an offset is what
// it says, and a day is a day. The instants are the zones' own: Los Angeles is
// seven hours behind UTC in June, Auckland twelve ahead, London one.
func TestTimesOnTheGolfersClock(t *testing.T) {
	for _, c := range []struct {
		zone, written, want string
		dated               analysis.Dating
	}{
		{"America/Los_Angeles", "2026-06-14 20:15", "2026-06-15 03:15", analysis.ByClock},
		{"America/Los_Angeles", "2026-12-14 20:15", "2026-12-15 04:15", analysis.ByClock},
		{"Pacific/Auckland", "14.06.2026 09:00:30", "2026-06-13 21:00", analysis.ByClock},
		{"Europe/London", "14 Jun 2026 17:30", "2026-06-14 16:30", analysis.ByClock},
		{"Europe/London", "2026-06-14T17:30:00+02:00", "2026-06-14 15:30", analysis.ByInstant},
		{"Pacific/Auckland", "2026-06-14T17:30:00.25Z", "2026-06-14 17:30", analysis.ByInstant},
		{"Pacific/Auckland", "2026-06-14 17:30:00 UTC", "2026-06-14 17:30", analysis.ByInstant},
		{"Asia/Kolkata", "2026-06-14 17:30 -07:00", "2026-06-15 00:30", analysis.ByInstant},
		{"Asia/Kolkata", "2026-06-14", "2026-06-13 18:30", analysis.ByDay},
	} {
		zone, err := time.LoadLocation(c.zone)
		if err != nil {
			t.Fatal(err)
		}
		file := "Time,Carry (yd)\n" + c.written + ",150\n" + c.written + ",152\n"
		s := reading(t, file, Options{Zone: zone, Posted: time.Date(2026, time.December, 31, 0, 0, 0, 0, time.UTC)}).Session
		if got := s.When.UTC().Format("2006-01-02 15:04"); got != c.want || s.Dated != c.dated {
			t.Errorf("%s in %s: %s by %q, want %s by %q", c.written, c.zone, got, s.Dated, c.want, c.dated)
		}
	}
}

// What cannot be is asked about and not taken; each answer is.
func TestDatesThatCannotBe(t *testing.T) {
	posted := time.Date(2026, time.June, 14, 18, 0, 0, 0, time.UTC)
	for _, c := range []struct {
		written, answer, want, asks string
		choices                     int
	}{
		{"2026-06-14 17:30", "", "2026-06-14 17:30", "", 0},
		{"2026-06-14 18:04", "", "2026-06-14 18:04", "", 0}, // a clock a little fast
		{"2026-06-15 06:00", "", "2026-06-14 18:00", "", 0}, // the clock of a zone ahead
		{"2026-06-16 06:00", "", "", "still to come", 2},
		{"2062-06-01 10:00", "", "", "still to come", 2},
		{"2062-06-01 10:00", "posted", "2026-06-14 18:00", "", 0},
		{"2062-06-01 10:00", "2026", "2026-06-01 10:00", "", 0},
		{"2062-06-01 10:00", "2062", "", "still to come", 2},
		{"2062-06-01 10:00", "file", "", "still to come", 2},
		{"2062-07-01 10:00", "2025", "2025-07-01 10:00", "", 0}, // this year's is still to come
		{"1999-06-01 10:00", "", "", "more than 10 years ago", 3},
		{"1999-06-01 10:00", "file", "1999-06-01 10:00", "", 0},
		{"1999-06-01 10:00", "2026", "2026-06-01 10:00", "", 0},
		{"2000-02-29 10:00", "", "", "more than 10 years ago", 2}, // neither year has that day
	} {
		o := Options{Posted: posted, Answers: analysis.Answers{}}
		if c.answer != "" {
			o.Answers[dateKey] = c.answer
		}
		r := reading(t, "Time,Carry (yd)\n"+c.written+",150\n"+c.written+",152\n", o)
		got := ""
		if !r.Session.When.IsZero() {
			got = r.Session.When.Format("2006-01-02 15:04")
		}
		asks, choices := "", 0
		for _, q := range r.Questions {
			if !q.Alone {
				t.Errorf("%s: %q would be remembered for other files", c.written, q.Text)
			}
			asks, choices = asks+q.Text, choices+len(q.Choices)
		}
		if got != c.want || choices != c.choices || !strings.Contains(asks, c.asks) || (asks == "") != (c.asks == "") {
			t.Errorf("%s answered %q: hit %q, asks %q with %d choices; want %q, %q, %d", c.written, c.answer, got, asks, choices, c.want, c.asks, c.choices)
		}
	}
	if r := reading(t, "Time,Carry (yd)\n2062-06-01,150\n2062-06-01,152\n", Options{}); len(r.Questions) > 0 || r.Session.When.Year() != 2062 {
		t.Errorf("nobody said when it was handed over: %v, %v", r.Session.When, r.Questions)
	}
}
