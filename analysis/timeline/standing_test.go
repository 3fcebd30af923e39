package timeline

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"
	"time"

	"rangepost/analysis"
)

// spread are so many balls, of which so many are inside, spread evenly.
func spread(inside, of int) []bool {
	balls := make([]bool, of)
	for i := range balls {
		balls[i] = (i+1)*inside/of > i*inside/of
	}
	return balls
}

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
		{"enough, all inside", 10, sunday, 10, 10, false, Met},
		{"enough, but too few to be sure", 10, sunday, 8, 10, false, Running},
		{"not as many again", 10, sunday, 17, 19, false, Running},
		{"as many again", 10, sunday, 17, 20, false, Met},
		{"as many again, half", 10, sunday, 10, 20, false, Running},
		{"more when it is over", 10, sunday, 24, 30, true, Met},
		{"four times as many, half", 10, sunday, 20, 40, false, Unclear},
		{"the same when it is over", 10, sunday, 8, 10, true, Unclear},
		{"over with too few", 10, sunday, 9, 9, true, Missed},
		{"over with none", 10, sunday, 0, 0, true, Missed},
		{"enough, all outside", 10, sunday, 0, 10, false, Missed},
		{"balls without a date, all outside", 10, time.Time{}, 0, 10, false, Missed},
		{"balls without a date, half", 10, time.Time{}, 5, 10, false, Running},
		{"balls without a date, half of four times as many", 10, time.Time{}, 20, 40, false, Unclear},
		{"neither balls nor date, four of four", 0, time.Time{}, 4, 4, false, Running},
		{"neither balls nor date, a session's", 0, time.Time{}, 24, 30, false, Met},
		{"a date without balls, and there is time", 0, sunday, 40, 40, false, Running},
		{"a date without balls, over", 0, sunday, 40, 40, true, Met},
		{"a date without balls, none hit", 0, sunday, 0, 0, true, Missed},
	} {
		k := Keep(analysis.Brief{Balls: tt.balls, Until: tt.until}, spread(tt.inside, tt.of))
		if got := k.Standing(tt.over); got != tt.want {
			t.Errorf("%s: %s (%.3f to %.3f), want %s", tt.name, got, k.ShareLow, k.ShareHigh, tt.want)
		}
	}
	if k := Shared(analysis.Brief{}, 8, 10, 10); math.Abs(k.ShareLow-0.490) > 5e-4 || math.Abs(k.ShareHigh-0.943) > 5e-4 {
		t.Errorf("limits %.4f to %.4f", k.ShareLow, k.ShareHigh)
	}
}

// The first balls settle a brief; what comes after changes nothing.
func TestFirstBallsSettle(t *testing.T) {
	b := analysis.Brief{Balls: 40}
	want := Keep(b, spread(20, 25), spread(12, 15))
	got := Keep(b, spread(20, 25), append(spread(12, 15), spread(0, 30)...), spread(0, 60))
	if got != want || got.Of != 40 || got.Inside != 32 {
		t.Errorf("%+v, want %+v", got, want)
	}
}

// Balls that come in runs count for fewer than balls that do not.
func TestBallsInRunsCountForFewer(t *testing.T) {
	runs := make([]bool, 40)
	for i := range runs {
		runs[i] = i/5%4 != 3
	}
	b := analysis.Brief{Balls: 40}
	in, even := Keep(b, runs), Keep(b, spread(30, 40))
	if in.Inside != 30 || even.Counted < 38 || in.Counted > 25 || in.ShareLow >= even.ShareLow {
		t.Errorf("runs: %+v\neven: %+v", in, even)
	}
}

// Briefs looked at after every post, of sessions of ten balls or twenty that
// resemble the one before: kept though four of ten would be inside, or missed
// though six would, in at most 5 % each; and half of them inside is either in
// at most 5 % too, unless the balls resemble each other much more.
func TestSimulatedBriefs(t *testing.T) {
	const seasons = 1500
	for _, balls := range []int{0, 10, 20, 40, 80} {
		for _, streak := range []float64{0, 0.35, 0.6} {
			for _, share := range []float64{0.4, 0.5, 0.6, 0.8} {
				rng := rand.New(rand.NewPCG(uint64(balls), uint64(100*streak)))
				count := map[Standing]int{}
				for range seasons {
					var sessions [][]bool
					stood := Running
					for stood == Running {
						sessions = append(sessions, streaky(rng, 10+10*rng.IntN(2), streak, share))
						stood = Keep(analysis.Brief{Balls: balls}, sessions...).Standing(false)
					}
					count[stood]++
				}
				kept, missed := float64(count[Met])/seasons, float64(count[Missed])/seasons
				name := fmt.Sprintf("%d balls, correlation %.2f, share %.1f", balls, streak, share)
				t.Logf("%s: kept %.1f %%, missed %.1f %%", name, 100*kept, 100*missed)
				// 5 % and two standard errors of so many seasons.
				most := 0.05 + 2*math.Sqrt(0.05*0.95/seasons)
				if streak > 0.5 && share == 0.5 {
					continue
				}
				if share <= 0.5 && kept > most || share >= 0.5 && missed > most {
					t.Errorf("%s: falsely kept %.1f %%, falsely missed %.1f %%", name, 100*kept, 100*missed)
				}
			}
		}
	}
}

// streaky are balls of which that share is inside, as a first-order
// autoregression of that correlation falls short of a threshold.
func streaky(rng *rand.Rand, n int, r, share float64) []bool {
	// The standard normal quantiles of the shares used.
	limit := map[float64]float64{0.4: -0.2533471031, 0.5: 0, 0.6: 0.2533471031, 0.8: 0.8416212336}[share]
	balls := make([]bool, n)
	x := rng.NormFloat64()
	for i := range balls {
		if i > 0 {
			x = r*x + math.Sqrt(1-r*r)*rng.NormFloat64()
		}
		balls[i] = x < limit
	}
	return balls
}
