package challenge

import (
	"math"

	"gonum.org/v1/gonum/stat/distuv"

	"rangepost/analysis"
	"rangepost/analysis/ball"
	"rangepost/analysis/stat"
)

// A chip is straight because it is short, so no rule of dispersion is won by
// one. Two things see to it, the same for every golfer: balls count by the
// angle they finish off line, as yards at one distance; and a stretch whose
// middle ball stays under the floor is practice of another kind and is passed
// over.
const (
	// FloorShare of what a club usually carries is the floor: under it lies no
	// full shot, and few juniors' (common practice, no source).
	FloorShare = 0.4

	// OwnFloorShare is the same of what a player's own balls carried before the
	// opening, where that is known: wind and a bad day take less (common
	// practice, no source).
	OwnFloorShare = 0.75
)

// UsualCarry is what a club carries as golfers at large deliver it, m.
func UsualCarry(c analysis.Club) float64 {
	m := ball.Of(c, analysis.RightHanded, analysis.Conditions{})
	return m.Land(m.Head.Usual.Delivery(), ball.Departure{}).Carry
}

// Fairly fills in what keeps a new challenge fair where its host said nothing
// else: the floor, the distance that sideways figures are brought to, both in
// whole tens of a unit of so many metres, and the fewest entries.
func (t Terms) Fairly(unit float64) Terms {
	tens := func(m float64) float64 { return math.Round(m/(10*unit)) * 10 * unit }
	if t.Dispersion() {
		if t.Least == 0 {
			t.Least = tens(FloorShare * UsualCarry(t.Club))
		}
		t.Across = max(t.Least, tens(UsualCarry(t.Club)))
	}
	if t.Fewest == 0 {
		t.Fewest = FewestEntries
	}
	return t
}

// Dispersion reports whether the rule is won by balls that lie close together,
// wherever they lie: the ones that need a floor.
func (t Terms) Dispersion() bool { return t.Rule == Narrow || t.Rule == Progress }

// across is how far off line a ball finished, as it would be at the distance
// the terms name; of one that stayed under the floor, as it would be had it
// reached it. Terms of before there was such a distance take it as it lies.
func (t Terms) across(b Ball) float64 {
	if t.Across <= 0 {
		return b.Lateral
	}
	return b.Lateral * t.Across / max(b.Carry, t.Least)
}

// beyondWorst is how much further out balls without a figure count than the worst of
// the others, so that leaving out the figures of one's worst gains nothing: for k of
// n, what the k furthest of n normal deviates are together (root of their mean
// square) over what they are beyond,
//
//	sqrt(1 + c phi(c)/(1 - Phi(c))) / c,  2 (1 - Phi(c)) = k/n
//
// It is 1.27 for one of ten and 1.62 for five of fifteen [C].
func beyondWorst(k, n int) float64 {
	share := min(float64(k)/float64(n), mostBeyond)
	c := distuv.UnitNormal.Quantile(1 - share/2)
	return math.Sqrt(1+c*distuv.UnitNormal.Prob(c)/(share/2)) / c
}

// mostBeyond is the share from which more makes no difference: of a half the
// formula gives 2.02, and of all of them nothing.
const mostBeyond = 0.5

// sideways are those of a stretch. Balls without a figure count as beyond the
// furthest of the others from their middle, on its side and the other in turns.
func (t Terms) sideways(s Stretch) []float64 {
	all := make([]float64, len(s.Balls))
	var known []float64
	for i, b := range s.Balls {
		if !b.Unmeasured {
			all[i] = t.across(b)
			known = append(known, all[i])
		}
	}
	if len(known) == len(all) {
		return all
	}
	middle, far := furthest(known)
	far *= beyondWorst(len(all)-len(known), len(all))
	for i, b := range s.Balls {
		if b.Unmeasured {
			all[i] = middle + far
			far = -far
		}
	}
	return all
}

// furthest is the middle of some values, and how far from it the one furthest from
// it is; 0 of none.
func furthest(values []float64) (middle, far float64) {
	middle, _ = stat.Median(values)
	for _, v := range values {
		if math.Abs(v-middle) > math.Abs(far) {
			far = v - middle
		}
	}
	return middle, far
}

// leastUsual is how many balls tell what somebody usually carries.
const leastUsual = 10

// OwnFloor is a player's own floor by sessions posted before the opening, the
// newest first, m: a share of what their newest balls carried in the middle. It
// is 0 where too few are known, and for rules that need none.
func (t Terms) OwnFloor(sessions []analysis.Session) float64 {
	var carries []float64
	for _, s := range sessions {
		for _, shot := range s.Shots {
			if v, ok := shot.Value(analysis.Carry); ok && t.Dispersion() && s.Ball == t.Ball && shot.Club == t.Club && counts(shot) && len(carries) < Window {
				carries = append(carries, v)
			}
		}
	}
	if len(carries) < leastUsual {
		return 0
	}
	middle, _ := stat.Median(carries)
	return OwnFloorShare * middle
}

// Known counts the balls of a session that a past may be made of.
func (t Terms) Known(s analysis.Session) (n int) {
	for _, shot := range s.Shots {
		if s.Ball == t.Ball && shot.Club == t.Club && counts(shot) && t.measured(shot) {
			n++
		}
	}
	return n
}
