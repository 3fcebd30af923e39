package cause

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"rangepost/analysis"
)

// Whatever numbers a file holds, the answer is finite, adds up, and names
// nothing without enough balls.
func TestAnyNumbers(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		set := analysis.Set{Club: rapid.SampledFrom([]analysis.Club{driver, iron, wedge, {}}).Draw(rt, "club")}
		dropped := map[int]bool{}
		for _, k := range rapid.SliceOfNDistinct(rapid.IntRange(0, analysis.NumNumbers-1), 0, 8, rapid.ID).Draw(rt, "not measured") {
			dropped[k] = true
		}
		wild := rapid.Bool().Draw(rt, "wild")
		n := rapid.IntRange(0, 25).Draw(rt, "balls")
		for i := range n {
			s := analysis.Shot{N: i + 1, Club: set.Club}
			for _, number := range analysis.Numbers() {
				if dropped[int(number)] {
					continue
				}
				low, high := plausible(number)
				if wild {
					low, high = -1e4, 1e4
				}
				// Files have three decimals, or thereabouts.
				v := math.Round(1000*rapid.Float64Range(low, high).Draw(rt, number.String())) / 1000
				s = s.With(number, v)
			}
			set.Shots = append(set.Shots, s.Derived())
		}
		r := judged(set, Config{Target: 150, Hand: analysis.Hand(n % 2), Draws: 200})
		finite(t, "any numbers", r)
		for _, b := range r.Balls {
			if sum := b.FaceM + b.PathM + b.Rest; math.Abs(sum-b.Miss) > 1e-9*(1+math.Abs(b.Miss)+math.Abs(b.FaceM)+math.Abs(b.PathM)) {
				rt.Errorf("ball %d: %g + %g + %g is not %g", b.N, b.FaceM, b.PathM, b.Rest, b.Miss)
			}
		}
		if r.Verdict.Named() && len(r.Balls) < leastBalls {
			rt.Errorf("%d balls are %s", len(r.Balls), r.Verdict)
		}
		if s := r.Scatter; s != nil {
			if sum := s.Face + s.Path + s.Strike + s.Speed + s.Unexplained; math.Abs(sum-1) > 1e-6 {
				rt.Errorf("shares add up to %g", sum)
			}
		}
	})
}

// plausible are the bounds of what a golfer's file may hold.
func plausible(n analysis.Number) (low, high float64) {
	switch n.Info().Kind {
	case analysis.Angle:
		return -0.3, 0.6
	case analysis.Speed:
		return 20, 80
	case analysis.Length:
		return -40, 250
	case analysis.Small:
		return -0.03, 0.03
	case analysis.Rate:
		return 50, 1200
	case analysis.Time:
		return 1, 8
	}
	return 0.8, 1.55
}
