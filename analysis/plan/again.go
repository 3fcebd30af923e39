package plan

import (
	"math"
	"slices"

	"rangepost/analysis"
)

// fresh is the stretch of the shots that were not posted before: a file may be
// an earlier one again, a piece of it, or go on where it ended.
func fresh(before []Placed, shots []analysis.Shot) (from, to int) {
	from, to = 0, len(shots)
	for _, b := range before {
		old, now := b.Session.Shots, shots[from:to]
		n := len(old)
		switch {
		case len(now) == 0:
			return from, to
		case n == 0:
		case len(now) <= n:
			if same(old[:len(now)], now) || same(old[n-len(now):], now) {
				return from, from
			}
		case same(old, now[:n]):
			from += n
		case same(old, now[len(now)-n:]):
			to -= n
		}
	}
	return from, to
}

// same is analysis.SameBalls, which takes its time, behind a glance: a few balls
// of one have to be somewhere in the other. Files of which one has columns that the
// other lacks are the same if they are in the ones they share.
func same(a, b []analysis.Shot) bool {
	for _, i := range []int{0, len(a) / 3, len(a) / 2, len(a) - 1} {
		if !slices.ContainsFunc(b, func(s analysis.Shot) bool { return alike(&a[i], &s) }) {
			return false
		}
	}
	return analysis.SameBalls(shared(a, b))
}

// enoughShared is how many numbers files of other columns have to share: a single
// one of whole yards says little (our choice).
const enoughShared = 3

// shared are the balls with the numbers that both files have, if they are enough.
func shared(a, b []analysis.Shot) (_, _ []analysis.Shot) {
	var lacking []analysis.Number // in one of them
	both := 0
	for _, n := range analysis.Numbers() {
		measured := func(s analysis.Shot) bool { return s.Measured(n) }
		switch inA, inB := slices.ContainsFunc(a, measured), slices.ContainsFunc(b, measured); {
		case inA != inB:
			lacking = append(lacking, n)
		case inA:
			both++
		}
	}
	if both < enoughShared {
		return a, b
	}
	without := func(shots []analysis.Shot) []analysis.Shot {
		shots = slices.Clone(shots)
		for i := range shots {
			for _, n := range lacking {
				shots[i] = shots[i].With(n, math.NaN())
			}
		}
		return shots
	}
	return without(a), without(b)
}

// alike reports whether two readings may be of one ball, as coarsely as
// anything is written.
func alike(a, b *analysis.Shot) bool {
	for i := range analysis.NumNumbers {
		n := analysis.Number(i)
		if !a.Measured(n) || !b.Measured(n) {
			continue
		}
		x, _ := a.Value(n)
		y, _ := b.Value(n)
		// Face and path may be worked out from two others.
		if math.Abs(x-y) > 2*analysis.CoarseStep(n)+1e-9 {
			return false
		}
	}
	return true
}
