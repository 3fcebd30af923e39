package pattern

import (
	"rangepost/analysis"
	"rangepost/analysis/stat"
)

// telling are the numbers by which two swings are told apart: where the ball went
// and what sent it there.
var telling = [...]analysis.Number{
	analysis.Path, analysis.Face, analysis.FaceToPath, analysis.Direction, analysis.SpinAxis, analysis.Lateral,
	analysis.ClubSpeed, analysis.BallSpeed, analysis.DynamicLoft, analysis.LaunchAngle, analysis.Carry,
}

// Two patterns are told where a number falls into two groups that are far likelier
// than one (stat.MixtureOfTwo), whose centres are far apart, the further the less
// likely they need be, and neither of which is a few strays: four balls, and an
// eighth of them all.
//
// The bounds are for the most misleading of single patterns simulated (normal, t of
// 5 and of 3 degrees of freedom, flat, skewed up to the exponential, rounded; 10 to
// 100 balls), what a bootstrap of the ratio (McLachlan 1987, Appl. Stat. 36:318 [S])
// would draw from each: one number is told into two in at most 1.8 % of flat sets
// and in under 0.5 % of all others. [C]
const (
	twoRatio = 8
	twoApart = 5
	twoBoth  = 50  // ratio times apart, of many balls
	twoFew   = 400 // more of that, by the number of balls: the scale of few is too small
	twoShare = 0.125
	twoLeast = 4
	twoBalls = 10 // in all: of fewer, neither could be judged by itself
)

// toldApart reports whether the groups are two patterns of that number of balls
// each.
func toldApart(m stat.Mixture, few, of int) bool {
	return m.Ratio > twoRatio && m.Apart() > twoApart && m.Ratio*m.Apart() > twoBoth+twoFew/float64(of) &&
		few >= twoLeast && of >= twoBalls && float64(few) >= twoShare*float64(of)
}

// apart tells the used balls of a set into two, by the number that tells them best
// of those that nine balls in ten have; nil when they are of one pattern. A ball
// without that number is in neither.
func apart(set analysis.Set) (parts []analysis.Set, by analysis.Number) {
	used := set.Used()
	best := 0.0
	for _, n := range telling {
		values, at := analysis.Values(used, n)
		if 10*len(values) < 9*len(used) {
			continue
		}
		m, ok := stat.MixtureOfTwo(values)
		if !ok || m.Ratio <= best {
			continue
		}
		two := [2]analysis.Set{{Club: set.Club, Label: set.Label}, {Club: set.Club, Label: set.Label}}
		first := m.InHigh[0] < 0.5
		for i, p := range m.InHigh {
			k := 0
			if (p < 0.5) != first {
				k = 1
			}
			two[k].Shots = append(two[k].Shots, used[at[i]])
		}
		if !toldApart(m, min(len(two[0].Shots), len(two[1].Shots)), len(values)) {
			continue
		}
		best, parts, by = m.Ratio, two[:], n
	}
	return parts, by
}
