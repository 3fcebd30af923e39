package cause

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/stat/distuv"

	"rangepost/analysis/pattern"
)

// How often a modest fault is named follows from the normal curve: the mean of
// n balls has to be beyond the practical zero by the 0.9 quantile of its own
// standard error, which happens with probability
//
//	Phi((miss - zero) / se - z(0.9)),  se = spread / sqrt(n)
func TestNamingFollowsTheory(t *testing.T) {
	for _, face := range []float64{1.5, 2.2} {
		p := golfer(iron, face, 0)
		p.Spread.Tails = 0
		truth := p.Truth(400, seeded(1))
		zero := practicalZero(truth.Carry)
		for _, n := range []int{8, 16, 40} {
			const sets = 160
			got := 0
			for seed := range uint64(sets) {
				set := p.Set(n, "", seeded(1000*uint64(n)+seed))
				got += count(Of(set, pattern.Of(set), Config{}).Verdict.Named())
			}
			se := math.Hypot(truth.Deviation, p.Device.Noise.Lateral) / math.Sqrt(float64(n))
			want := distuv.UnitNormal.CDF((truth.Miss-zero)/se - distuv.UnitNormal.Quantile(0.9))
			// 160 sets have a standard error of 4 %. With few balls the t
			// distribution and the doubt whether it is the face alone cost more:
			// there theory is only a ceiling, of which half is reached at least.
			floor := want - 0.15
			if n < 16 {
				floor = want/2 - 0.1
			}
			if share := float64(got) / sets; share < floor || share > want+0.15 {
				t.Errorf("face %.1f deg, %d balls: named %.2f of the time, theory says %.2f", face, n, share, want)
			}
		}
	}
}
