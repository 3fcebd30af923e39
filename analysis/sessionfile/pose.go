package sessionfile

import (
	"math"
	"slices"
)

// A pose is one way the columns could be meant: a sign for each, and whether a
// column that merely says "face" is face-to-path.
type pose struct {
	sign     [numFields]float64
	relative bool
}

// misfit is the cost of a relation under a pose: half the mean square of the
// gaps over their noise, shot by shot, each capped at three noises so that a
// misread decides nothing. A constant gap, such as a device set up a degree or
// two askew, costs next to nothing.
func (s *settle) misfit(ri int, p *pose) (cost float64, shots int) {
	r := &s.relations[ri]
	gaps, noises := s.gaps[:0], s.noises[:0]
	for i := range s.shots {
		if g, n := r.gap(p, i); !math.IsNaN(g) && !math.IsNaN(n) && n > 0 {
			gaps, noises = append(gaps, g), append(noises, n)
		}
	}
	s.gaps, s.noises = gaps, noises
	if len(gaps) == 0 {
		return 0, 0
	}
	const askew = 2 * degree
	// With few shots the middle of the gaps is itself uncertain and must not
	// swallow them: shrink it as the prior on a constant gap demands.
	noise := median(noises)
	shift := median(gaps) * askew * askew / (askew*askew + noise*noise/float64(len(gaps)))
	cost = 0.5 * (shift / askew) * (shift / askew)
	for i, g := range gaps {
		z := (g - shift) / noises[i]
		cost += min(4.5, 0.5*z*z)
	}
	return cost, len(gaps)
}

// A costKey is what the cost of a relation depends on.
type costKey struct {
	relation int
	relative bool
	signs    uint16
}

// cost is the misfit of a pose over all relations.
func (s *settle) cost(p *pose) float64 {
	sum := 0.0
	if p.relative {
		sum += usual
	}
	for ri, r := range s.relations {
		// A mirror image fits equally unless a side is given in words, so only
		// the signs of this relation's own columns matter.
		key := costKey{relation: ri, relative: p.relative}
		for k, f := range r.fields {
			if p.sign[f] > 0 {
				key.signs |= 1 << k
			}
		}
		if p.relative && p.sign[path] > 0 {
			key.signs |= 1 << len(r.fields)
		}
		c, ok := s.cache[key]
		if !ok {
			c, _ = s.misfit(ri, p)
			s.cache[key] = c
		}
		sum += c
	}
	return sum
}

// scored is a pose with its cost.
type scored struct {
	pose
	cost float64
}

// search scores every pose and returns the best first.
func (s *settle) search() (best pose, all []scored) {
	var free []field
	start := pose{}
	for f := range start.sign {
		start.sign[f] = 1
	}
	for _, c := range s.columns {
		if !s.grounded[c.field] {
			free = append(free, c.field)
		}
	}
	all = make([]scored, 0, 1<<len(free))
	for mask := range 1 << len(free) {
		for _, relative := range s.meanings {
			p := start
			p.relative = relative
			for i, f := range free {
				if mask>>i&1 == 1 {
					p.sign[f] = -1
				}
			}
			all = append(all, scored{p, s.cost(&p)})
		}
	}
	slices.SortStableFunc(all, func(a, b scored) int {
		switch {
		case a.cost < b.cost-1e-9:
			return -1
		case a.cost > b.cost+1e-9:
			return 1
		}
		return 0
	})
	return all[0].pose, all
}
