package timeline

import (
	"math/rand/v2"
	"testing"
)

// A golfer whose sessions differ by chance alone is told of a change in at most
// one session in twenty, and one who came much nearer is told so.
func TestPastByChance(t *testing.T) {
	rng := rand.New(rand.NewPCG(1, 2))
	const runs = 20000
	for _, sessions := range []int{3, 4, 6} {
		said, seen := 0, 0
		for range runs {
			var earlier []float64
			for range sessions {
				earlier = append(earlier, 12+3*rng.NormFloat64())
			}
			p := PastOf(earlier)
			if nearer, further := p.Nearer(12 + 3*rng.NormFloat64()); nearer || further {
				said++
			}
			if nearer, _ := p.Nearer(-1 + 3*rng.NormFloat64()); nearer {
				seen++
			}
		}
		if share := float64(said) / runs; share < 0.04 || share > 0.055 {
			t.Errorf("%d sessions before: a change is said in %.1f %% of sessions by chance, want 5", sessions, 100*share)
		}
		if share, least := float64(seen)/runs, map[int]float64{3: 0.45, 4: 0.65, 6: 0.85}[sessions]; share < least {
			t.Errorf("%d sessions before: 13 m nearer, four times what sessions differ by, is said in %.0f %%", sessions, 100*share)
		}
	}
}

// Two sessions tell where they were, and not how sessions differ; of many the
// latest count.
func TestPastOfFew(t *testing.T) {
	if p := PastOf(nil); p.Sessions != 0 || p.OK {
		t.Errorf("of none: %+v", p)
	}
	if p := PastOf([]float64{12, 8}); p.OK || p.Sessions != 2 || p.Last != 12 || p.Mean != 10 {
		t.Errorf("of two: %+v", p)
	}
	if p := PastOf([]float64{1, 2, 3, 4, 5, 6, 100, 100}); p.Sessions != PastSessions || p.Mean != 3.5 {
		t.Errorf("of eight: %+v", p)
	}
}
