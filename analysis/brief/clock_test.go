package brief

import (
	"testing"
	"time"

	"rangepost/analysis/months"
)

// Until when a brief runs, on the clock of who sets it: worked out by another
// hand and by another program's rules of the zones.
func TestClocks(t *testing.T) {
	for _, c := range months.Clocks() {
		if c.Kind != months.Deadline {
			continue
		}
		zone, err := time.LoadLocation(c.Zone)
		if err != nil {
			t.Fatal(err)
		}
		now, err := time.ParseInLocation("2006-01-02 15:04", c.From, zone)
		if err != nil {
			t.Fatal(err)
		}
		b, err := Parse("face to path within 2, 7-iron, by "+c.Until, Options{Now: now})
		if err != nil {
			t.Errorf("%s: %v", c.Name, err)
			continue
		}
		if got := b.Until.UTC().Format("2006-01-02T15:04:05.999Z"); got != c.End {
			t.Errorf("%s: by %s in %s is until %s, want %s", c.Name, c.Until, c.Zone, got, c.End)
		}
	}
}
