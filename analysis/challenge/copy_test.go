package challenge_test

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"rangepost/analysis"
	"rangepost/analysis/challenge"
)

// written is a stretch as a device writes it: in steps of a unit.
func written(s challenge.Stretch, unit, step float64, carries bool) (out challenge.Stretch) {
	to := func(m float64) float64 { return math.Round(m/(unit*step)) * unit * step }
	for i, b := range s.Balls {
		w := challenge.Ball{N: i + 1, Lateral: to(b.Lateral)}
		if carries {
			w.Carry = to(b.Carry)
		}
		out.Balls = append(out.Balls, w)
	}
	return out
}

// Balls of others are told by how unlikely it is that they are one's own, as
// finely as the device writes: honest pairs of forty members hardly ever, whole
// metres and the lateral alone included.
func TestCopiesAreTold(t *testing.T) {
	const members = 40
	contests := challenges(20, 200)
	rng := rand.New(rand.NewPCG(7, 9))
	devices := []struct {
		name       string
		unit, step float64
		carries    bool
	}{
		{"tenths of a metre", 1, 0.1, true}, {"whole yards", analysis.Yard, 1, true}, {"tenths of a yard, lateral alone", analysis.Yard, 0.1, false},
		{"whole metres, lateral alone", 1, 1, false},
	}
	ways := []struct {
		name string
		copy func(challenge.Stretch) challenge.Stretch
		told []float64 // of the devices above, the least share that is told
	}{
		{"in another unit", func(s challenge.Stretch) challenge.Stretch {
			return written(s, analysis.Yard, 0.1, s.Balls[0].Carry != 0)
		}, []float64{1, 1, 1, 0}},
		{"in another order", func(s challenge.Stretch) challenge.Stretch {
			rng.Shuffle(len(s.Balls), func(i, j int) { s.Balls[i], s.Balls[j] = s.Balls[j], s.Balls[i] })
			return s
		}, []float64{1, 1, 1, 0}},
		{"reversed and mirrored", func(s challenge.Stretch) challenge.Stretch {
			slices.Reverse(s.Balls)
			for i := range s.Balls {
				s.Balls[i].Lateral *= -1
			}
			return s
		}, []float64{1, 1, 1, 0}},
		{"scaled by 0.9 and 1.1", func(s challenge.Stretch) challenge.Stretch {
			for i := range s.Balls {
				s.Balls[i].Lateral = math.Round(9*s.Balls[i].Lateral) / 10
				s.Balls[i].Carry = math.Round(11*s.Balls[i].Carry) / 10
			}
			return s
		}, []float64{1, 0.9, 0, 0}},
		{"the last seven", func(s challenge.Stretch) challenge.Stretch { s.Balls = s.Balls[3:]; return s }, []float64{1, 1, 0.8, 0}},
	}
	for d, device := range devices {
		refused, pairs := 0, 0
		told := make([]int, len(ways))
		for range contests {
			var all []challenge.Stretch
			for range members {
				all = append(all, written(member{sd: 8}.stretch(10, rng), device.unit, device.step, device.carries))
			}
			hit := false
			for i, a := range all {
				for _, b := range all[:i] {
					hit = hit || challenge.Alike(a, b) < challenge.CopiedAt
				}
			}
			pairs++
			if hit {
				refused++
			}
			for w, way := range ways {
				one := all[0]
				one.Balls = slices.Clone(one.Balls)
				if challenge.Alike(all[0], way.copy(one)) < challenge.CopiedAt {
					told[w]++
				}
			}
		}
		t.Logf("%s: an honest pair is called a copy in %d of %d contests of %d", device.name, refused, pairs, members)
		if refused > 0 {
			t.Errorf("%s: honest pairs are called copies", device.name)
		}
		for w, way := range ways {
			share := float64(told[w]) / float64(contests)
			t.Logf("  %s: told in %.0f %%", way.name, 100*share)
			if share < way.told[d] {
				t.Errorf("%s, %s: told in %.2f, want %.2f", device.name, way.name, share, way.told[d])
			}
		}
	}
}
