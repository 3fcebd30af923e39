package season_test

import (
	"flag"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"gonum.org/v1/gonum/stat"

	"rangepost/analysis"
	"rangepost/analysis/challenge"
	"rangepost/analysis/season"
)

func TestPoints(t *testing.T) {
	sure := func(v float64) season.Result { return season.Result{Value: v, Low: v, High: v} }
	wide := func(v float64) season.Result { return season.Result{Value: v, Low: v - 3, High: v + 3} }
	for _, c := range []struct {
		name    string
		results []season.Result
		want    []int
	}{
		{"nobody", nil, []int{}},
		{"one alone beat nobody", []season.Result{sure(3)}, []int{0}},
		{"two", []season.Result{sure(1), sure(2)}, []int{0, 100}},
		{"the same", []season.Result{sure(2), sure(2)}, []int{50, 50}},
		{"all the same", []season.Result{sure(2), sure(2), sure(2)}, []int{50, 50, 50}},
		{"a field of eleven", []season.Result{sure(0), sure(1), sure(2), sure(3), sure(4), sure(5), sure(6), sure(7), sure(8), sure(9), sure(10)},
			[]int{0, 10, 20, 30, 40, 50, 60, 70, 80, 90, 100}},
		// Limits of 3 either way, two together 4.24: halved within 0.85.
		{"not apart", []season.Result{wide(10), wide(10.8), wide(0)}, []int{75, 75, 0}},
		{"apart", []season.Result{wide(10), wide(10.9), wide(0)}, []int{50, 100, 0}},
		{"a chain: the middle one halves with both", []season.Result{wide(10), wide(10.7), wide(11.4)}, []int{25, 50, 75}},
	} {
		if got := season.Points(c.results); !slices.Equal(got, c.want) {
			t.Errorf("%s: %v, want %v", c.name, got, c.want)
		}
	}
}

// A world is a club and what it plays.
type world struct {
	name    string
	rule    challenge.Rule
	members int
	balls   int
	spread  float64 // of the members' true scatter, log
	apart   float64 // the share of the members' variance that is of each of four kinds of challenge alone
	comes   float64 // the least share of the challenges that anybody is in
}

// A plain rule gives points by place alone, from nought, of so many; mean is of the
// challenges somebody was in, and the rest add up.
var plain = []struct {
	name string
	mean bool
	of   func(place, n int) float64
}{
	{"a point for each one behind", false, func(place, n int) float64 { return float64(n - 1 - place) }},
	{"the same, of a hundred", false, shareBehind},
	{"its mean", true, shareBehind},
	{"10 to 1 for the first ten", false, func(place, _ int) float64 { return math.Max(0, float64(10-place)) }},
	{"100, a tenth less each place", false, func(place, _ int) float64 { return 100 * math.Pow(0.9, float64(place)) }},
	{"the share behind, cubed", false, func(place, n int) float64 { return math.Pow(shareBehind(place, n)/100, 3) }},
}

func shareBehind(place, n int) float64 {
	return 100 * float64(n-1-place) / math.Max(1, float64(n-1))
}

var seasons = flag.Int("seasons", 8, "how many seasons of each kind are played")

// Points of a season follow true skill at least as well as the best plain rule,
// whether clubs are large or small, members alike or not, good at one thing or at
// all, and often there or seldom. The package comment has the table that
// -seasons 200 -v prints.
func TestPointsFollowSkill(t *testing.T) {
	for _, w := range []world{
		{"nearest, 60 members", challenge.Nearest, 60, 10, 0.3, 0, 0.5},
		{"narrow, 60 members", challenge.Narrow, 60, 10, 0.3, 0, 0.5},
		{"zone, 60 members", challenge.Zone, 60, 10, 0.3, 0, 0.5},
		{"nearest, 60 alike", challenge.Nearest, 60, 10, 0.15, 0, 0.5},
		{"nearest, 15 members", challenge.Nearest, 15, 10, 0.3, 0, 0.5},
		{"narrow, 60 members, 30 balls", challenge.Narrow, 60, 30, 0.3, 0, 0.5},
		{"narrow, 25, four kinds", challenge.Narrow, 25, 15, 0.3, 0.4, 0.5},
		{"narrow, 25, seldom there", challenge.Narrow, 25, 15, 0.3, 0.4, 0.2},
		{"narrow, 25, always there", challenge.Narrow, 25, 15, 0.3, 0.4, 1},
	} {
		played := make([]results, *seasons)
		for seed := range played {
			played[seed] = w.season(rand.New(rand.NewPCG(uint64(seed), 210)))
		}
		for _, best := range []int{0, 9, 6} {
			ours, brackets := []float64{}, []float64{}
			plains := make([][]float64, len(plain))
			for _, r := range played {
				ours, brackets = append(ours, r.ours(best)), append(brackets, r.follows(best, false, r.brackets))
				for k, rule := range plain {
					plains[k] = append(plains[k], r.follows(best, rule.mean, r.plain[k]))
				}
			}
			top, figures := 0, []float64{}
			for k, p := range plains {
				figures = append(figures, math.Round(1000*stat.Mean(p, nil))/1000)
				// A mean is all of somebody's results: leaving some out is not for
				// it to be held against.
				if !(plain[k].mean && best > 0) && stat.Mean(p, nil) > stat.Mean(plains[top], nil) {
					top = k
				}
			}
			differences := make([]float64, len(ours))
			for i := range differences {
				differences[i] = ours[i] - plains[top][i]
			}
			mean, sd := stat.MeanStdDev(differences, nil)
			se := sd / math.Sqrt(float64(len(ours)))
			t.Logf("%-28s best %d: ours %.3f, plain %v, brackets %.3f; %+.4f on %q (standard error %.4f, n = %d)", w.name, best, stat.Mean(ours, nil), figures, stat.Mean(brackets, nil), mean, plain[top].name, se, len(ours))
			if mean < -2*se {
				t.Errorf("%s, best %d: %.4f behind %q", w.name, best, -mean, plain[top].name)
			}
		}
	}
}

// results are one season: of each member the points in every challenge by every
// rule, and the truth.
type results struct {
	skill  []float64
	points [][]int // ours
	plain  [][][]float64

	brackets [][]float64 // those in one bracket of the standings share their places' points
}

// season plays 12 challenges of four kinds in turn.
func (w world) season(rng *rand.Rand) results {
	iron := analysis.Club{Family: analysis.Iron, Number: 7}
	terms := challenge.Terms{Rule: w.rule, Club: iron, Balls: w.balls, Target: 130, Wide: 14, Deep: 14, Ball: analysis.RangeBall, Step: 0.1}
	r := results{points: make([][]int, w.members), brackets: make([][]float64, w.members), plain: make([][][]float64, len(plain))}
	for k := range plain {
		r.plain[k] = make([][]float64, w.members)
	}
	comes, kinds := make([]float64, w.members), make([][4]float64, w.members)
	for i := range comes {
		r.skill = append(r.skill, -w.spread*rng.NormFloat64())
		comes[i] = w.comes + (1-w.comes)*rng.Float64()
		for k := range kinds[i] {
			kinds[i][k] = math.Sqrt(1-w.apart)*r.skill[i] - math.Sqrt(w.apart)*w.spread*rng.NormFloat64()
		}
	}
	for at := range 12 {
		var all []season.Result
		var scores []challenge.Score
		var who []int
		for i := range r.skill {
			sd := 7 * math.Exp(-kinds[i][at%4]+0.1*rng.NormFloat64())
			long, right := 0.3*sd*rng.NormFloat64(), 0.3*sd*rng.NormFloat64()
			var s challenge.Stretch
			for b := range w.balls {
				s.Balls = append(s.Balls, challenge.Ball{N: b + 1, Carry: 130 + long + sd*rng.NormFloat64(), Lateral: right + sd*rng.NormFloat64()})
			}
			r.points[i] = append(r.points[i], season.Missed)
			if rng.Float64() < comes[i] {
				score := terms.Score(s, challenge.Past{})
				scores, who, all = append(scores, score), append(who, i), append(all, resultOf(terms, score))
			}
		}
		for i, p := range season.Points(all) {
			r.points[who[i]][at] = p
		}
		rows := terms.Stand(scores).Rows
		for place, row := range rows {
			i := who[row.Entry]
			for k, rule := range plain {
				r.plain[k][i] = append(r.plain[k][i], rule.of(place, len(rows)))
			}
			first, last := place, place
			for row.Tie != 0 && first > 0 && rows[first-1].Tie == row.Tie {
				first--
			}
			for row.Tie != 0 && last+1 < len(rows) && rows[last+1].Tie == row.Tie {
				last++
			}
			r.brackets[i] = append(r.brackets[i], shareBehind(first, len(rows))/2+shareBehind(last, len(rows))/2)
		}
	}
	return r
}

func resultOf(t challenge.Terms, s challenge.Score) season.Result {
	r := season.Result{Value: s.Value, Low: s.Low, High: s.High}
	if t.Less() {
		return r.Less()
	}
	return r
}

// ours is how the season's table follows the truth.
func (r results) ours(best int) float64 {
	totals := make([]float64, len(r.points))
	for _, row := range season.Table(r.points, best) {
		totals[row.Who] = row.Total
	}
	return r.of(totals)
}

// follows is the same of other points: the best of them added up, or their mean.
func (r results) follows(best int, mean bool, points [][]float64) float64 {
	totals := make([]float64, len(points))
	for i, p := range points {
		if p = slices.Sorted(slices.Values(p)); best > 0 && len(p) > best {
			p = p[len(p)-best:]
		}
		for _, v := range p {
			if mean {
				v /= float64(len(p))
			}
			totals[i] += v
		}
	}
	return r.of(totals)
}

// of is the rank correlation of totals with the truth, 0 where the totals are all the
// same.
func (r results) of(totals []float64) float64 {
	if c := stat.Correlation(ranked(totals), ranked(r.skill), nil); !math.IsNaN(c) {
		return c
	}
	return 0
}

// ranked are ranks, the same for the same.
func ranked(x []float64) []float64 {
	ranks := make([]float64, len(x))
	for i, a := range x {
		for j, b := range x {
			switch {
			case b < a:
				ranks[i]++
			case b == a && i != j:
				ranks[i] += 0.5
			}
		}
	}
	return ranks
}
