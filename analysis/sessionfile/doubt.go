package sessionfile

import (
	"fmt"
	"math"
	"slices"

	"rangepost/analysis"
)

// How numbers are found that are not of their ball. A ball is held against all
// laws at once; where it misses them by more than balls of its club do, every one
// of its numbers is taken for wrong in turn and given the value with which the
// rest hang together best. The number with which they do, while with every other
// they do not, is left out.
//
// That single cells are doubted, each against what all others make of it, and
// with robust scales, is from Rousseeuw and Van den Bossche (2018), Detecting
// deviating data cells, Technometrics 60(2):135 [M]; that the likelihood of each cell
// being wrong is weighed against the whole row, from Raymaekers and Rousseeuw
// (2023), The cellwise minimum covariance determinant estimator, J. Am. Stat.
// Assoc. [M]. There the relations are learned from the data; eight balls teach
// none, and here they are physics.
const (
	// wrong is by how much the squared distance of a ball from the usual must
	// fall when one number is taken back. A number that is right makes it fall
	// by chi-squared of one degree; the rest is that misreads are rare and
	// that noise has tails. Chosen with package panel: fewer than one honest
	// ball in 1,000 loses a number, in its worlds without a wild device.
	wrong = 16.0
	// between is by how much more it must fall than with any other number.
	between = 5.0
	// mostWrong is how many numbers of a ball may be left out.
	mostWrong = 3
)

// A doubt is one number that cannot be trusted.
type doubt struct {
	n      analysis.Number
	fitted float64           // with which the rest hangs together
	cost   float64           // how far the rest then is from the usual, squared
	by     []analysis.Number // that contradict it
}

// doubted finds the numbers of a row that the others contradict. sure is false
// where one of them is wrong and it cannot be told which.
func (h *company) doubted(x ballRow, held mask) (doubts []doubt, sure bool) {
	m := h.of(x)
	laws := m.there()
	for k := range laws {
		laws[k] = laws[k] && held[k]
	}
	d2, n := h.against(&m, laws)
	// Few balls do not show how noisy their device is.
	wrong := wrong * max(1, 2-float64(len(h.all)-2)/6)
	if d2 < wrong {
		return nil, true
	}
	fits := max(float64(n)+4*math.Sqrt(2*float64(n)), d2/5)
	explains := func(cost float64) bool { return cost <= d2-wrong && cost <= fits }

	found := h.candidates(x, laws)
	swapped := h.swapped(x, laws)
	least := math.Inf(1)
	for _, c := range found {
		least = min(least, c.cost)
	}
	if swapped < least+1 && explains(swapped) { // it has no value to choose, and so fits less by chance
		for _, n := range []analysis.Number{analysis.Face, analysis.Path} {
			doubts = append(doubts, doubt{n: n, by: h.witnesses(&m, laws, n)})
		}
		return doubts, true
	}
	// What the ball truly did is ordinary more often than not: of two numbers
	// that could both be the wrong one, it is the one that was read as strange.
	odds := func(c doubt) float64 { return c.cost - h.strange(c.n, x[c.n]) }
	least = math.Inf(1)
	for _, c := range found {
		if explains(c.cost) && gross(c, x[c.n]) {
			doubts, least = append(doubts, c), min(least, odds(c))
		}
	}
	doubts = slices.DeleteFunc(doubts, func(c doubt) bool { return odds(c) >= least+between })
	for i := range doubts {
		doubts[i].by = h.witnesses(&m, laws, doubts[i].n)
	}
	return doubts, len(doubts) == 1
}

// candidates takes back every number that one of the laws is about.
func (h *company) candidates(x ballRow, laws mask) (found []doubt) {
	for _, n := range analysis.Numbers() {
		if math.IsNaN(x[n]) || !laws.about(n) {
			continue
		}
		v, cost := h.takenBack(x, n, laws)
		found = append(found, doubt{n: n, fitted: v, cost: cost + h.strange(n, v)})
	}
	return found
}

// swapped is how far the ball is from the usual with face and path swapped.
func (h *company) swapped(x ballRow, laws mask) float64 {
	if !x.has(analysis.Face, analysis.Path) {
		return math.Inf(1)
	}
	x[analysis.Face], x[analysis.Path] = x[analysis.Path], x[analysis.Face]
	m := h.of(x)
	d2, _ := h.against(&m, laws)
	return d2
}

func (laws *mask) about(n analysis.Number) bool {
	for k, held := range laws {
		if held && slices.Contains(lawNumbers[k], n) {
			return true
		}
	}
	return false
}

// A misread is a number off by more than devices and models are off among themselves:
// by that share of it, or that angle or length.
var leastWrong = [analysis.NumNumbers]struct{ share, size float64 }{
	analysis.ClubSpeed:   {share: 0.10},
	analysis.Attack:      {size: 12 * degree},
	analysis.Path:        {size: 3 * degree},
	analysis.Face:        {size: 2.5 * degree},
	analysis.FaceToPath:  {size: 3 * degree},
	analysis.DynamicLoft: {size: 4 * degree},
	analysis.SpinLoft:    {size: 4 * degree},
	analysis.Smash:       {share: 0.08},
	analysis.BallSpeed:   {share: 0.12},
	analysis.LaunchAngle: {size: 3 * degree},
	analysis.Direction:   {size: 2.5 * degree},
	analysis.Spin:        {share: 0.25},
	analysis.SpinAxis:    {size: 8 * degree},
	analysis.Carry:       {share: 0.15},
	analysis.Lateral:     {size: 6},
	analysis.Apex:        {share: 0.25},
	analysis.Descent:     {size: 8 * degree},
	analysis.FlightTime:  {share: 0.15},
}

// strange is what a value costs for being far from what is usual of its number:
// what the ball truly did is ordinary more often than not. Of a value that is not
// to be had it is nothing.
func (h *company) strange(n analysis.Number, v float64) float64 {
	if math.IsNaN(v) || math.IsNaN(h.usual[n]) {
		return 0
	}
	least := leastWrong[n]
	z := (v - h.usual[n]) / math.Hypot(3*h.scatter[n], math.Hypot(least.size, least.share*h.usual[n]))
	return min(z*z, 12)
}

// gross reports whether a number is off by enough to be a misread.
func gross(c doubt, read float64) bool {
	least := leastWrong[c.n]
	return !(math.Abs(c.fitted-read) < math.Hypot(least.size, least.share*math.Max(math.Abs(c.fitted), math.Abs(read))))
}

// takenBack is the value of number n with which a row hangs together best, and how
// far it then is from the usual. It starts at what is usual of this number, not at what was
// read.
func (h *company) takenBack(x ballRow, n analysis.Number, laws mask) (v, cost float64) {
	noise := deviceNoise[n]
	step := math.Hypot(noise.size, noise.share*h.usual[n])
	if !(step > 0) {
		return math.NaN(), math.Inf(1)
	}
	x[n] = h.usual[n]
	m := h.of(x)
	cost, _ = h.against(&m, laws)
	v = x[n]
	for range 4 {
		// Newton's step along one number, by differences.
		up, down := x, x
		up[n], down[n] = x[n]+step, x[n]-step
		mu, md := h.of(up), h.of(down)
		cu, _ := h.against(&mu, laws)
		cd, _ := h.against(&md, laws)
		bend := cu - 2*cost + cd
		if !(bend > 0) || math.IsInf(bend, 0) {
			break
		}
		move := step * (cd - cu) / (2 * bend)
		y := x
		y[n] += move
		my := h.of(y)
		c, _ := h.against(&my, laws)
		if !(c < cost-0.01) {
			break
		}
		x, cost, v = y, c, y[n]
	}
	return v, cost
}

// witnesses are the numbers that number n does not go with.
func (h *company) witnesses(m *misses, laws mask, n analysis.Number) (by []analysis.Number) {
	for k := range laws {
		if !laws[k] || !slices.Contains(lawNumbers[k], n) || math.Abs(h.deviation(m, k)) < 2.5 {
			continue
		}
		for _, other := range lawNumbers[k] {
			if other != n && !slices.Contains(by, other) {
				by = append(by, other)
			}
		}
	}
	return by
}

// note says which number of which ball is left out, and what it does not go
// with.
func (c doubt) note(s analysis.Shot) string {
	text := fmt.Sprintf("ball %d: %s left out", s.N, c.n)
	if len(c.by) > 0 {
		text += ", it does not go with " + listed(c.by)
	}
	return text
}

func listed(ns []analysis.Number) string {
	slices.Sort(ns)
	text := ""
	for i, n := range ns {
		switch {
		case i == 0:
		case i == len(ns)-1:
			text += " and "
		default:
			text += ", "
		}
		text += n.Short()
	}
	return text
}
