package sessionfile

import "slices"

// A cluster is columns whose signs are known relative to each other.
type cluster struct {
	columns  []*column
	grounded bool
}

// clusters groups the columns whose relative signs are clear.
func (s *settle) clusters(all []scored, best pose) []cluster {
	n := len(s.columns)
	margin := map[float64]float64{1: s.margin(&best, clearFew), -1: s.margin(&best, clearFewOpposite)}
	group := make([]int, n)
	for i := range group {
		group[i] = i
	}
	join := func(a, b int) {
		from, to := group[b], group[a]
		for i, g := range group {
			if g == from {
				group[i] = to
			}
		}
	}
	for a := range n {
		for b := a + 1; b < n; b++ {
			fa, fb := s.columns[a].field, s.columns[b].field
			if s.grounded[fa] && s.grounded[fb] {
				join(a, b)
				continue
			}
			same := best.sign[fa] * best.sign[fb]
			for _, p := range all {
				if p.relative == best.relative && p.sign[fa]*p.sign[fb] != same {
					if p.cost-all[0].cost >= margin[same] {
						join(a, b)
					}
					break
				}
			}
		}
	}
	if s.disagrees(best) {
		for i := range group {
			group[i] = i
			if s.grounded[s.columns[i].field] {
				group[i] = -1
			}
		}
		for a := range n {
			for b := a + 1; b < n; b++ {
				if s.pair(a, b, best) {
					join(a, b)
				}
			}
		}
	}
	var out []cluster
	for g := -1; g < n; g++ {
		var c cluster
		for i, col := range s.columns {
			if group[i] == g {
				c.columns = append(c.columns, col)
				c.grounded = c.grounded || s.grounded[col.field]
			}
		}
		if len(c.columns) > 0 {
			out = append(out, c)
		}
	}
	return out
}

// pair reports whether two columns go together by a relation of their own,
// whatever others say of either: where a ball came down and where it came to
// rest.
func (s *settle) pair(a, b int, best pose) bool {
	fa, fb := s.columns[a].field, s.columns[b].field
	if s.grounded[fa] || s.grounded[fb] {
		return false
	}
	for ri, r := range s.relations {
		if len(r.fields) != 2 || !slices.Contains(r.fields, fa) || !slices.Contains(r.fields, fb) {
			continue
		}
		turned := best
		turned.sign[fb] *= -1
		is, n := s.misfit(ri, &best)
		would, _ := s.misfit(ri, &turned)
		return n > 0 && is/float64(n) <= worst && would-is >= clearly(clearFewOpposite, n)
	}
	return false
}
