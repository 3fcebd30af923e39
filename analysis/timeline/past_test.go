package timeline

import (
	"math/rand/v2"
	"testing"

	"rangepost/analysis"
)

// A golfer whose sessions differ by chance alone is told of a change in at most
// one session in twenty, and one who came much nearer is told so.
func TestPastByChance(t *testing.T) {
	rng := rand.New(rand.NewPCG(1, 2))
	const runs = 20000
	for _, sessions := range []int{3, 4, 6} {
		said, seen := 0, 0
		for range runs {
			var earlier []Means
			for range sessions {
				earlier = append(earlier, Means{analysis.Lateral: 12 + 3*rng.NormFloat64()})
			}
			p := PastOf(Means{}, earlier, 3)
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

// The same finding is counted back to the first session that did not have it.
func TestPastTimes(t *testing.T) {
	const open = 4 * analysis.Degree
	right := Means{analysis.Lateral: 15, analysis.Face: open}
	left := Means{analysis.Lateral: -15, analysis.Face: -open}
	start := Means{analysis.Lateral: 15, analysis.Face: 0.2 * analysis.Degree} // right, and not by the face
	for name, c := range map[string]struct {
		earlier []Means
		want    int
	}{
		"none before":                        {nil, 1},
		"twice before":                       {[]Means{right, right}, 3},
		"once, then the other side":          {[]Means{right, left, right}, 2},
		"by something else":                  {[]Means{start, right}, 1},
		"a session without a finish between": {[]Means{right, {analysis.Face: -open}, right}, 3},
	} {
		if got := PastOf(right, c.earlier, 3, analysis.Face).Times; got != c.want {
			t.Errorf("%s: %d times, want %d", name, got, c.want)
		}
	}
	if p := PastOf(right, []Means{right, right}, 3, analysis.Face); p.OK || p.Sessions != 2 {
		t.Errorf("two sessions tell how sessions differ: %+v", p)
	}
}
