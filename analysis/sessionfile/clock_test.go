package sessionfile

import (
	"slices"
	"testing"
	"time"

	"rangepost/analysis/months"
)

// Sixty times that stand in files, worked out by another hand and by another
// program's rules of the zones.
func TestClocks(t *testing.T) {
	for _, c := range months.Clocks() {
		zone, err := time.LoadLocation(c.Golfer)
		if err != nil {
			t.Fatal(err)
		}
		file := "Time,Carry (yd)\n" + c.File + ",150\n" + c.File + ",152\n"
		when := reading(t, file, Options{Zone: zone, Posted: time.Date(2026, time.December, 31, 0, 0, 0, 0, time.UTC)}).Session.When
		if got := when.UTC().Format(time.RFC3339); !slices.Contains(c.Hit, got) {
			t.Errorf("%s: %s in %s is %s, want %v", c.Name, c.File, c.Golfer, got, c.Hit)
		}
	}
}
