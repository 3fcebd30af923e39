package timeline

import (
	"math"
	"testing"
	"time"

	"rangepost/analysis"
)

// Wilson limits of 8 of 10 are .490 and .943, of 9 of 10 .596 and .982 [C],
// Wilson (1927), J. Am. Stat. Assoc. 22:209.
func TestStanding(t *testing.T) {
	sunday := time.Date(2026, time.June, 14, 0, 0, 0, 0, time.UTC)
	for _, tt := range []struct {
		name       string
		balls      int
		until      time.Time
		inside, of int
		over       bool
		want       Standing
	}{
		{"nothing yet", 10, sunday, 0, 0, false, Running},
		{"not enough yet, all inside", 10, sunday, 9, 9, false, Running},
		{"enough, most inside", 10, sunday, 9, 10, false, Met},
		{"enough, but too few to be sure", 10, sunday, 8, 10, false, Running},
		{"the same when it is over", 10, sunday, 8, 10, true, Unclear},
		{"over with too few", 10, sunday, 9, 9, true, Missed},
		{"over with none", 10, sunday, 0, 0, true, Missed},
		{"over, most outside", 10, sunday, 1, 10, true, Missed},
		{"most outside, but there is time", 10, sunday, 1, 10, false, Running},
		{"balls without a date, most outside", 10, time.Time{}, 1, 10, false, Missed},
		{"balls without a date, half", 10, time.Time{}, 5, 10, false, Unclear},
		{"neither balls nor date, most outside", 0, time.Time{}, 1, 10, false, Running},
		{"neither balls nor date, most inside", 0, time.Time{}, 9, 10, false, Met},
		{"a date without balls, none hit", 0, sunday, 0, 0, true, Missed},
	} {
		k := Keep(analysis.Brief{Balls: tt.balls, Until: tt.until}, tt.inside, tt.of)
		if got := k.Standing(tt.over); got != tt.want {
			t.Errorf("%s: %s (%.3f to %.3f), want %s", tt.name, got, k.ShareLow, k.ShareHigh, tt.want)
		}
	}
	if k := Keep(analysis.Brief{}, 8, 10); math.Abs(k.ShareLow-0.490) > 5e-4 || math.Abs(k.ShareHigh-0.943) > 5e-4 {
		t.Errorf("limits %.4f to %.4f", k.ShareLow, k.ShareHigh)
	}
}
