package impact

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"rangepost/analysis"
)

// TestSlopes: they are what differences of the launch come to, gripping and sliding,
// struck anywhere, for either hand, with any head, of a ball that has some backspin.
func TestSlopes(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		from, d := anyHead(t), anyDelivery(t)
		from.Hand = rapid.SampledFrom([]analysis.Hand{analysis.RightHanded, analysis.LeftHanded}).Draw(t, "hand")
		z := rapid.Float64Range(-2, 2)
		x := unknowns{
			logSpeed: math.Log(d.ClubSpeed), attack: d.Attack, loft: d.DynamicLoft, face: d.Face, path: d.Path, toe: d.StrikeToe, up: d.StrikeUp,
			share: 0.06 * z.Draw(t, "share"), logSpin: 0.15 * z.Draw(t, "spin"), restitution: 0.02 * z.Draw(t, "restitution"), gear: 0.35 * z.Draw(t, "gear"),
		}
		at := func(x unknowns) (l [5]float64, limits [2]bool) {
			head := from.moved(x.deviation(), from.usualShare())
			s := head.Strike(x.delivery())
			m, _ := head.meet(x.delivery())
			return [5]float64{s.Direction, s.Angle, math.Log(s.Speed), math.Log(s.Spin), s.Axis}, [2]bool{m.sliding, head.frameOf(&m).limited}
		}
		l := from.moved(x.deviation(), from.usualShare()).Strike(x.delivery())
		if l.Spin < 500*analysis.RevPerMinute || math.Abs(l.Axis) > deg(75) {
			return
		}
		head := from.moved(x.deviation(), from.usualShare())
		m, _ := head.meet(d)
		for k, s := range head.slopes(d, &m, from.perShare(x[share], from.usualShare()), from.drag()) {
			const step = 1e-6
			more, less := x, x
			more[k] += step
			less[k] -= step
			high, limits := at(more)
			low, others := at(less)
			if limits != others {
				continue // a kink
			}
			for i, got := range [5]float64{s.direction, s.angle, s.speed, s.spin, s.axis} {
				want := (high[i] - low[i]) / (2 * step)
				if !(math.Abs(got-want) <= 1e-4*max(1, math.Abs(want))) {
					t.Fatalf("unknown %d: slope %d is %v, by differences %v", k, i, got, want)
				}
			}
		}
	})
}
