package timeline

import (
	"math/rand/v2"
	"testing"

	"rangepost/analysis"
)

// hit are n balls about a middle, m, with a face, rad.
func hit(rng *rand.Rand, n int, middle, face float64) (shots []analysis.Shot) {
	for range n {
		s := analysis.Shot{}.With(analysis.Lateral, middle+8*rng.NormFloat64())
		shots = append(shots, s.With(analysis.Face, face+1*analysis.Degree*rng.NormFloat64()))
	}
	return shots
}

// A golfer whose sessions differ by chance alone is told of a change in at most
// one session in twenty, and one who came much nearer is told so.
func TestPastByChance(t *testing.T) {
	rng := rand.New(rand.NewPCG(1, 2))
	const runs = 4000
	for _, sessions := range []int{3, 4, 6} {
		said, seen := 0, 0
		for range runs {
			var earlier [][]analysis.Shot
			for range sessions {
				earlier = append(earlier, hit(rng, 20, 12+3*rng.NormFloat64(), 0))
			}
			same := PastOf(hit(rng, 20, 12+3*rng.NormFloat64(), 0), earlier, 3)
			if nearer, further := same.Nearer(mean(t, rng, 12, 3)); nearer || further {
				said++
			}
			if nearer, _ := same.Nearer(mean(t, rng, -1, 3)); nearer {
				seen++
			}
		}
		if share := float64(said) / runs; share > 0.058 { // 5 % and two standard errors
			t.Errorf("%d sessions before: a change is said in %.1f %% of sessions by chance", sessions, 100*share)
		}
		if share := float64(seen) / runs; share < map[int]float64{3: 0.2, 4: 0.5, 6: 0.7}[sessions] {
			t.Errorf("%d sessions before: 13 m nearer is said in %.0f %%", sessions, 100*share)
		}
	}
}

// mean is the middle of one session's 20 balls about a level that differs from
// session to session.
func mean(t *testing.T, rng *rand.Rand, level, between float64) (sum float64) {
	t.Helper()
	for _, s := range hit(rng, 20, level+between*rng.NormFloat64(), 0) {
		v, _ := s.Value(analysis.Lateral)
		sum += v / 20
	}
	return sum
}

// The same finding is counted back to the first session that did not have it.
func TestPastTimes(t *testing.T) {
	rng := rand.New(rand.NewPCG(3, 4))
	const open = 4 * analysis.Degree
	right := func() []analysis.Shot { return hit(rng, 30, 15, open) }
	left := hit(rng, 30, -15, -open)
	start := hit(rng, 30, 15, 0) // right, and not by the face
	for name, c := range map[string]struct {
		earlier [][]analysis.Shot
		want    int
	}{
		"none before":               {nil, 1},
		"twice before":              {[][]analysis.Shot{right(), right()}, 3},
		"once, then the other side": {[][]analysis.Shot{right(), left, right()}, 2},
		"by something else":         {[][]analysis.Shot{start, right()}, 1},
	} {
		if got := PastOf(right(), c.earlier, 3, analysis.Face).Times; got != c.want {
			t.Errorf("%s: %d times, want %d", name, got, c.want)
		}
	}
	if p := PastOf(right(), [][]analysis.Shot{right(), right()}, 3, analysis.Face); p.OK || p.Sessions != 2 {
		t.Errorf("two sessions tell how sessions differ: %+v", p)
	}
}
