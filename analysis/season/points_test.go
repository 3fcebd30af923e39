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
		{"the same", []season.Result{sure(2), sure(2)}, []int{13, 13}},
		{"all the same", []season.Result{sure(2), sure(2), sure(2)}, []int{13, 13, 13}},
		{"a field of eleven", []season.Result{sure(0), sure(1), sure(2), sure(3), sure(4), sure(5), sure(6), sure(7), sure(8), sure(9), sure(10)},
			[]int{0, 0, 1, 3, 6, 13, 22, 34, 51, 73, 100}},
		// Limits of 3 either way, two together 4.24: halved within 1.41.
		{"not apart", []season.Result{wide(10), wide(11.4), wide(0)}, []int{42, 42, 0}},
		{"apart", []season.Result{wide(10), wide(11.5), wide(0)}, []int{13, 100, 0}},
		{"a chain: the middle one halves with both", []season.Result{wide(10), wide(11.2), wide(12.4)}, []int{2, 13, 42}},
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
}

// A plain rule gives points by place alone, from nought, of so many.
var plain = []struct {
	name string
	of   func(place, n int) float64
}{
	{"a point for each one behind", func(place, n int) float64 { return float64(n - 1 - place) }},
	{"the same, of a hundred", func(place, n int) float64 { return 100 * float64(n-1-place) / math.Max(1, float64(n-1)) }},
	{"10 to 1 for the first ten", func(place, _ int) float64 { return math.Max(0, float64(10-place)) }},
	{"ours, nothing halved", func(place, n int) float64 {
		return 100 * math.Pow(float64(n-1-place)/math.Max(1, float64(n-1)), 3)
	}},
	{"100, a tenth less each place", func(place, _ int) float64 { return 100 * math.Pow(0.9, float64(place)) }},
}

var seasons = flag.Int("seasons", 8, "how many seasons of each kind are played")

// Points of a season follow true skill at least as well as the best plain rule,
// and sharing by what the standings call apart would not: see the package
// comment, whose table -seasons 200 -v prints.
func TestPointsFollowSkill(t *testing.T) {
	seasons := *seasons
	for _, w := range []world{
		{"nearest, 60 members", challenge.Nearest, 60, 10, 0.3},
		{"narrow, 60 members", challenge.Narrow, 60, 10, 0.3},
		{"zone, 60 members", challenge.Zone, 60, 10, 0.3},
		{"nearest, 60 alike", challenge.Nearest, 60, 10, 0.15},
		{"nearest, 15 members", challenge.Nearest, 15, 10, 0.3},
		{"narrow, 60 members, 30 balls", challenge.Narrow, 60, 30, 0.3},
	} {
		played := make([]results, seasons)
		for seed := range played {
			played[seed] = w.season(rand.New(rand.NewPCG(uint64(seed), 210)))
		}
		for _, best := range []int{6, 0} {
			var ours, brackets []float64
			plains := make([][]float64, len(plain))
			for _, r := range played {
				ours, brackets = append(ours, r.follows(best, r.ours)), append(brackets, r.follows(best, r.brackets))
				for k := range plain {
					plains[k] = append(plains[k], r.follows(best, r.plain[k]))
				}
			}
			top, figures := 0, []float64{}
			for k, p := range plains {
				figures = append(figures, math.Round(1000*stat.Mean(p, nil))/1000)
				if plain[k].name != "ours, nothing halved" && stat.Mean(p, nil) > stat.Mean(plains[top], nil) {
					top = k
				}
			}
			differences := make([]float64, seasons)
			for i := range differences {
				differences[i] = ours[i] - plains[top][i]
			}
			mean, sd := stat.MeanStdDev(differences, nil)
			se := sd / math.Sqrt(float64(seasons))
			t.Logf("%-28s best %d: ours %.3f, plain %v, brackets %.3f; %+.4f on %q (standard error %.4f, n = %d)", w.name, best, stat.Mean(ours, nil), figures, stat.Mean(brackets, nil), mean, plain[top].name, se, seasons)
			if mean < -2*se {
				t.Errorf("%s, best %d: %.4f behind %q", w.name, best, -mean, plain[top].name)
			}
			if w.members == 60 && stat.Mean(brackets, nil) > stat.Mean(ours, nil) {
				t.Errorf("%s, best %d: the standings' brackets follow skill better: %.3f", w.name, best, stat.Mean(brackets, nil))
			}
		}
	}
}

// results are one season: of each member the points in every challenge by every
// rule, NaN where they were away, and the truth.
type results struct {
	skill []float64
	ours  [][]float64
	plain [][][]float64

	brackets [][]float64 // those in one bracket of the standings share their places' points
}

// season plays 12 challenges with everybody away from up to half of them.
func (w world) season(rng *rand.Rand) results {
	iron := analysis.Club{Family: analysis.Iron, Number: 7}
	terms := challenge.Terms{Rule: w.rule, Club: iron, Balls: w.balls, Target: 130, Wide: 14, Deep: 14, Ball: analysis.RangeBall, Step: 0.1}
	r := results{ours: make([][]float64, w.members), brackets: make([][]float64, w.members), plain: make([][][]float64, len(plain))}
	for k := range plain {
		r.plain[k] = make([][]float64, w.members)
	}
	comes := make([]float64, w.members)
	for i := range comes {
		r.skill = append(r.skill, -w.spread*rng.NormFloat64())
		comes[i] = 0.5 + 0.5*rng.Float64()
	}
	for range 12 {
		var all []season.Result
		var scores []challenge.Score
		var who []int
		for i, skill := range r.skill {
			sd := 7 * math.Exp(-skill+0.1*rng.NormFloat64())
			long, right := 0.3*sd*rng.NormFloat64(), 0.3*sd*rng.NormFloat64()
			var s challenge.Stretch
			for b := range w.balls {
				s.Balls = append(s.Balls, challenge.Ball{N: b + 1, Carry: 130 + long + sd*rng.NormFloat64(), Lateral: right + sd*rng.NormFloat64()})
			}
			if rng.Float64() < comes[i] {
				score := terms.Score(s, challenge.Past{})
				scores, who, all = append(scores, score), append(who, i), append(all, resultOf(terms, score))
			}
		}
		for i, p := range season.Points(all) {
			r.ours[who[i]] = append(r.ours[who[i]], float64(p))
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
			r.brackets[i] = append(r.brackets[i], plain[1].of(first, len(rows))/2+plain[1].of(last, len(rows))/2)
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

// follows is the rank correlation of the totals with the truth, 0 where the totals
// are all the same.
func (r results) follows(best int, points [][]float64) float64 {
	totals := make([]float64, len(points))
	for i, p := range points {
		p = slices.Sorted(slices.Values(p))
		if best > 0 && len(p) > best {
			p = p[len(p)-best:]
		}
		for _, v := range p {
			totals[i] += v
		}
	}
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
