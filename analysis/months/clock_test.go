package months

import (
	"slices"
	"strings"
	"testing"
	"time"
	_ "time/tzdata" // so that the zones are there wherever this runs
)

const wall = "2006-01-02 15:04"

func in(t *testing.T, zone, at string) time.Time {
	t.Helper()
	where, err := time.LoadLocation(zone)
	if err != nil {
		t.Fatal(err)
	}
	x, err := time.ParseInLocation(wall, at, where)
	if err != nil {
		t.Fatal(err)
	}
	return x
}

func instant(t *testing.T, s string) time.Time {
	t.Helper()
	x, err := time.Parse(time.RFC3339, s)
	if err != nil {
		t.Fatal(err)
	}
	return x
}

// The right answers are those of Go's time package too, which reads the same
// rules by another program.
func TestClocks(t *testing.T) {
	if n := len(Clocks()); n != 60 {
		t.Errorf("%d cases", n)
	}
	names := map[string]bool{}
	for _, c := range Clocks() {
		if names[c.Name] {
			t.Errorf("two cases are called %q", c.Name)
		}
		names[c.Name] = true
		from := in(t, c.Zone, c.From)

		var hit time.Time
		if strings.Contains(c.File, "T") {
			hit = instant(t, c.File)
		} else {
			hit = in(t, c.Golfer, c.File)
		}
		if !slices.ContainsFunc(c.Hit, func(s string) bool { return instant(t, s).Equal(hit) }) {
			t.Errorf("%s: hit at %v, not %v", c.Name, hit.UTC(), c.Hit)
		}

		var end time.Time
		switch {
		case c.Kind == Contest:
			end = in(t, c.Zone, c.Until)
		case c.Kind == Deadline:
			y, m, d := from.Date()
			switch c.Until {
			case "tomorrow":
				d++
			case "Sunday":
				d += 7 - int(from.Weekday())
			default:
				y, m, d = in(t, c.Zone, c.Until+" 00:00").Date()
			}
			end = time.Date(y, m, d+1, 0, 0, 0, 0, from.Location()).Add(-time.Millisecond)
		}
		if c.End == "" != (c.Kind == Marked) || c.End != "" && !instant(t, c.End).Equal(end) {
			t.Errorf("%s: ends %v, not %s", c.Name, end.UTC(), c.End)
		}

		for _, s := range c.Hit {
			at := instant(t, s)
			if counts := !at.Before(from) && (end.IsZero() || !at.After(end)); counts != c.Counts {
				t.Errorf("%s: counts is %v", c.Name, counts)
			}
		}
	}
}
