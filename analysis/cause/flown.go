package cause

import (
	"cmp"
	"math"
	"math/rand/v2"
	"slices"

	"rangepost/analysis"
	"rangepost/analysis/ball"
)

// A bend is what more of a number is worth in carry: m a unit, how far that may be
// off, and how it changes. Near the loft that carries farthest a little is worth
// nothing either way, and a lot costs yards.
type bend struct{ slope, doubt, curve float64 }

// of is what so much more is worth.
func (b bend) of(more float64) float64 { return more * (b.slope + b.curve*more) }

func (b bend) draw(rng *rand.Rand) bend {
	b.slope += b.doubt * rng.NormFloat64()
	return b
}

// bends are taken at a ball by central differences, over the four degrees of loft
// and the quarter of the spin that a golfer is seldom further off.
func (s slopes) bends(at flier, m *ball.Model) (b [byAir]bend) {
	carry := func(f flier) float64 { return m.Flight.Fly(f.launched()).Carry }
	middle := carry(at)
	over := func(step float64, by func(step float64) flier) bend {
		more, less := carry(by(step)), carry(by(-step))
		return bend{slope: (more - less) / (2 * step), curve: (more + less - 2*middle) / (2 * step * step)}
	}
	b[bySpeed], b[byStrike] = bend{slope: s.speed}, bend{slope: s.smash}
	b[byLoft] = over(4*analysis.Degree, func(step float64) flier { return s.unlofted(at, flier{launch: -step}) })
	b[bySpin] = over(at.spin/4, func(step float64) flier { return s.unspun(at, flier{spin: -step}) })
	return b
}

// doubtFlight is how far the carry of a launch is off in the models that might be
// the true ones, with a device's own error, and how far what their loft and spin make
// of the carry of some balls. Neither is a share of itself: near what carries farthest
// it is nothing in one model and yards in the next, and it bends. Each doubt of the
// flight is taken by itself, a standard deviation either way.
func (e *owing) doubtFlight(some []flier, m *ball.Model) {
	alone := e.reference.sessions == 0
	if told := e.reference.told; alone && !told[byLoft] && !told[bySpin] {
		some = nil // set against their own mean, which no model doubts
	}
	in := func(m ball.Model) (v [5]float64) {
		carry := func(f flier) float64 { return m.Flight.Fly(f.launched()).Carry }
		v[0] = carry(e.at)
		for _, f := range some {
			off, its := f.less(e.reference.flier), carry(f)
			v[1] += (its - carry(e.slopes.unlofted(f, off))) / float64(len(some))
			v[2] += (its - carry(e.slopes.unspun(f, off))) / float64(len(some))
		}
		if alone {
			b := e.slopes.bends(e.at, &m)
			v[3], v[4] = b[byLoft].slope, b[bySpin].slope
		}
		return v
	}
	var sd [5]float64
	for k := ball.Lift; k <= ball.Decay; k++ {
		var by ball.Doubt
		by[k] = 1
		more := in(m.Off(by))
		by[k] = -1
		less := in(m.Off(by))
		for i := range sd {
			sd[i] = math.Hypot(sd[i], (more[i]-less[i])/2)
		}
	}
	e.flown, e.lofted, e.spun = math.Hypot(sd[0], carryError*e.at.carry), sd[1], sd[2]
	if alone {
		e.bends = e.slopes.bends(e.at, m)
		e.bends[byLoft].doubt, e.bends[bySpin].doubt = sd[3], sd[4]
	}
}

// some are a dozen balls that stand for all, from the lowest launch to the highest.
func some(fliers []flier) []flier {
	const dozen = 12
	if len(fliers) <= dozen {
		return fliers
	}
	sorted := slices.Clone(fliers)
	slices.SortStableFunc(sorted, func(a, b flier) int { return cmp.Or(cmp.Compare(a.launch, b.launch), cmp.Compare(a.spin, b.spin)) })
	out := make([]flier, dozen)
	for i := range out {
		out[i] = sorted[(2*i+1)*len(sorted)/(2*dozen)]
	}
	return out
}
