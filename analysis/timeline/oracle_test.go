package timeline_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"rangepost/analysis"
	"rangepost/analysis/stat"
)

// An oracle knows of a golfer how far the level walks, how far days and balls
// scatter, that nothing else moves and that the effect came at once: all but where
// the level is and how large the effect. No limits that hold 95 % are narrower than
// its own (Gauss & Markov).
type oracle struct{ of student }

// effect is least squares on sessions with a lesson before session at, deg: with
// its standard error, and how likely such sessions are, a logarithm up to a constant.
func (o oracle) effect(sessions []analysis.SessionValues, at int) (b, se, log float64) {
	l := stat.LocalLevel{X: [][]float64{make([]float64, len(sessions))}}
	for i, s := range sessions {
		l.Y = append(l.Y, stat.SampleOf(s.Values).Mean/analysis.Degree)
		l.W = append(l.W, o.of.between*o.of.between+o.of.within*o.of.within/float64(len(s.Values)))
		if i >= at {
			l.X[0][i] = 1
		}
	}
	f, ok := l.Innovations(o.of.walk*o.of.walk).Fit([]int{0}, []float64{math.Inf(1)}, stat.Known{})
	if !ok {
		panic("two levels that cannot be told apart")
	}
	df := float64(f.DF)
	// The scale is 1: that LogLik integrates over it is taken back.
	return f.B[0], math.Sqrt(f.Cov[0][0]), f.LogLik + (df*math.Log(f.Scale*df)-f.Scale*df)/2
}

// How narrow the limits of a lesson's effect could be at all, how much wider ours
// are, what becomes of an oracle's that is wrong of the walk, and how often the most
// powerful test (Neyman & Pearson) that says in one of twenty of those who do not
// walk that they do, says so of those who do. What comes of it is in the package's
// comment, which is why limits hold more than 97 % of some.
func TestSimulatedOracle(t *testing.T) {
	still, walks := oracle{usual}, oracle{walking}
	for _, sides := range []int{6, 10, 20} {
		var says [2][]float64 // of who does not walk and who does, the log of how much likelier it is that they do
		for i, right := range []oracle{still, walks} {
			wrong := []oracle{walks, still}[i]
			rng := rand.New(rand.NewPCG(13, uint64(sides)))
			const shift = 2
			held, swapped, wide, narrowest, wrongly := 0, 0, 0.0, 0.0, 0.0
			for range *simulate {
				all := right.of.sessions(rng, 2*sides, from(sides, shift))
				b, se, log := right.effect(all, sides)
				other, otherSE, otherLog := wrong.effect(all, sides)
				z := stat.StudentQuantile(0.975, 1<<20)
				if math.Abs(b-shift) <= z*se {
					held++
				}
				if math.Abs(other-shift) <= z*otherSE {
					swapped++
				}
				e := ftp(all, before(sides)).Effect
				wide += (e.High - e.Low) / 2 / analysis.Degree / float64(*simulate)
				narrowest += z * se / float64(*simulate)
				wrongly += z * otherSE / float64(*simulate)
				if i == 0 {
					log, otherLog = otherLog, log
				}
				says[i] = append(says[i], log-otherLog)
			}
			name := fmt.Sprintf("%s, %d and %d", []string{"usual", "walking"}[i], sides, sides)
			share(t, name+": the oracle's limits hold", held, *simulate)
			if low, high, _ := stat.Wilson(held, *simulate, 0.999); low > 0.95 || high < 0.95 {
				t.Errorf("%s: the oracle's limits do not hold 95 %%: it is none", name)
			}
			share(t, name+": those of one that is wrong of the walk", swapped, *simulate)
			t.Logf("%-50s %5.2f deg, ours %.2f, one that is wrong %.2f", name+": half of the oracle's limits", narrowest, wide, wrongly)
			// What was measured of 4,000 each, and a tenth. Six and six pay for days and
			// trends that are not known, who does not walk for a walk.
			if most := map[int][2]float64{6: {1.56, 1.32}, 10: {1.59, 1.16}, 20: {1.95, 1.1}}[sides][i]; wide > most*narrowest {
				t.Errorf("%s: our limits are %.2f times as wide as the oracle's, over %.2f", name, wide/narrowest, most)
			}
		}
		slices.Sort(says[0])
		line, told := says[0][len(says[0])*95/100], 0
		for _, s := range says[1] {
			if s > line {
				told++
			}
		}
		share(t, fmt.Sprintf("%d and %d: a walk is told", sides, sides), told, *simulate)
	}
}
