package challenge

import (
	"cmp"
	"math"
	"slices"

	"rangepost/analysis/stat"
)

// apartAt is the chance of calling anybody apart in a challenge where nobody
// is.
const apartAt = 0.05

// A Standing is one entry among the others.
type Standing struct {
	Entry int // position in what Stand was given
	Score Score
	Place int // 1 for the best; the same for scores that are the same as shown

	// The ranks it may truly hold: not above any entry that is apart and
	// better, not below any that is apart and worse.
	RankLow, RankHigh int

	Tie    int     // neighbours with the same number are not apart; 0 is no tie
	Behind float64 // what it lacks on the next better place, in the score's unit; 0 for the first
}

// Standings are the entries in order, the best first.
type Standings struct {
	Rows []Standing
	Best float64 // chance that the first row truly is the best of them; 0 if it cannot be told
}

// Winners are those who share the first place for good: the first and whoever
// is not apart from them, as far as none of these are apart from each other.
// Where fewer have entered than it takes there are none.
func (t Terms) Winners(s Standings) (winners []Standing) {
	if len(s.Rows) == 0 || len(s.Rows) < t.Fewest {
		return nil
	}
	first := s.Rows[0]
	for _, r := range s.Rows {
		if r.Place == first.Place || first.Tie > 0 && r.Tie == first.Tie {
			winners = append(winners, r)
		}
	}
	return winners
}

// Stand orders the scores. Equal ones keep the order given.
func (t Terms) Stand(scores []Score) Standings {
	var all Standings
	if len(scores) == 0 {
		return all
	}
	for i, s := range scores {
		all.Rows = append(all.Rows, Standing{Entry: i, Score: s})
	}
	slices.SortStableFunc(all.Rows, func(a, b Standing) int { return cmp.Compare(t.badness(a.Score), t.badness(b.Score)) })
	ordered := make([]Score, len(scores))
	for i, r := range all.Rows {
		ordered[i] = r.Score
	}
	streak := streakOf(ordered)
	apart := Apart(len(ordered), func(i, j int) (float64, bool) { return t.compare(ordered[i], ordered[j], streak) })
	low, high := apart.Ranks()
	for i := range all.Rows {
		r := &all.Rows[i]
		r.RankLow, r.RankHigh, r.Place = low[i], high[i], i+1
		if i > 0 {
			if t.shown(r.Score) == t.shown(all.Rows[i-1].Score) {
				r.Place, r.Behind = all.Rows[i-1].Place, all.Rows[i-1].Behind
			} else {
				r.Behind = math.Abs(r.Score.Value - all.Rows[i-1].Score.Value)
			}
		}
	}
	apart.bracket(all.Rows)
	all.Best = t.best(ordered, streak)
	return all
}

// badness orders scores, the smallest first.
func (t Terms) badness(s Score) float64 {
	if t.Less() {
		return s.Value
	}
	return -s.Value
}

// shown is a score at the resolution it is compared at: that of distances is
// Step, of shares the ball, of gains a hundredth.
func (t Terms) shown(s Score) float64 {
	switch {
	case t.Shares():
		return float64(s.In)
	case t.Rule == Progress:
		return math.Round(s.Value * 100)
	}
	return math.Round(s.Value / cmp.Or(t.Step, 0.1))
}

// Pairs says which of some entries, the best first, are apart.
type Pairs struct {
	n     int
	apart []bool // of i < j, at i*n + j
}

// Apart tests all pairs of n entries, adjusted by Holm. compare gives the p of
// a pair, ok false for one that cannot be told, which is then not apart.
func Apart(n int, compare func(i, j int) (p float64, ok bool)) Pairs {
	pairs := Pairs{n, make([]bool, n*n)}
	var p []float64
	var at []int
	for i := range n {
		for j := i + 1; j < n; j++ {
			one, ok := compare(i, j)
			if !ok {
				one = 1
			}
			p, at = append(p, one), append(at, i*n+j)
		}
	}
	for k, adjusted := range stat.Holm(p) {
		pairs.apart[at[k]] = adjusted < apartAt
	}
	return pairs
}

// Are reports whether entries i and j are apart.
func (p Pairs) Are(i, j int) bool { return p.apart[min(i, j)*p.n+max(i, j)] }

// Ranks are the ranks each entry may truly hold, 1 for the best.
func (p Pairs) Ranks() (low, high []int) {
	for i := range p.n {
		better, worse := 0, 0
		for j := range p.n {
			switch {
			case j < i && p.Are(i, j):
				better++
			case j > i && p.Are(i, j):
				worse++
			}
		}
		low, high = append(low, 1+better), append(high, p.n-worse)
	}
	return low, high
}

// bracket numbers the ties: from the top down, each run that none of its own
// is apart from.
func (p Pairs) bracket(rows []Standing) {
	tie := 0
	for i := 0; i < len(rows); {
		j := i + 1
		for j < len(rows) && p.none(i, j) {
			j++
		}
		if j > i+1 {
			tie++
			for k := i; k < j; k++ {
				rows[k].Tie = tie
			}
		}
		i = j
	}
}

// none reports whether entry j is apart from none of those from i on before it.
func (p Pairs) none(i, j int) bool {
	for k := i; k < j; k++ {
		if p.Are(k, j) {
			return false
		}
	}
	return true
}
