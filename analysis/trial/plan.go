package trial

import "rangepost/analysis/stat"

// wanted is the chance a plan gives its verdict.
const wanted = 0.8

// tooMany is where a plan stops looking: nobody hits so many balls for it.
const tooMany = 500

// plan says how many more balls would settle a row. It never looks at the
// difference that was seen (Hoenig & Heisey 2001, Am. Stat. 55:19), only at
// the spread of one ball: first for balls that show a true difference of twice
// the practical zero, then for balls that show no difference to be held.
type plan struct {
	alpha float64 // of one of so many rows
	power map[[2]int]stat.BehrensFisherPower
}

func newPlan(rows int) *plan {
	return &plan{alpha / float64(max(rows, 1)), map[[2]int]stat.BehrensFisherPower{}}
}

// more fills in a row's Finds and, when it cannot tell, what would.
func (p *plan) more(r *Row, sd float64) {
	if !(sd > 0) {
		return
	}
	if r.Base >= 2 && r.Here >= 2 {
		r.Finds = sd * p.at(r.Base, r.Here).Detectable(wanted)
	}
	if r.Verdict != CannotTell || r.Zero <= 0 {
		return
	}
	r.Look = 2 * r.Zero
	moved := func(base, set int) bool {
		return p.at(base, set).Of(r.Look/sd) >= wanted
	}
	held := func(base, set int) bool {
		return stat.EquivalencePower(r.Zero/sd, float64(base), float64(set), alpha) >= wanted
	}
	for _, next := range []struct {
		verdict Verdict
		enough  func(base, set int) bool
	}{{Moved, moved}, {Held, held}} {
		base, set := fewest(r.Base, r.Here, next.enough)
		if base > r.Base || set > r.Here {
			r.MoreBase, r.MoreSet, r.MoreFor = base-r.Base, set-r.Here, next.verdict
			return
		}
	}
}

// at is the power of one row with so many balls.
func (p *plan) at(base, set int) stat.BehrensFisherPower {
	key := [2]int{min(base, set), max(base, set)}
	power, ok := p.power[key]
	if !ok {
		power = stat.NewBehrensFisherPower(key[0], key[1], p.alpha)
		p.power[key] = power
	}
	return power
}

// fewest is the least balls in all, no less than there are, that are enough.
// With equal spreads a ball counts for most in the smaller set: that is filled
// up first, and then both together.
func fewest(base, set int, enough func(base, set int) bool) (int, int) {
	least := func(low, high int, ok func(n int) bool) int { // ok(high) holds
		for low < high {
			if mid := (low + high) / 2; ok(mid) {
				high = mid
			} else {
				low = mid + 1
			}
		}
		return low
	}
	base, set = max(base, 2), max(set, 2)
	large := max(base, set)
	if enough(large, large) {
		if base < set {
			return least(base, large, func(n int) bool { return enough(n, set) }), set
		}
		return base, least(set, large, func(n int) bool { return enough(base, n) })
	}
	high := 2 * large
	for high < tooMany && !enough(high, high) {
		high *= 2
	}
	n := least(large, min(high, tooMany), func(n int) bool { return enough(n, n) })
	return n, n
}
