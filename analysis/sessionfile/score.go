package sessionfile

import (
	"math"
	"slices"
)

// holders are the candidates that hold each field under a way to name them, -1
// where none does. ok is false if two hold one.
func (v *vote) holders(chosen []int) (by [numFields]int, ok bool) {
	for f := range by {
		by[f] = -1
	}
	for i, at := range chosen {
		f := v.candidates[i].fields[at]
		if f == ignored || f.text() || f == shotField {
			continue
		}
		if by[f] >= 0 && !(v.candidates[i].fixed && v.candidates[by[f]].fixed) {
			return by, false
		}
		by[f] = i
	}
	return by, true
}

// total is the score of a way to name the columns.
func (v *vote) total(chosen []int) float64 {
	by, ok := v.holders(chosen)
	if !ok {
		return math.Inf(-1)
	}
	sum := 0.0
	for i, at := range chosen {
		sum += v.candidates[i].alone[at]
	}
	down := v.standIns(by)
	for ti := range ties {
		sum += v.tie(ti, &down)
	}
	for li := range flights {
		sum += v.landed(li, &down)
	}
	for _, l := range leans {
		if i := by[l.field]; i >= 0 && by[l.on] < 0 && v.candidates[i].silent {
			sum -= l.weight
		}
	}
	return sum
}

// standIns puts what does for a number that is not there in its place: where a
// ball came to rest for where it came down, a loft for the launch it gives, the
// face for the start, the spin backwards for all of it. Else what explains more would be named what explains
// most. Where columns have words, only one does whose words say the lesser
// thing at least as clearly. by is who holds what.
func (v *vote) standIns(by [numFields]int) [numFields]int {
	in := by
	does := func(f, instead field) bool {
		if by[instead] >= 0 || by[f] < 0 {
			return false
		}
		c := &v.candidates[by[f]]
		return v.silent || !c.fixed && c.said[f] > 0 && c.said[f] >= c.said[instead]
	}
	if does(total, carry) {
		in[carry], in[total] = by[total], -1
	}
	if does(lateralTotal, lateral) {
		in[lateral], in[lateralTotal] = by[lateralTotal], -1
	}
	if does(dynamicLoft, launch) {
		in[launch] = by[dynamicLoft] + lofted
	}
	if does(face, direction) {
		in[direction] = by[face]
	}
	if !v.silent && does(backSpin, spin) { // without words, who could tell them apart
		in[spin] = by[backSpin]
	}
	return in
}

// lofted is added to the number of a candidate that holds a dynamic loft and does
// for the launch it gives.
const lofted = 1 << 10

// launchOfLoft is about how much of a dynamic loft a ball is launched at.
const launchOfLoft = 0.82

// kindred reports whether two fields share a unit where none is given.
func kindred(a, b field) bool {
	return slices.ContainsFunc(families, func(fam family) bool { return fam.of(a) && fam.of(b) })
}

// valuesOf are the values of candidate i as field f, by scale.
func (v *vote) valuesOf(i int, f field) (values [][]float64, scales []float64) {
	if i < lofted {
		return v.candidates[i].values[f], v.candidates[i].units[f]
	}
	c := &v.candidates[i-lofted]
	if c.launches == nil {
		for _, vs := range c.values[dynamicLoft] {
			c.launches = append(c.launches, mix(vs, launchOfLoft, vs, 0))
		}
	}
	return c.launches, c.units[dynamicLoft]
}

// tie is the score of one tie, with the units that serve it best.
func (v *vote) tie(ti int, by *[numFields]int) float64 {
	return v.weigh(ti, ties[ti].fields, by, ties[ti].score)
}

// weigh is the score of what hangs fields together, by the units that serve it
// best; id names it.
func (v *vote) weigh(id int, fields []field, by *[numFields]int, score func([][]float64) float64) float64 {
	key := [5]int16{int16(id), -1, -1, -1, -1}
	open := false
	for k, f := range fields {
		if by[f] < 0 {
			return 0
		}
		for _, other := range fields[:k] {
			if by[other]%lofted == by[f]%lofted {
				return 0 // it does for another that is looked at itself
			}
		}
		key[k+1] = int16(by[f])
		open = open || !v.candidates[by[f]%lofted].fixed
	}
	if !open {
		return 0
	}
	if s, ok := v.cache[key]; ok {
		return s
	}
	best := math.Inf(-1)
	values, scales := make([][]float64, len(fields)), make([]float64, len(fields))
	var try func(k, left int)
	try = func(k, left int) {
		if k == len(fields) {
			best = max(best, score(values))
			return
		}
		ways, in := v.valuesOf(by[fields[k]], fields[k])
		for w := range min(len(ways), max(1, left)) {
			odd := false // a family has one unit
			for j, other := range fields[:k] {
				odd = odd || in[w] != scales[j] && kindred(other, fields[k]) && slices.Contains(in, scales[j])
			}
			if !odd {
				values[k], scales[k] = ways[w], in[w]
				try(k+1, left/max(1, len(ways)))
			}
		}
	}
	try(0, 12)
	if math.IsInf(best, 0) || math.IsNaN(best) {
		best = 0
	}
	v.cache[key] = best
	return best
}

// landed is the score of what the flight model says of a field that is held.
func (v *vote) landed(li int, by *[numFields]int) float64 {
	l, id := flights[li], len(ties)+2*li
	if by[spin] >= 0 {
		return v.weigh(id, []field{l.field, ballSpeed, launch, spin}, by, func(vs [][]float64) float64 {
			key := [3]*float64{&vs[1][0], &vs[2][0], &vs[3][0]}
			f, ok := v.flights[key]
			if !ok {
				f = fly(vs[1], vs[2], vs[3])
				v.flights[key] = f
			}
			return l.bearsOut(f, vs[0])
		})
	}
	return v.weigh(id+1, []field{l.field, ballSpeed, launch}, by, func(vs [][]float64) float64 {
		key := [3]*float64{&vs[1][0], &vs[2][0]}
		f, ok := v.flights[key]
		if !ok {
			spins := make([]float64, len(vs[2]))
			for i, angle := range vs[2] {
				spins[i] = spinOf(angle)
			}
			f = fly(vs[1], vs[2], spins)
			v.flights[key] = f
		}
		return 0.5 * l.bearsOut(f, vs[0]) // what spin it has is a guess
	})
}
