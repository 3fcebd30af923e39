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
	From, To float64
	Said     float64 // mean
	Best     Rate    // of whom it is true
}

// Off reports whether what was said is told to be wrong.
func (b Bin) Off() bool { return b.Best.N > 0 && (b.Said < b.Best.Low || b.Said > b.Best.High) }

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
			b := &bins[max(0, min(len(bins)-1, slices.IndexFunc(bins, func(b Bin) bool { return min(p.Chance, 1) <= b.To })))]
			b.Best.N++
			b.Said += p.Chance
			if y.Skills[k][p.Member] == best {
				b.Best.X++
			}
		}
	}
	for i := range bins {
		if b := &bins[i]; b.Best.N > 0 {
			b.Said /= float64(b.Best.N)
			b.Best = rate(b.Best.X, b.Best.N)
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

// counts are plain rules for a season: what somebody has for being number i of n in
// a challenge, in all or, with mean, on the average.
var counts = []struct {
	name string
	mean bool
	of   func(i, n int) float64
}{
	{"wins", false, func(i, n int) float64 { return float64(max(0, 1-i)) }},
	{"ten for the first to one for the tenth", false, func(i, n int) float64 { return float64(max(0, 10-i)) }},
	{"one for everybody behind", false, func(i, n int) float64 { return float64(n - 1 - i) }},
	{"mean share of the field behind", true, func(i, n int) float64 { return float64(n-1-i) / float64(max(n-1, 1)) }},
}

// Follow compares a season's points with plain counts of the same results, by how
// they follow true skill: the product's comes first. Members count who are placed
// in at least so many of its challenges; their skill is the mean share of those
// who took part that is truly worse. Of fewer than three nothing is said.
func (y Year) Follow(season, least int, seed uint64) []Standing {
	entered := map[string]float64{}
	columns := make([]map[string]float64, len(counts)+2) // the product's, the plain ones', the truth
	columns[0] = y.Seasons[season-1]
	for k := range columns[1:] {
		columns[1+k] = map[string]float64{}
	}
	truth := columns[len(columns)-1]
	for at, r := range y.Results {
		if at*seasons/challenges != season-1 {
			continue
		}
		for i, p := range r.Placings {
			entered[p.Member]++
			truth[p.Member] += behind(y.Skills[at], p.Member)
			for k, c := range counts {
				columns[1+k][p.Member] += c.of(i, len(r.Placings))
			}
		}
	}
	maps.DeleteFunc(entered, func(_ string, n float64) bool { return int(n) < least })
	members := slices.Sorted(maps.Keys(entered))
	if len(members) < 3 {
		return nil // no ranks to speak of
	}
	for _, m := range members {
		truth[m] /= entered[m]
		for k, c := range counts {
			if c.mean {
				columns[1+k][m] /= entered[m]
			}
		}
	}
	all := []Standing{{Name: "the season's points"}}
	for _, c := range counts {
		all = append(all, Standing{Name: c.name})
	}
	rho := func(k int, members []string) float64 {
		var points, skills []float64
		for _, m := range members {
			points, skills = append(points, columns[k][m]), append(skills, truth[m])
		}
		return spearman(points, skills)
	}
	const again = 500
	rng := chance(seed, "follow")
	gains := make([][]float64, len(all))
	for range again {
		drawn := make([]string, len(members))
		for i := range drawn {
			drawn[i] = members[rng.IntN(len(members))]
		}
		for k := range all {
			gains[k] = append(gains[k], rho(0, drawn)-rho(k, drawn))
		}
	}
	for k := range all {
		slices.Sort(gains[k])
		all[k].Rho, all[k].Low, all[k].High = rho(k, members), gains[k][again/40], gains[k][again-1-again/40]
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
