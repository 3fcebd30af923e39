package clubyear

import (
	"cmp"
	"maps"
	"math"
	"slices"

	"gonum.org/v1/gonum/stat"
)

// A Bin is placings whose chances of being truly the best were said alike.
type Bin struct {
	From, To  float64
	N         int
	Said      float64 // mean
	Best      int     // of whom it is true
	Low, High float64 // 95 % limits of the share of whom it is true
}

// Off reports whether what was said is told to be wrong.
func (b Bin) Off() bool { return b.N > 0 && (b.Said < b.Low || b.Said > b.High) }

// Calibration holds every chance that was said in the year against who was truly
// the best of those placed.
func (y Year) Calibration() []Bin {
	edges := []float64{0, 0.02, 0.05, 0.1, 0.2, 0.4, 0.6, 0.8, 1}
	bins := make([]Bin, len(edges)-1)
	for i := range bins {
		bins[i].From, bins[i].To = edges[i], edges[i+1]
	}
	for k, r := range y.Results {
		best := math.Inf(1)
		for _, p := range r.Placings {
			best = min(best, y.Skills[k][p.Member])
		}
		for _, p := range r.Placings {
			if math.IsNaN(p.Chance) {
				continue
			}
			b := &bins[max(0, min(len(bins)-1, slices.IndexFunc(bins, func(b Bin) bool { return p.Chance <= b.To })))]
			b.N++
			b.Said += p.Chance
			if y.Skills[k][p.Member] == best {
				b.Best++
			}
		}
	}
	for i := range bins {
		if b := &bins[i]; b.N > 0 {
			b.Said /= float64(b.N)
			b.Low, b.High = limits(float64(b.Best), b.N)
		}
	}
	return bins
}

// A Standing is how well a way of counting a season follows true skill.
type Standing struct {
	Name string
	Rho  float64 // Spearman's, of points and skill
	// 95 % limits of the product's less this one's, over members drawn anew.
	Low, High float64
}

// counts are plain rules for a season, from the orders its challenges ended in: what
// somebody has for being number i of n.
var counts = []struct {
	name string
	of   func(i, n int) float64
	mean bool // over those entered, not their sum
}{
	{"wins", func(i, n int) float64 {
		if i == 0 {
			return 1
		}
		return 0
	}, false},
	{"ten for the first to one for the tenth", func(i, n int) float64 { return max(0, float64(10-i)) }, false},
	{"one for everybody behind", func(i, n int) float64 { return float64(n - 1 - i) }, false},
	{"mean share of the field behind", func(i, n int) float64 { return float64(n-1-i) / float64(max(n-1, 1)) }, true},
}

// Follow compares a season's points with plain counts of the same results, by how
// they follow true skill: the product's comes first. Members count who are placed
// in at least so many of its challenges; their skill is the mean share of those
// who took part that is truly worse.
func (y Year) Follow(season, least int, seed uint64) []Standing {
	truth, entered := map[string]float64{}, map[string]float64{}
	points := make([]map[string]float64, len(counts)+1)
	points[0] = y.Seasons[season-1]
	for i := range counts {
		points[i+1] = map[string]float64{}
	}
	for at, r := range y.Results {
		if at*seasons/challenges != season-1 {
			continue
		}
		for i, p := range r.Placings {
			entered[p.Member]++
			truth[p.Member] += behind(y.Skills[at], p.Member)
			for k, c := range counts {
				points[k+1][p.Member] += c.of(i, len(r.Placings))
			}
		}
	}
	maps.DeleteFunc(truth, func(m string, _ float64) bool { return int(entered[m]) < least })
	names := slices.Sorted(maps.Keys(truth))
	table := make([][]float64, len(points)+1) // the last is the truth
	for _, m := range names {
		for k, of := range points {
			v := of[m]
			if k > 0 && counts[k-1].mean {
				v /= entered[m]
			}
			table[k] = append(table[k], v)
		}
		table[len(points)] = append(table[len(points)], truth[m]/entered[m])
	}
	return compare(table, seed)
}

// compare ranks every column against the last and the first against every other.
func compare(table [][]float64, seed uint64) []Standing {
	truth := table[len(table)-1]
	all := []Standing{{Name: "the season's points"}}
	for _, c := range counts {
		all = append(all, Standing{Name: c.name})
	}
	if len(truth) < 3 {
		return nil
	}
	const again = 500
	rng := chance(seed, "follow")
	gains := make([][]float64, len(all))
	for range again {
		at := make([]int, len(truth))
		for i := range at {
			at[i] = rng.IntN(len(truth))
		}
		pick := func(v []float64) []float64 {
			p := make([]float64, len(at))
			for i, k := range at {
				p[i] = v[k]
			}
			return p
		}
		t := pick(truth)
		first := spearman(pick(table[0]), t)
		for k := range all {
			gains[k] = append(gains[k], first-spearman(pick(table[k]), t))
		}
	}
	for k := range all {
		slices.Sort(gains[k])
		all[k].Rho = spearman(table[k], truth)
		all[k].Low, all[k].High = gains[k][again/40], gains[k][again-1-again/40]
	}
	return all
}

// behind is the share of the others that is truly worse.
func behind(skills map[string]float64, member string) (share float64) {
	for _, s := range skills {
		if s > skills[member] {
			share += 1 / float64(max(len(skills)-1, 1))
		}
	}
	return share
}

// spearman is the correlation of ranks, equals in the middle of theirs; 0 where one
// side is all equal.
func spearman(a, b []float64) float64 {
	if r := stat.Correlation(ranks(a), ranks(b), nil); !math.IsNaN(r) {
		return r
	}
	return 0
}

func ranks(v []float64) []float64 {
	order := make([]int, len(v))
	for i := range order {
		order[i] = i
	}
	slices.SortFunc(order, func(i, j int) int { return cmp.Compare(v[i], v[j]) })
	all := make([]float64, len(v))
	for i := 0; i < len(order); {
		j := i
		for j < len(order) && v[order[j]] == v[order[i]] {
			j++
		}
		for k := i; k < j; k++ {
			all[order[k]] = float64(i+j-1) / 2
		}
		i = j
	}
	return all
}
