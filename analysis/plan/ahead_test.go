package plan_test

import (
	"math"
	"math/rand/v2"
	"testing"

	"rangepost/analysis"
	"rangepost/analysis/plan"
)

// Of plans that still go on after a part of the card, as many get their answer by
// its end as was said, and it takes as many balls as was said, where changes are
// as large as is believed beforehand; and hardly any that was given up would have.
func TestTheChanceAhead(t *testing.T) {
	rng := rand.New(rand.NewPCG(21, 22))
	c := config()
	c.Earlier = []analysis.Session{earlier(1, 400, faceSD)}
	p := made(t, c)
	for _, part := range []float64{0.35, 0.6, 0.85} {
		said, came, more, took, plans, bold := 0.0, 0.0, 0.0, 0.0, 0, 0.0
		blocks := int(part * float64(p.Blocks()))
		for range 4 * *simulate {
			p := again(p, rng)
			g := golfer{effect: []float64{0, 4 * rng.NormFloat64()}}
			visits := g.hit(p, rng)
			now := judged(t, p, upTo(p, visits, blocks))
			if now.Status != plan.Going {
				continue
			}
			plans++
			said += now.Chance
			more += float64(now.MoreBalls)
			end := judged(t, p, visits)
			if end.Status == plan.Moved || end.Status == plan.Held {
				came++
			}
			took += float64((end.Ended - blocks) * p.BallsASet / p.Blocks())
			bold += now.Chance * (1 - now.Chance)
		}
		n := float64(plans)
		t.Logf("after %d of %d blocks %d of %d go on: an answer said in %.3f, came in %.3f; balls said %.1f, took %.1f",
			blocks, p.Blocks(), plans, 4**simulate, said/n, came/n, more/n, took/n)
		if d := math.Abs(said - came); d > 0.06*n+3*math.Sqrt(bold) {
			t.Errorf("after %d blocks an answer was said to come in %.0f of %d plans and came in %.0f", blocks, said, plans, came)
		}
		if d := math.Abs(more-took) / n; d > 0.08*float64(p.BallsASet) {
			t.Errorf("after %d blocks %.1f more balls were said and %.1f hit", blocks, more/n, took/n)
		}
	}
}
