package sessionfile

import (
	"math"

	"rangepost/analysis"
)

// deviceNoise is what one reading of a number is off by, from ball to ball: a
// share of the number, or an angle in rad. They are generous (common
// practice, no source); what a session's own balls show weighs against them.
var deviceNoise = [analysis.NumNumbers]struct{ share, size float64 }{
	analysis.ClubSpeed:   {share: 0.015},
	analysis.Attack:      {size: 0.7 * degree},
	analysis.Path:        {size: 0.7 * degree},
	analysis.Face:        {size: 0.7 * degree},
	analysis.DynamicLoft: {size: 0.7 * degree},
	analysis.FaceToPath:  {size: 0.7 * degree},
	analysis.SpinLoft:    {size: 0.7 * degree},
	analysis.Smash:       {share: 0.015},
	analysis.StrikeToe:   {size: 3 * analysis.Millimetre},
	analysis.StrikeUp:    {size: 3 * analysis.Millimetre},
	analysis.BallSpeed:   {share: 0.007},
	analysis.LaunchAngle: {size: 0.4 * degree},
	analysis.Direction:   {size: 0.4 * degree},
	analysis.Spin:        {share: 0.05},
	analysis.SpinAxis:    {size: 2 * degree},
	analysis.Carry:       {share: 0.01},
	analysis.Lateral:     {size: 0.7},
	analysis.Apex:        {share: 0.02, size: 0.1},
	analysis.Descent:     {size: 1 * degree},
	analysis.FlightTime:  {share: 0.015},
}

// unseenStrike is how far off the middle of the face a ball is struck where that
// was not measured, m: package impact's spread of a driver's.
const unseenStrike = 8 * analysis.Millimetre

// A lawNoise is by how much balls miss a law of their own accord, apart from the
// device: from ball to ball; by that share of how far a ball is from the ordinary;
// all balls of a club together, as models, devices, air and balls differ; and for
// every metre that the strike is off the middle. Common practice, no source, and
// generous: they count where a session's own balls are too few to show it.
type lawNoise struct{ each, lever, all, strike float64 }

var lawNoises = [numLaws]lawNoise{
	carryLaw:      {each: 0.02, lever: 0.15, all: 0.12},
	apexLaw:       {each: 0.04, lever: 0.25, all: 0.20},
	timeLaw:       {each: 0.015, lever: 0.15, all: 0.10},
	descentLaw:    {each: 1 * degree, lever: 0.12, all: 5 * degree},
	finishLaw:     {each: 0.5 * degree, lever: 0.25, all: 2 * degree},
	speedLaw:      {each: 0.04, all: 0.08},
	launchLaw:     {each: 1 * degree, all: 2.5 * degree, strike: 3},
	spinLaw:       {each: 0.08, all: 0.25, strike: 12},
	startLaw:      {each: 0.6 * degree, lever: 0.12, all: 2 * degree, strike: 1.5},
	axisLaw:       {each: 3 * degree, lever: 0.25, all: 5 * degree, strike: 8},
	faceToPathLaw: {each: 0.4 * degree, all: 0.5 * degree},
	smashLaw:      {each: 0.025, all: 0.02},
	spinLoftLaw:   {each: 0.6 * degree, all: 1 * degree},
}

// A matrix is one of the laws' misses against each other.
type matrix [numLaws][numLaws]float64

// A company is how the balls of one club miss the laws: what is usual of them, and
// how far one of them may be off it.
//
// One wild ball among them moves neither: middles and slopes are repeated
// medians and scales median distances, each with a share of what is known beforehand,
// so that few balls do with it. What the laws share, such as a spin that four of
// them hang on, is reckoned from the noise of one reading, carried through the
// laws at the usual ball; only the size of each law's own scatter is the balls'.
type company struct {
	*physics
	usual   ballRow // medians of the numbers
	scatter ballRow // and their median distances from them, as deviations
	all     []misses
	line    [numLaws]robustLine // how misses.by goes with misses.far
	strike  [numLaws]robustLine // how what is left goes with where the face was struck
	spread  matrix              // covariance of a ball's misses about it, without what being odd adds
	would   []misses            // what gain works with
}

// beforehand is how many balls the noises above count as.
const beforehand = 4

func newCompany(p *physics, rows []ballRow) *company {
	h := &company{physics: p, usual: usualOf(rows)}
	h.deliver(&h.usual)
	for n := range h.scatter {
		away := make([]float64, 0, len(rows))
		for i := range rows {
			if v := rows[i][n]; !math.IsNaN(v) {
				away = append(away, math.Abs(v-h.usual[n]))
			}
		}
		h.scatter[n] = 1.4826 * median(away)
	}
	h.carryNoise()
	h.all = make([]misses, len(rows))
	for i, x := range rows {
		h.all[i] = p.of(x)
	}
	var scale [numLaws]float64
	for k := range scale {
		scale[k] = h.fit(k)
		if p.club.Unknown() {
			// Balls of several clubs may stand here, and what most of them show
			// is not what the few of a driver among them do.
			scale[k] = 1.5 * max(scale[k], 1)
			if law(k).ofStrike() {
				scale[k] *= 1.5
			}
		}
	}
	for k := range h.spread {
		for l := range h.spread {
			h.spread[k][l] *= scale[k] * scale[l]
		}
		h.spread[k][k] += h.line[k].doubt * h.line[k].doubt
	}
	return h
}

// usualOf are the medians of the numbers.
func usualOf(rows []ballRow) (usual ballRow) {
	vs := make([]float64, 0, len(rows))
	for n := range usual {
		vs = vs[:0]
		for i := range rows {
			if v := rows[i][n]; !math.IsNaN(v) {
				vs = append(vs, v)
			}
		}
		usual[n] = math.NaN()
		if len(vs) > 0 {
			usual[n] = median(vs)
		}
	}
	return usual
}

// fit finds the line of one law and by how much its scatter is more, or less,
// than was known beforehand.
func (h *company) fit(k int) (scale float64) {
	var by, far []float64
	for i := range h.all {
		if v := h.all[i].by[k]; !math.IsNaN(v) {
			by, far = append(by, v), append(far, h.all[i].far[k])
		}
	}
	own, known := math.Sqrt(h.spread[k][k]), lawNoises[k]
	l := fitLine(far, by, own, known.lever, known.all)
	h.line[k] = l
	if len(by) < enough {
		return 1
	}
	rest := h.fitStrike(k)
	// 1.4826 makes the median distance of a normal sample its deviation.
	mad, n := 1.4826*median(rest)/own, float64(len(rest))
	return math.Sqrt((beforehand + n*mad*mad) / (beforehand + n))
}

// fitStrike finds how what is left of one law goes with the strike, where that was
// measured: gear effect, bulge and roll. It returns the size of what is left then.
func (h *company) fitStrike(k int) (rest []float64) {
	var left, at []float64
	for i := range h.all {
		m := &h.all[i]
		if v := m.by[k]; !math.IsNaN(v) {
			left, at = append(left, v-h.line[k].at(m.far[k])), append(at, orZero(m.x[strikeOf(k)]))
		}
	}
	h.strike[k] = fitLine(at, left, math.Sqrt(h.spread[k][k]), lawNoises[k].strike, 0)
	rest = left
	for i := range rest {
		rest[i] = math.Abs(left[i] - h.strike[k].at(at[i]))
	}
	return rest
}

// strikeOf is the side of the strike a law goes with.
func strikeOf(k int) analysis.Number {
	if law(k) == launchLaw || law(k) == spinLaw {
		return analysis.StrikeUp
	}
	return analysis.StrikeToe
}

// carryNoise sets the spread to what one ball's readings and the laws
// themselves leave.
func (h *company) carryNoise() {
	at := h.of(h.usual)
	for n, noise := range deviceNoise {
		step := math.Hypot(noise.size, noise.share*h.usual[n])
		x := h.usual
		if n := analysis.Number(n); n == analysis.StrikeToe || n == analysis.StrikeUp {
			if math.IsNaN(h.usual[n]) {
				x[n], step = 0, unseenStrike
			}
		}
		if !(step > 0) {
			continue
		}
		x[n] += step
		off := h.of(x)
		var d [numLaws]float64
		for k := range d {
			// Definitions are no more exact than their columns are rounded, and
			// no less: their two sides are one reading.
			if law(k) < faceToPathLaw {
				d[k] = orZero(off.by[k] - at.by[k])
			}
		}
		if analysis.Number(n) == analysis.StrikeUp && math.IsNaN(h.usual[n]) {
			// Low on the face starts low and spins more, of irons too, which
			// the head does not show.
			d[launchLaw] = math.Copysign(max(math.Abs(d[launchLaw]), lawNoises[launchLaw].strike*step), -1)
			d[spinLaw] = math.Copysign(max(math.Abs(d[spinLaw]), lawNoises[spinLaw].strike*step), 1)
		}
		for k := range d {
			for l := range d {
				h.spread[k][l] += d[k] * d[l]
			}
		}
	}
	for k, n := range lawNoises {
		h.spread[k][k] += n.each * n.each
	}
}

// against is the squared distance of a ball's misses from the usual, over their
// spread (Mahalanobis), by the laws of the mask, and how many laws that is.
// It is +Inf where the ball cannot be held against one of them.
func (h *company) against(m *misses, laws mask) (d2 float64, n int) {
	var at [numLaws]int
	for k := range m.by {
		if laws[k] {
			if math.IsNaN(m.by[k]) {
				return math.Inf(1), n
			}
			at[n], n = k, n+1
		}
	}
	// Cholesky, row by row, and the forward substitution beside it.
	var l matrix
	var y [numLaws]float64
	for i := range n {
		for j := range i + 1 {
			sum := h.spread[at[i]][at[j]]
			if i == j {
				odd := h.odd(m, at[i])
				sum += odd * odd
			}
			for k := range j {
				sum -= l[i][k] * l[j][k]
			}
			if i == j {
				l[i][i] = math.Sqrt(max(sum, 1e-12))
			} else {
				l[i][j] = sum / l[j][j]
			}
		}
		sum := h.off(m, at[i])
		for k := range i {
			sum -= l[i][k] * y[k]
		}
		y[i] = sum / l[i][i]
		d2 += y[i] * y[i]
	}
	return d2, n
}

// off is by how much a ball misses a law more than is usual.
func (h *company) off(m *misses, k int) float64 {
	return m.by[k] - h.line[k].at(m.far[k]) - h.strike[k].at(orZero(m.x[strikeOf(k)]))
}

// odd is what being far from the ordinary adds to the noise of a law, in its
// unit. How far a ball is, is taken from two or more of its numbers, the middle or the
// least, so that a wild value among them does not widen its own test.
func (h *company) odd(m *misses, k int) float64 {
	known := lawNoises[k]
	struck := h.strike[k].slopeDoubt * (orZero(m.x[strikeOf(k)]) - h.strike[k].middle)
	switch law(k) {
	case carryLaw:
		return math.Hypot(known.lever*h.unusual(m), m.slack)
	case apexLaw, timeLaw, descentLaw:
		return known.lever * h.unusual(m)
	case speedLaw:
		// Speed is lost off the middle, by more than is usual of a set now and
		// then, and never won.
		return 0.5 * max(0, -h.off(m, k))
	case finishLaw, startLaw, axisLaw:
	default:
		return math.Abs(struck)
	}
	far := math.Abs(m.far[k] - h.line[k].middle)
	if v := math.Abs(m.other[k] - h.line[k].middle); !math.IsNaN(v) {
		far = min(far, v)
	} else {
		far = min(far, h.line[k].reach)
	}
	odd := math.Hypot(struck, math.Hypot(h.line[k].slopeDoubt, known.lever/3)*far)
	if law(k) == finishLaw {
		odd = math.Hypot(odd, m.lean)
	}
	return odd
}

// unusual is how far a flight is from what is usual of the club, as a
// logarithm: the second farthest of what its numbers say, each by its own measure.
func (h *company) unusual(m *misses) float64 {
	var first, second float64
	for _, by := range []struct {
		n      analysis.Number
		weight float64 // of an angle, per rad; of the rest, of the logarithm
		angle  bool
	}{
		{analysis.BallSpeed, 1, false}, {analysis.Carry, 1, false}, {analysis.FlightTime, 1, false}, {analysis.Apex, 0.5, false},
		{analysis.LaunchAngle, 3, true}, {analysis.Descent, 2, true},
	} {
		v := m.x[by.n] - h.usual[by.n]
		if !by.angle {
			v = math.Log(m.x[by.n] / h.usual[by.n])
		}
		v = by.weight * math.Abs(v)
		switch {
		case v > first: // never of NaN
			first, second = v, first
		case v > second:
			second = v
		}
	}
	return min(second, 2)
}

// deviation is how many deviations one law alone is missed by.
func (h *company) deviation(m *misses, k int) float64 {
	return h.off(m, k) / math.Hypot(math.Sqrt(h.spread[k][k]), h.odd(m, k))
}

// A mask says which laws count.
type mask [numLaws]bool

func (m *misses) there() (laws mask) {
	for k, v := range m.by {
		laws[k] = !math.IsNaN(v)
	}
	return laws
}
