package season_test

import (
	"strings"
	"testing"
	"time"
	_ "time/tzdata"

	"rangepost/analysis/season"
)

func date(text string) time.Time {
	day, err := time.Parse(time.DateOnly, text)
	if err != nil {
		panic(err)
	}
	return day
}

func TestDays(t *testing.T) {
	first, last := date("2026-05-30"), date("2026-07-31") // a Saturday to a Friday
	for _, c := range []struct{ text, want string }{
		{"every Saturday", "05-30 06-06 06-13 06-20 06-27 07-04 07-11 07-18 07-25"},
		{"Every saturdays", "05-30 06-06 06-13 06-20 06-27 07-04 07-11 07-18 07-25"},
		{"every other sat", "05-30 06-13 06-27 07-11 07-25"},
		{"every first Monday", "06-01 07-06"},
		{"every 2nd monday", "06-08 07-13"},
		{"every fourth Sunday", "06-28 07-26"},
		{"every last Friday", "06-26 07-31"},
		{"every last Saturday", "05-30 06-27 07-25"},
		{"2026-07-11, 2026-06-13 2026-06-13", "06-13 07-11"},
	} {
		days, err := season.Days(c.text, first, last)
		var got []string
		for _, d := range days {
			got = append(got, d.Format("01-02"))
		}
		if err != nil || strings.Join(got, " ") != c.want {
			t.Errorf("%q is %v, %v, want %s", c.text, got, err, c.want)
		}
	}
	for _, wrong := range []string{"", "every", "Saturday", "every fifth Monday", "every first", "every day", "2026-08-01", "2026-02-30", "every first Monday of June"} {
		if days, err := season.Days(wrong, first, last); err == nil {
			t.Errorf("%q is %v", wrong, days)
		}
	}
	if days, err := season.Days("every first Monday", date("2026-06-02"), date("2026-06-30")); err == nil {
		t.Errorf("no such day: %v", days)
	}
}

// Clocks that change at midnight: Chile's forward over it, Cuba's from one back
// to midnight, Lebanon's forward over it, São Paulo's of old from midnight back
// to eleven (as Go's copy of the tz database has it).
func TestMidnight(t *testing.T) {
	for _, c := range []struct{ zone, day, want string }{
		{"Europe/London", "2026-06-01", "2026-05-31 23:00"},
		{"Europe/London", "2026-03-29", "2026-03-29 00:00"},
		{"Europe/London", "2026-03-30", "2026-03-29 23:00"},
		{"America/Santiago", "2026-09-06", "2026-09-06 04:00"}, // no 00:00 to 01:00
		{"Asia/Beirut", "2026-03-29", "2026-03-28 22:00"},      // likewise
		{"America/Havana", "2026-11-01", "2026-11-01 04:00"},   // 00:00 to 01:00 twice
		{"Asia/Amman", "2021-10-29", "2021-10-28 21:00"},       // likewise, and time.Date gives the second
		{"America/Sao_Paulo", "2018-02-18", "2018-02-18 03:00"},
		{"Pacific/Kiritimati", "2026-06-01", "2026-05-31 10:00"},
	} {
		zone, err := time.LoadLocation(c.zone)
		if err != nil {
			t.Fatal(err)
		}
		got := season.Midnight(date(c.day), zone)
		if got.UTC().Format("2006-01-02 15:04") != c.want {
			t.Errorf("%s in %s begins %v, want %s UTC", c.day, c.zone, got, c.want)
		}
		if !season.Day(got, zone).Equal(date(c.day)) || season.Day(got.Add(-time.Millisecond), zone).Equal(date(c.day)) {
			t.Errorf("%s in %s: %v is not its first instant", c.day, c.zone, got)
		}
	}
}
