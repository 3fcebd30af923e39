package panel

import (
	"math"
	"math/rand/v2"
	"testing"

	"gonum.org/v1/gonum/stat"

	"rangepost/analysis"
)

// Over very many balls a golfer's spread, correlation and streak are what the
// world says, whatever the tails.
func TestDeliveriesAreSpreadAsTheWorldSays(t *testing.T) {
	const n = 20_000
	club := analysis.Club{Family: analysis.Iron, Number: 7}
	for _, w := range Worlds() {
		g := w.golfer
		var face, path, toe, loft []float64
		for _, z := range g.draws(n, rand.New(rand.NewPCG(1, 2))) {
			d := g.deliver(g.mean(club), analysis.RightHanded, z, 1)
			face, path = append(face, d.Face), append(path, d.Path)
			toe, loft = append(toe, d.StrikeToe), append(loft, d.DynamicLoft)
		}
		// A correlated series of n is worth n (1-r)/(1+r) balls; t5's fourth
		// moment is 9, so its deviation is known to sqrt(8/4n).
		by := 5 * math.Sqrt(2/float64(n)*(1+g.streak)/(1-g.streak))
		near(t, w.Name+": face's deviation", stat.StdDev(face, nil)/g.spread.face, 1, by)
		near(t, w.Name+": path's deviation", stat.StdDev(path, nil)/g.spread.path, 1, by)
		near(t, w.Name+": strike's deviation", stat.StdDev(toe, nil)/g.spread.toe, 1, by)
		near(t, w.Name+": face with path", stat.Correlation(face, path, nil), g.match, by)
		near(t, w.Name+": loft with face", stat.Correlation(face, loft, nil), g.openLoft, by)
		near(t, w.Name+": strike with path", stat.Correlation(path, toe, nil), g.swingToe, by)
		near(t, w.Name+": streak", stat.Correlation(path[1:], path[:n-1], nil), g.streak, by)
		fat := stat.ExKurtosis(path, nil)
		if g.tail == normal && math.Abs(fat) > 0.25 || g.tail == t5 && fat < 2 {
			t.Errorf("%s: excess kurtosis %.2f with t5 tails %v", w.Name, fat, bool(g.tail))
		}
	}
}

func TestPointsArePairsOfUnitVariance(t *testing.T) {
	for _, tail := range []tail{normal, t5} {
		all := tail.points()
		for d := range draws {
			sum, square := 0.0, 0.0
			for i, p := range all {
				sum += p[d]
				square += p[d] * p[d]
				if i%2 == 1 && p[d] != -all[i-1][d] {
					t.Fatalf("point %d is not the opposite of the one before", i)
				}
			}
			near(t, "mean", sum, 0, 1e-9)
			near(t, "variance", square/float64(len(all)), 1, 1e-9)
		}
	}
}
