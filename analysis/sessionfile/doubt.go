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
// rest hang together best. The number with which they do, while with every other they
// do not, is left out.
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
	// that noise has tails.
	wrong = 24.0
	// between is by how much more it must fall than with any other number.
	between = 8.0
	// most is how many numbers of a ball may be left out.
	mostWrong = 3
)

// A doubt is one number that cannot be trusted.
type doubt struct {
	n      analysis.Number
	fitted float64           // with which the rest hangs together
	by     []analysis.Number // that contradict it
}

// doubted finds the numbers of a row that the others contradict. alone is false
// where one of them is wrong and it cannot be told which.
func (h *company) doubted(x ballRow, held mask) (cells []doubt, alone bool) {
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
	fits := float64(n) + 4*math.Sqrt(2*float64(n))
	best, found := d2, []doubt(nil)
	var costs []float64
	for j := range x {
		if math.IsNaN(x[j]) || !slices.ContainsFunc(allLaws, func(k law) bool { return laws[k] && slices.Contains(lawNumbers[k], analysis.Number(j)) }) {
			continue
		}
		v, cost := h.takenBack(x, analysis.Number(j), laws)
		found, costs = append(found, doubt{n: analysis.Number(j), fitted: v}), append(costs, cost)
		best = min(best, cost)
	}
	swapped := math.Inf(1)
	if x.has(analysis.Face, analysis.Path) {
		y := x
		y[analysis.Face], y[analysis.Path] = x[analysis.Path], x[analysis.Face]
		s := h.of(y)
		swapped, _ = h.against(&s, laws)
	}
	fits = max(fits, d2/5)
	if min(best, swapped) > d2-wrong || min(best, swapped) > fits {
		return nil, true
	}
	if !(swapped < best+1) {
		found, costs = h.gross(x, found, costs)
		best = slices.Min(append(costs, math.Inf(1)))
		if best > d2-wrong || best > fits {
			return nil, true
		}
	}
	if swapped < best+1 { // it has no value to choose, and so fits less by chance
		for _, n := range []analysis.Number{analysis.Face, analysis.Path} {
			cells = append(cells, doubt{n, x[analysis.Face] + x[analysis.Path] - x[n], h.witnesses(&m, laws, n)})
		}
		return cells, true
	}
	for i, c := range found {
		if costs[i] < best+between {
			c.by = h.witnesses(&m, laws, c.n)
			cells = append(cells, c)
		}
	}
	return cells, len(cells) == 1
}

// A misread is a number off by more than devices and models are off among themselves:
// by that share of it, or that angle or length.
var leastWrong = [analysis.NumNumbers]struct{ share, size float64 }{
	analysis.ClubSpeed:   {share: 0.10},
	analysis.Attack:      {size: 5 * degree},
	analysis.Path:        {size: 3 * degree},
	analysis.Face:        {size: 2.5 * degree},
	analysis.DynamicLoft: {size: 4 * degree},
	analysis.BallSpeed:   {share: 0.08},
	analysis.LaunchAngle: {size: 3 * degree},
	analysis.Direction:   {size: 2.5 * degree},
	analysis.Spin:        {share: 0.25},
	analysis.SpinAxis:    {size: 8 * degree},
	analysis.Carry:       {share: 0.12},
	analysis.Lateral:     {size: 6},
	analysis.Apex:        {share: 0.25},
	analysis.Descent:     {size: 8 * degree},
	analysis.FlightTime:  {share: 0.12},
}

// gross leaves out what would have to be off by too little to be a misread.
func (h *company) gross(x ballRow, found []doubt, costs []float64) ([]doubt, []float64) {
	k := 0
	for i, d := range found {
		least := leastWrong[d.n]
		if math.Abs(d.fitted-x[d.n]) < math.Hypot(least.size, least.share*math.Max(math.Abs(d.fitted), math.Abs(x[d.n]))) {
			continue // never of NaN
		}
		found[k], costs[k], k = d, costs[i], k+1
	}
	return found[:k], costs[:k]
}

var allLaws = func() (all []law) {
	for k := range numLaws {
		all = append(all, law(k))
	}
	return all
}()

// takenBack is the value of number n with which a row hangs together best, and how
// far it then is from the usual. It starts at what is usual of this number, not at what was
// read.
func (h *company) takenBack(x ballRow, n analysis.Number, laws mask) (v, cost float64) {
	noise := deviceNoise[n]
	step := math.Hypot(noise.size, noise.share*h.usual[n])
	if !(step > 0) {
		// Of a definition: the value is what the others make it.
		y := x
		y[n] = math.NaN()
		rest := h.of(y)
		without := rest.there()
		for k := range without {
			without[k] = without[k] && laws[k]
		}
		cost, _ = h.against(&rest, without)
		return math.NaN(), cost
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
