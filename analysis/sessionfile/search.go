package sessionfile

import (
	"math"
	"slices"
)

// best climbs to the best way to name the columns, beginning with what each
// would be for itself. Where many columns have no words one may hide the place
// of another: then also from the best of many ways carried on side by side.
func (v *vote) best() []int {
	chosen, score := v.climb(v.claimed())
	v.optima = []optimum{{chosen, score}}
	if !v.silent {
		return chosen
	}
	way := make([]int, len(chosen))
	for range 3 {
		var s float64
		way, s = v.climb(v.turned(v.beamed(v.beamed(way, v.upright(way)), v.sideways(way))))
		v.optima = append(v.optima, optimum{way, s})
		if s <= score+1e-9 {
			break
		}
		chosen, score = way, s
	}
	return chosen
}

// sideways are the open columns that may hold a sideways number, and hold one
// of two signs, or nothing.
func (v *vote) sideways(chosen []int) (is []int) {
	for i, c := range v.candidates {
		if !c.fixed && slices.ContainsFunc(c.fields, field.sideways) && (chosen[i] == 0 || c.fields[chosen[i]] == attack || c.fields[chosen[i]].sideways()) {
			is = append(is, i)
		}
	}
	return is
}

// upright are the other open columns, and those that hold nothing: first those
// that may be what most hangs on, the ball's speed, launch and carry.
func (v *vote) upright(chosen []int) (is []int) {
	for i, c := range v.candidates {
		if !c.fixed && (chosen[i] == 0 || !c.fields[chosen[i]].sideways()) {
			is = append(is, i)
		}
	}
	core := func(i int) float64 {
		most := -20.0
		for at, f := range v.candidates[i].fields {
			if f == ballSpeed || f == carry || f == launch || f == spin {
				most = max(most, v.candidates[i].alone[at])
			}
		}
		return most
	}
	slices.SortStableFunc(is, func(a, b int) int {
		switch x, y := core(a), core(b); {
		case x > y:
			return -1
		case x < y:
			return 1
		}
		return 0
	})
	return is
}

// beamWidth is how many ways to name some of the sideways columns are carried on.
const beamWidth = 30

// beamed names some columns anew, the rest being named: one column after
// another, with the best of all ways so far carried on. Which is the face and
// which the path shows only once both are named.
func (v *vote) beamed(chosen, open []int) []int {
	start := slices.Clone(chosen)
	for _, i := range open {
		start[i] = 0
	}
	beam := []optimum{{start, v.total(start)}}
	for _, i := range open {
		var next []optimum
		for _, o := range beam {
			for at, f := range v.candidates[i].fields {
				if at > 0 && (v.candidates[i].alone[at] < -7 || slices.ContainsFunc(open, func(k int) bool { return v.candidates[k].fields[o.way[k]] == f })) {
					continue
				}
				o.way[i] = at
				if s := v.total(o.way); !math.IsInf(s, -1) {
					next = append(next, optimum{slices.Clone(o.way), s})
				}
				o.way[i] = 0
			}
		}
		slices.SortStableFunc(next, func(a, b optimum) int {
			switch {
			case a.score > b.score:
				return -1
			case a.score < b.score:
				return 1
			}
			return 0
		})
		beam = next[:min(len(next), beamWidth)]
	}
	if beam[0].score > v.total(chosen) {
		return beam[0].way
	}
	return chosen
}

// turned is the best way in which three columns hand on what they hold, one to
// the next.
func (v *vote) turned(chosen []int) []int {
	score := v.total(chosen)
	best := slices.Clone(chosen)
	way := slices.Clone(chosen)
	hands := func(from, to int) bool { // to takes what from holds
		at := slices.Index(v.candidates[to].fields, v.candidates[from].fields[chosen[from]])
		if at < 0 || v.candidates[to].alone[at] < -6 {
			return false
		}
		way[to] = at
		return true
	}
	n := len(chosen)
	for a := range n {
		for b := range n {
			for c := a + 1; c < n; c++ {
				if b <= a || b == c || v.candidates[a].fixed || v.candidates[b].fixed || v.candidates[c].fixed {
					continue
				}
				copy(way, chosen)
				if hands(a, b) && hands(b, c) && hands(c, a) {
					if s := v.total(way); s > score+1e-9 {
						score = s
						copy(best, way)
					}
				}
			}
		}
	}
	return best
}

// claimed gives every column what it would be for itself, those first that say
// it most clearly.
func (v *vote) claimed() []int {
	chosen := make([]int, len(v.candidates))
	type claim struct {
		i, at int
		alone float64
	}
	var claims []claim
	for i, c := range v.candidates {
		for at := range c.fields {
			if c.fixed {
				continue
			}
			claims = append(claims, claim{i, at, c.alone[at] - c.alone[0]})
		}
	}
	slices.SortStableFunc(claims, func(a, b claim) int {
		switch {
		case a.alone > b.alone:
			return -1
		case a.alone < b.alone:
			return 1
		}
		return 0
	})
	settled := make([]bool, len(chosen))
	for _, c := range claims {
		if settled[c.i] {
			continue
		}
		before := chosen[c.i]
		chosen[c.i] = c.at
		if _, ok := v.holders(chosen); !ok {
			chosen[c.i] = before
			continue
		}
		settled[c.i] = true
	}
	return chosen
}

// climb goes from way to way as long as one nearby is better.
func (v *vote) climb(chosen []int) ([]int, float64) {
	score := v.total(chosen)
	for range 40 {
		better, to := score+1e-9, []int(nil)
		v.neighbours(chosen, func(way []int) {
			if s := v.total(way); s > better {
				better, to = s, slices.Clone(way)
			}
		})
		if to == nil {
			break
		}
		chosen, score = to, better
	}
	return chosen, score
}

// neighbours visits the ways that differ in one column, or in two that change
// places or where one takes what another held.
func (v *vote) neighbours(chosen []int, visit func([]int)) {
	for i := range chosen {
		v.changes(chosen, i, visit)
	}
}

// changes visits the ways in which column i holds something else.
func (v *vote) changes(chosen []int, i int, visit func([]int)) {
	c := &v.candidates[i]
	if c.fixed {
		return
	}
	way := slices.Clone(chosen)
	from := c.fields[chosen[i]]
	for at, f := range c.fields {
		if at == chosen[i] || c.alone[at] < c.alone[chosen[i]]-14 {
			continue
		}
		copy(way, chosen)
		way[i] = at
		holder := -1
		for k := range chosen {
			if k != i && f != ignored && v.candidates[k].fields[chosen[k]] == f {
				holder = k
			}
		}
		if holder < 0 {
			visit(way)
			if from != ignored { // another may take what this one held
				for k := range chosen {
					if to := slices.Index(v.candidates[k].fields, from); k != i && !v.candidates[k].fixed && to >= 0 && chosen[k] == 0 {
						way[k] = to
						visit(way)
						way[k] = chosen[k]
					}
				}
			}
			continue
		}
		if v.candidates[holder].fixed {
			continue
		}
		way[holder] = 0
		visit(way)
		if to := slices.Index(v.candidates[holder].fields, from); to >= 0 {
			way[holder] = to
			visit(way)
		}
	}
}
