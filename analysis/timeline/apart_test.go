package timeline

import (
	"math"
	"math/rand/v2"
	"testing"
	"time"

	"rangepost/analysis"
)

// With nothing changed, two sessions in a row are further apart than Apart says
// in about one case of twenty, in fewer while few sessions tell the spread: what
// lies within them is known much better than t allows for.
func TestApart(t *testing.T) {
	const runs = 2000
	for _, before := range []int{5, 20} {
		beyond := 0
		for seed := range runs {
			r := rand.New(rand.NewPCG(uint64(seed), 7))
			var sessions []analysis.SessionValues
			for day := range before + 1 {
				s := analysis.SessionValues{At: time.Date(2026, time.June, 1+day, 0, 0, 0, 0, time.UTC)}
				middle := 1.2 * r.NormFloat64()
				for range 20 {
					s.Values = append(s.Values, middle+2.5*r.NormFloat64())
				}
				sessions = append(sessions, s)
			}
			result := Of(analysis.FaceToPath, analysis.Club{}, sessions, nil)
			d, ok := Apart(result)
			if !ok {
				t.Fatal("six sessions are enough")
			}
			n := len(result.Points)
			if math.Abs(result.Points[n-1].Mean.Mean-result.Points[n-2].Mean.Mean) > d {
				beyond++
			}
		}
		share := float64(beyond) / runs
		t.Logf("%d sessions before: %.1f %% beyond", before, 100*share)
		if share < 0.01 || share > 0.06 {
			t.Errorf("%d sessions before: %.1f %% of pairs are further apart, want 1 to 6", before, 100*share)
		}
	}
	few := Of(analysis.Face, analysis.Club{}, []analysis.SessionValues{{Values: []float64{1, 2}}, {Values: []float64{1, 2}}}, nil)
	if _, ok := Apart(few); ok {
		t.Error("two sessions say how far apart sessions fall")
	}
}
