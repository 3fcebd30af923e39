package stat

import (
	"math"
	"math/rand/v2"
	"testing"
)

// series is a first-order autoregression of standard deviation 1.
func series(n int, r float64, rng *rand.Rand) []float64 {
	v := make([]float64, n)
	v[0] = rng.NormFloat64()
	for i := 1; i < n; i++ {
		v[i] = r*v[i-1] + math.Sqrt(1-r*r)*rng.NormFloat64()
	}
	return v
}

// Limits hold the mean of streaky values nearly as often as of independent ones,
// and cost independent ones little.
func TestStreakMean(t *testing.T) {
	const sets = 2500
	for _, n := range []int{5, 8, 12, 20, 40, 60} {
		for _, r := range []float64{0, 0.2, 0.35} {
			rng := rand.New(rand.NewPCG(1, uint64(n)))
			held, plain, wide, was := 0, 0, 0.0, 0.0
			for range sets {
				v := series(n, r, rng)
				e, m := StreakMean(v, series(n, r, rng), series(n, r, rng), series(n, r, rng)), Mean(v)
				if e.Low <= 0 && 0 <= e.High {
					held++
				}
				if m.Low <= 0 && 0 <= m.High {
					plain++
				}
				wide, was = wide+e.High-e.Low, was+m.High-m.Low
			}
			got := float64(held) / sets
			// From 20 balls on four series tell streaks from none; with fewer they
			// cannot, and limits are a compromise.
			least, most := 0.925, 1.07
			if n < 20 {
				least, most = 0.89, 1.2
			}
			if got < least || r == 0 && wide/was > most {
				t.Errorf("n %d, r %.2f: held %.3f, %.3f times as wide", n, r, got, wide/was)
			}
			t.Logf("n %d, r %.2f: held %.3f, without %.3f, %.3f times as wide", n, r, got, float64(plain)/sets, wide/was)
		}
	}
}

// A series that does not vary, or is short, has no streaks; order matters and
// nothing else does.
func TestStreakOf(t *testing.T) {
	if s := StreakOf([]float64{1, 1, 1, 1, 1, 1, 1, 1, 1}); s.R != 0 || s.Effective() != 9 {
		t.Errorf("a series that does not vary: %+v", s)
	}
	if s := StreakOf([]float64{1, 2, 3, 4}); s.R != 0 {
		t.Errorf("seven values: %+v", s)
	}
	rising := StreakOf([]float64{1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12})
	turns := StreakOf([]float64{1, 12, 2, 11, 3, 10, 4, 9, 5, 8, 6, 7})
	if rising.R < 0.25 || rising.Effective() > 7 || turns.R > 0.05 || turns.Effective() < 11 {
		t.Errorf("rising %.2f as %.1f, in turns %.2f as %.1f", rising.R, rising.Effective(), turns.R, turns.Effective())
	}
	// n (1 - r)/(1 + r) for many values, exactly known streaks.
	known := Streak{N: 100000, r: []float64{0.35}, prob: []float64{1}}
	if got, want := known.Effective(), 100000*0.65/1.35; math.Abs(got/want-1) > 1e-3 {
		t.Errorf("%.0f values count as %.0f, want %.0f", 100000., got, want)
	}
	if u := rising.Draw(0); u != 1 {
		t.Errorf("the least inflation is %v", u)
	}
	if u := rising.Draw(0.9999); u < 1.3 {
		t.Errorf("the most is %v", u)
	}
}

// Eight sessions of twenty balls tell their common streak as one of 160 would:
// within .09 of the truth (twice 1/sqrt(160), Bartlett 1946, J. R. Stat. Soc.
// Suppl. 8:27, drawn a little to what is thought beforehand), and the mean of
// one of them has limits that hold.
func TestStreakAcross(t *testing.T) {
	const sets = 1000
	for _, r := range []float64{0, 0.35} {
		rng := rand.New(rand.NewPCG(2, 3))
		sum, held := 0.0, 0
		for range sets {
			sessions := make([][]float64, 8)
			for i := range sessions {
				sessions[i] = series(20, r, rng)
			}
			s := StreakAcross(sessions)
			sum += s.R / sets
			if e := s.Means(sessions)[3]; e.Low <= 0 && 0 <= e.High {
				held++
			}
		}
		if math.Abs(sum-r) > 0.09 || held < 930*sets/1000 || held > 970*sets/1000 {
			t.Errorf("r %.2f: told as %.3f on average; limits of a session hold %d of %d", r, sum, held, sets)
		}
	}
	if s := StreakAcross([][]float64{{1, 2}, {3}}).For(12); s.R != 0 || s.Effective() != 12 {
		t.Errorf("sessions of a ball or two: %+v", s)
	}
}
