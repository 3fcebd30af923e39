package challenge_test

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"rangepost/analysis"
	"rangepost/analysis/challenge"
	"rangepost/analysis/player"
)

// flew is a session by a golfer of a world that is not the model's, whose device
// measures launch and landing.
func flew(seed uint64, balls int) analysis.Session {
	rng := rand.New(rand.NewPCG(seed, 31))
	p := player.Player{
		Club: iron, Delivery: player.Typical(iron), Spread: player.TypicalSpread(1 + rng.Float64()), World: player.Foreign(iron, analysis.RightHanded, rng),
		Device: player.Device{Ball: true, Landed: true, Noise: player.UsualNoise()},
	}
	return analysis.Session{Ball: analysis.RangeBall, Shots: p.Shots(balls, "", rng)}
}

// Changed figures score no better than those that were measured, even where a host
// lets them count: columns that do not go together count by the worse, and a ball
// that is another over again as beyond the worst.
func TestChangedFiguresGainNothing(t *testing.T) {
	terms := challenge.Terms{Rule: challenge.Narrow, Club: iron, Balls: 15, Ball: analysis.RangeBall}.Fairly(1)
	times := func(k float64, numbers ...analysis.Number) func(s analysis.Session) {
		return func(s analysis.Session) {
			for i, shot := range s.Shots {
				for _, n := range numbers {
					v, _ := shot.Value(n)
					shot = shot.With(n, k*v)
				}
				s.Shots[i] = shot
			}
		}
	}
	for _, c := range []struct {
		name   string
		change func(s analysis.Session)
		least  float64 // the mean score, of the honest one
	}{
		{"sides quartered", times(0.25, analysis.Lateral), 1},
		{"start and curve quartered", times(0.25, analysis.Direction, analysis.SpinAxis), 0.95},
		{"five good rows in place of the worst", func(s analysis.Session) {
			order := make([]int, len(s.Shots))
			for i := range order {
				order[i] = i
			}
			far := func(i int) float64 { v, _ := s.Shots[i].Value(analysis.Lateral); return math.Abs(v) }
			slices.SortFunc(order, func(i, j int) int { return int(math.Copysign(1, far(i)-far(j))) })
			for k := range 5 {
				good := s.Shots[order[k]]
				to := &s.Shots[order[len(order)-1-k]]
				for _, n := range analysis.Numbers() {
					if v, ok := good.Value(n); ok {
						*to = to.With(n, 1.01*v)
					}
				}
			}
		}, 0.95},
	} {
		const n = 60
		sum, taken := 0.0, 0
		for seed := range uint64(n) {
			score := func(s analysis.Session) float64 {
				st, err := terms.Take(0, s)
				if err != nil {
					return math.NaN()
				}
				return terms.Score(st, challenge.Past{}).Value
			}
			s := flew(seed, 15)
			honest := score(s)
			s.Shots = slices.Clone(s.Shots)
			c.change(s)
			if changed := score(s); !math.IsNaN(changed / honest) {
				sum, taken = sum+changed/honest, taken+1
			}
		}
		mean := sum / float64(taken)
		t.Logf("%s: %.2f times the width, of %d", c.name, mean, taken)
		if taken < n*9/10 || mean < c.least {
			t.Errorf("%s: %.2f times the width of %d, want %.2f", c.name, mean, taken, c.least)
		}
	}
}
