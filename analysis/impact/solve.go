package impact

import (
	"math"

	"gonum.org/v1/gonum/stat/distuv"

	"rangepost/analysis"
)

// The unknowns of one ball: its delivery, and by how much the model of the
// head may be off.
const (
	logSpeed = iota
	attack
	loft
	face
	path
	toe
	up
	share
	logSpin
	restitution
	gear
	numUnknowns = iota
)

type unknowns [numUnknowns]float64

func (x *unknowns) delivery() analysis.Delivery {
	return analysis.Delivery{
		ClubSpeed:   math.Exp(x[logSpeed]),
		Attack:      x[attack],
		Path:        x[path],
		Face:        x[face],
		DynamicLoft: x[loft],
		StrikeToe:   x[toe],
		StrikeUp:    x[up],
	}
}

func (x *unknowns) deviation() deviation {
	return deviation{share: x[share], spin: x[logSpin], restitution: x[restitution], gear: x[gear]}
}

// The readings that hang on the unknowns in a curved way.
const (
	direction = iota
	angle
	logBall
	logRate
	axis
	spinLoft
	numReadings = iota
)

type readings [numReadings]float64

// A belief is one thing known of the unknowns that is linear in them: the
// weighted sum is value, to within sd.
type belief struct {
	of     [2]int
	weight [2]float64
	value  float64
	sd     float64
}

func about(i int, value, sd float64) belief {
	return belief{of: [2]int{i, i}, weight: [2]float64{1, 0}, value: value, sd: sd}
}

func (b *belief) miss(x *unknowns) float64 {
	return (b.weight[0]*x[b.of[0]] + b.weight[1]*x[b.of[1]] - b.value) / b.sd
}

// problem is what is known of one ball.
type problem struct {
	head    Head
	share   float64 // the head's usual one
	start   unknowns
	free    []int            // the unknowns that are not known exactly
	at      [numUnknowns]int // their positions in free, -1 for the others
	read    readings
	readSD  readings // 0 where nothing was read
	rate    float64  // the spin read, rad/s
	beliefs []belief
	prior   [NumShared]int // the belief each shared unknown is about, -1 if none
	sided   bool           // a lost ball speed may have been lost toward toe or heel
	rough   bool           // one of many searches, held to a place,
	best    float64        // where the free one left so much
}

// misses is how far the readings are off a head and a delivery, in standard
// deviations. Spin and axis, where both were read, are compared as a vector
// along and across the one read: side spin is straight in face-to-path where
// the axis bends.
func (p *problem) misses(h Head, d analysis.Delivery) (m readings) {
	l := h.Strike(d)
	off := readings{direction: l.Direction - p.read[direction], angle: l.Angle - p.read[angle]}
	if p.readSD[logBall] > 0 {
		off[logBall] = math.Log(l.Speed) - p.read[logBall]
	}
	turn := l.Axis - p.read[axis]
	switch {
	case p.readSD[logRate] > 0 && p.readSD[axis] > 0:
		sin, cos := math.Sincos(turn)
		ratio := l.Spin / p.rate
		off[logRate], off[axis] = ratio*cos-1, ratio*sin
	case p.readSD[logRate] > 0:
		off[logRate] = math.Log(l.Spin / p.rate)
	default:
		off[axis] = math.Remainder(turn, 2*math.Pi)
	}
	if p.readSD[spinLoft] > 0 {
		off[spinLoft] = SpinLoft(d) - p.read[spinLoft]
	}
	for i, sd := range p.readSD {
		if sd > 0 {
			m[i] = off[i] / sd
		}
	}
	return m
}

// cost is the sum of squares that unknowns leave, and what the readings are off.
func (p *problem) cost(x *unknowns) (sum float64, off readings) {
	off = p.misses(p.head.moved(x.deviation(), p.share), x.delivery())
	for _, m := range off {
		sum += m * m
	}
	for i := range p.beliefs {
		m := p.beliefs[i].miss(x)
		sum += m * m
	}
	return sum, off
}

// linear makes the problem linear at x, where the readings are off by base.
func (p *problem) linear(x *unknowns, base readings) (e equations) {
	e.n = len(p.free)
	d, by := x.delivery(), x.deviation()
	head := p.head.moved(by, p.share)
	m, ok := head.meet(d)
	if !ok {
		return e // which no step comes of
	}
	l := head.launch(&m, d.ClubSpeed)
	slopes := head.slopes(d, &m, p.head.perShare(by.share, p.share), p.head.drag())
	sin, cos := math.Sincos(l.Axis - p.read[axis])
	ratio := l.Spin / p.rate
	var rows [numReadings][numUnknowns]float64
	for i, k := range p.free {
		s := &slopes[k]
		rows[direction][i], rows[angle][i], rows[logBall][i] = s.direction, s.angle, s.speed
		if p.readSD[logRate] > 0 && p.readSD[axis] > 0 {
			rows[logRate][i], rows[axis][i] = ratio*(s.spin*cos-s.axis*sin), ratio*(s.spin*sin+s.axis*cos)
		} else {
			rows[logRate][i], rows[axis][i] = s.spin, s.axis
		}
	}
	if p.readSD[spinLoft] > 0 {
		p.spinLoftSlopes(d, &rows[spinLoft])
	}
	for r := range rows {
		if sd := p.readSD[r]; sd > 0 {
			e.add(&rows[r], base[r], sd)
		}
	}
	for i := range p.beliefs {
		b := &p.beliefs[i]
		e.believe(p.at[b.of[0]], p.at[b.of[1]], b, b.miss(x))
	}
	return e
}

// spinLoftSlopes are those of the spin loft, by differences.
func (p *problem) spinLoftSlopes(d analysis.Delivery, row *[numUnknowns]float64) {
	const step = 1e-6
	at := SpinLoft(d)
	for _, c := range []struct {
		unknown int
		by      *float64
	}{{attack, &d.Attack}, {loft, &d.DynamicLoft}, {face, &d.Face}, {path, &d.Path}} {
		if i := p.at[c.unknown]; i >= 0 {
			*c.by += step
			row[i] = (SpinLoft(d) - at) / step
			*c.by -= step
		}
	}
}

// An answer is a place the readings point to: the most probable unknowns near
// it and their covariance there, over the free unknowns.
type answer struct {
	x          unknowns
	covariance matrix
	weight     float64 // its share of the probability, up to a factor
}

// solve finds what the readings point to, weighing one answer against another
// where there are two, and their covariance; ok is false when the equations leave an
// unknown open. fits says whether the likeliest explains the readings.
func (p *problem) solve() (x unknowns, covariance matrix, ok, fits bool) {
	p.place()
	x, cost, near := p.search(p.start)
	if d := x.delivery(); p.at[loft] >= 0 && SpinLoft(d) > p.head.gripLimit(d) {
		// The ball slides here; with less loft it might spin as much gripping.
		start := x
		start[loft] = x[attack] + p.head.gripLimit(d) - 5*analysis.Degree
		if y, c, e := p.search(start); c < cost {
			x, cost, near = y, c, e
		}
	}
	if _, ok = near.covariance(&covariance); !ok {
		return x, covariance, false, false
	}
	if p.sided && p.at[toe] >= 0 {
		if x, covariance, ok = p.overTheFace(x, &covariance, cost); !ok {
			return x, covariance, false, false
		}
	}
	known := len(p.beliefs)
	for _, sd := range p.readSD {
		if sd > 0 {
			known++
		}
	}
	freedom := known - len(p.free)
	return x, covariance, true, freedom <= 0 || cost <= fitLimit[min(freedom, len(fitLimit)-1)]
}

// place notes where the free unknowns stand.
func (p *problem) place() {
	for i := range p.at {
		p.at[i] = -1
	}
	for i, k := range p.free {
		p.at[k] = i
	}
}

// Where on the face overTheFace tries a strike, m to either side of the middle: as
// far as golfers strike it, twice the spread of one ball and more, since what lies
// beyond the last place is taken for impossible. A sum over places a standard
// deviation apart is as good as an integral of anything near a normal curve.
const strikeStep = 12 * analysis.Millimetre

// overTheFace puts the strike at one place across the face after the other,
// solves for the rest there, and weighs the answers by their probability. How
// much ball speed was lost says how far off the middle a ball was struck and
// not to which side, so the probability has two peaks or a flat top, and an
// answer made linear at one place would be far too sure of itself. It starts from
// the free answer, x, and how that one's unknowns go with its strike.
func (p *problem) overTheFace(x unknowns, near *matrix, best float64) (mean unknowns, covariance matrix, ok bool) {
	q := *p
	q.rough, q.best = true, best
	q.free = make([]int, 0, len(p.free)-1)
	var along unknowns
	strike := p.at[toe]
	for i, k := range p.free {
		along[k] = near.at(i, strike) / near.at(strike, strike)
		if k != toe {
			q.free = append(q.free, k)
		}
	}
	q.place()
	var all [5]answer
	answers := all[:0]
	ok = true
	try := func(start unknowns, at float64) unknowns {
		start[toe] = at
		y, cost, near := q.search(start)
		answers = append(answers, answer{x: y})
		a := &answers[len(answers)-1]
		logDet, closed := near.covariance(&a.covariance)
		a.weight = math.Exp(-(cost-best)/2 - logDet/2) // height times volume (Laplace)
		ok = ok && closed
		return y
	}
	middle := try(x.plus(&along, -x[toe]), 0)
	right := try(middle.plus(&along, strikeStep), strikeStep)
	left := try(right.plus(&along, -2*strikeStep), -strikeStep)
	beyond := func(last, first unknowns, at float64) { // on by the parabola through three places
		for i := range last {
			last[i] += 2*last[i] - 3*middle[i] + first[i]
		}
		try(last, at)
	}
	beyond(right, left, 2*strikeStep)
	beyond(left, right, -2*strikeStep)
	if !ok {
		return x, covariance, false
	}
	mean, covariance = p.mixture(&q, answers)
	return mean, covariance, true
}

// plus is so far along a direction.
func (x *unknowns) plus(along *unknowns, by float64) unknowns {
	y := *x
	for i, v := range along {
		y[i] += by * v
	}
	return y
}

// mixture is the mean of answers to q, which leaves some of p's unknowns fixed,
// and the covariance about it: within each answer, and between them.
func (p *problem) mixture(q *problem, answers []answer) (x unknowns, covariance matrix) {
	total := 0.0
	for i := range answers {
		total += answers[i].weight
	}
	x = answers[0].x
	for _, k := range p.free {
		x[k] = 0
		for i := range answers {
			x[k] += answers[i].weight / total * answers[i].x[k]
		}
	}
	for k := range answers {
		a := &answers[k]
		w := a.weight / total
		for i, k := range p.free {
			for j, l := range p.free[:i+1] {
				c := (a.x[k] - x[k]) * (a.x[l] - x[l])
				if qi, qj := q.at[k], q.at[l]; qi >= 0 && qj >= 0 {
					c += a.covariance.at(qi, qj)
				}
				covariance[i][j] += w * c
			}
		}
	}
	return x, covariance
}

// search goes down from a start by damped Gauss-Newton steps
// (Levenberg-Marquardt). Held to a strike far from what the readings say such steps
// go too far, time and again: they are cut to where a parabola along them is least.
// near are the equations of the last step, which moved no more than settledGain
// allows.
func (p *problem) search(x unknowns) (best unknowns, cost float64, near equations) {
	n := len(p.free)
	var step [numUnknowns]float64
	var root matrix
	along := func(t float64) (y unknowns, cost float64, off readings) {
		y = x
		for i, k := range p.free {
			y[k] -= t * step[i]
		}
		cost, off = p.cost(&y)
		return y, cost, off
	}
	cost, off := p.cost(&x)
	damping := 1e-4
	e := p.linear(&x, off)
	for range 60 {
		if !e.root(&root, damping) {
			damping = max(1e-4, damping*10)
			continue
		}
		step = root.solve(n, e.g)
		gain := 0.0
		for i := range n {
			gain += step[i] * e.g[i]
		}
		y, c, off := along(1)
		if p.rough && c > cost-gain/2 {
			if z, least, offZ := along(gain / (c - cost + 2*gain)); least < c {
				y, c, off = z, least, offZ
			}
		}
		settled := gain < p.enough(cost)
		if c <= cost {
			x, cost = y, c
			if settled {
				break
			}
			damping *= 0.1
			e = p.linear(&x, off)
			continue
		}
		if settled {
			break
		}
		damping = max(1e-4, damping*10)
	}
	return x, cost, e
}

// enough is the gain that ends a search at a place that leaves so much: of the many
// that weigh the face, whose answers are averaged, ten times as much, and more where
// the answer will count for less.
func (p *problem) enough(cost float64) float64 {
	if p.rough {
		return min(mostGain, 10*settledGain*math.Exp((cost-p.best)/2))
	}
	return settledGain
}

// mostGain is a weight that is a third off, of an answer that hardly has any.
const mostGain = 0.5

// settledGain ends the search: a step that promises to lower the sum of
// squares by less than this moves nothing by a hundredth of its standard
// deviation.
const settledGain = 1e-4

// fitLimit is the 99.9 % point of chi-square by degrees of freedom: a ball
// further off than that is called a misfit.
var fitLimit = func() (limit [16]float64) {
	for k := 1; k < len(limit); k++ {
		limit[k] = distuv.ChiSquared{K: float64(k)}.Quantile(0.999)
	}
	return limit
}()
