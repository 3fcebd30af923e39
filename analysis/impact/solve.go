package impact

import (
	"math"

	"gonum.org/v1/gonum/blas"
	"gonum.org/v1/gonum/blas/blas64"
	"gonum.org/v1/gonum/lapack/lapack64"
	"gonum.org/v1/gonum/mat"
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
	off = p.misses(p.head.moved(x.deviation()), x.delivery())
	for _, m := range off {
		sum += m * m
	}
	for i := range p.beliefs {
		m := p.beliefs[i].miss(x)
		sum += m * m
	}
	return sum, off
}

// equations are the normal equations of the problem made linear at one place:
// h (upper triangle, row by row) times a step is g.
type equations struct {
	n int
	h [numUnknowns * numUnknowns]float64
	g [numUnknowns]float64
}

func (e *equations) add(row *[numUnknowns]float64, miss float64) {
	for i := range e.n {
		if row[i] == 0 {
			continue
		}
		e.g[i] += row[i] * miss
		for j := i; j < e.n; j++ {
			e.h[i*e.n+j] += row[i] * row[j]
		}
	}
}

// linear makes the problem linear at x, where the readings are off by base, by
// forward differences.
func (p *problem) linear(x *unknowns, base readings) equations {
	const step = 1e-6
	e := equations{n: len(p.free)}
	head := p.head.moved(x.deviation())
	var slopes [numReadings][numUnknowns]float64
	for i, k := range p.free {
		y, h := *x, head
		y[k] += step
		if k >= share {
			h = p.head.moved(y.deviation())
		}
		for r, m := range p.misses(h, y.delivery()) {
			slopes[r][i] = (m - base[r]) / step
		}
	}
	for r := range slopes {
		if p.readSD[r] > 0 {
			e.add(&slopes[r], base[r])
		}
	}
	for i := range p.beliefs {
		b := &p.beliefs[i]
		row := p.row(b)
		e.add(&row, b.miss(x))
	}
	return e
}

// row is a belief's slope over the free unknowns.
func (p *problem) row(b *belief) (row [numUnknowns]float64) {
	for j, k := range b.of {
		if i := p.at[k]; i >= 0 {
			row[i] += b.weight[j] / b.sd
		}
	}
	return row
}

// An answer is a place the readings point to: the most probable unknowns near
// it, their covariance there (over the free unknowns) and the sum of squares it
// leaves.
type answer struct {
	x          unknowns
	covariance *mat.SymDense
	logDet     float64 // of its inverse
	cost       float64
	weight     float64 // its share of the probability, up to a factor
}

// solve finds what the readings point to, weighing one answer against another
// where there are two, and their covariance: nil when the equations leave an
// unknown open. fits says whether the likeliest explains the readings.
func (p *problem) solve() (x unknowns, covariance *mat.SymDense, fits bool) {
	n := len(p.free)
	for i := range p.at {
		p.at[i] = -1
	}
	for i, k := range p.free {
		p.at[k] = i
	}
	x, cost, near := p.search(p.start)
	if d := x.delivery(); p.at[loft] >= 0 && SpinLoft(d) > p.head.gripLimit(d) {
		// The ball slides here; with less loft it might spin as much gripping.
		start := x
		start[loft] = x[attack] + p.head.gripLimit(d) - 5*analysis.Degree
		if y, c, e := p.search(start); c < cost {
			x, cost, near = y, c, e
		}
	}
	if p.sided && p.at[toe] >= 0 {
		x, covariance = p.overTheFace(x, cost)
	} else {
		covariance, _ = near.covariance()
	}
	if covariance == nil {
		return x, nil, false
	}
	known := len(p.beliefs)
	for _, sd := range p.readSD {
		if sd > 0 {
			known++
		}
	}
	freedom := known - n
	return x, covariance, freedom <= 0 || cost <= fitLimit[min(freedom, len(fitLimit)-1)]
}

// covariance is that of the unknowns, and the logarithm of the determinant of its
// inverse; nil when the equations leave one of them open.
func (e *equations) covariance() (c *mat.SymDense, logDet float64) {
	n := e.n
	h := e.h
	root, ok := lapack64.Potrf(blas64.Symmetric{N: n, Stride: n, Uplo: blas.Upper, Data: h[:n*n]})
	if !ok {
		return nil, 0
	}
	for i := range n {
		logDet += 2 * math.Log(h[i*n+i])
	}
	if _, ok := lapack64.Potri(root); !ok {
		return nil, 0
	}
	return mat.NewSymDense(n, append([]float64(nil), h[:n*n]...)), logDet
}

// Where on the face overTheFace tries a strike, m to either side of the middle: as
// far as golfers strike it, twice the spread of one ball and more, since what lies
// beyond the last place is taken for impossible. A sum over places a standard
// deviation apart is as good as an integral of anything near a normal curve.
const (
	strikeStep  = 12 * analysis.Millimetre
	strikeSteps = 2
)

// overTheFace puts the strike at one place across the face after the other,
// solves for the rest there, and weighs the answers by their probability. How
// much ball speed was lost says how far off the middle a ball was struck and
// not to which side, so the probability has two peaks or a flat top, and an
// answer made linear at one place would be far too sure of itself.
func (p *problem) overTheFace(x unknowns, best float64) (mean unknowns, covariance *mat.SymDense) {
	q := *p
	q.rough, q.best = true, best
	q.free = make([]int, 0, len(p.free)-1)
	for _, k := range p.free {
		if k != toe {
			q.free = append(q.free, k)
		}
	}
	for i := range q.at {
		q.at[i] = -1
	}
	for i, k := range q.free {
		q.at[k] = i
	}
	answers := make([]answer, 0, 2*strikeSteps+1)
	try := func(start unknowns, at float64) unknowns {
		start[toe] = at
		y, cost, near := q.search(start)
		a := answer{x: y, cost: cost}
		a.covariance, a.logDet = near.covariance()
		answers = append(answers, a)
		return y
	}
	middle := try(x, 0)
	for _, side := range [...]float64{1, -1} {
		last, start := middle, middle
		for k := 1; k <= strikeSteps; k++ {
			y := try(start, side*float64(k)*strikeStep)
			for i := range start { // on from here as it went so far
				start[i] = 2*y[i] - last[i]
			}
			last = y
		}
	}
	for i := range answers {
		a := &answers[i]
		if a.covariance == nil {
			return x, nil
		}
		a.weight = math.Exp(-(a.cost-best)/2 - a.logDet/2) // height times volume (Laplace)
	}
	return p.mixture(&q, answers)
}

// mixture is the mean of answers to q, which leaves some of p's unknowns fixed,
// and the covariance about it: within each answer, and between them.
func (p *problem) mixture(q *problem, answers []answer) (x unknowns, covariance *mat.SymDense) {
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
	covariance = mat.NewSymDense(len(p.free), nil)
	for _, a := range answers {
		w := a.weight / total
		for i, k := range p.free {
			for j := i; j < len(p.free); j++ {
				l := p.free[j]
				c := (a.x[k] - x[k]) * (a.x[l] - x[l])
				if qi, qj := q.at[k], q.at[l]; qi >= 0 && qj >= 0 {
					c += a.covariance.At(qi, qj)
				}
				covariance.SetSym(i, j, covariance.At(i, j)+w*c)
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
	step := blas64.General{Rows: n, Cols: 1, Stride: 1, Data: make([]float64, n)}
	along := func(t float64) (y unknowns, cost float64, off readings) {
		y = x
		for i, k := range p.free {
			y[k] -= t * step.Data[i]
		}
		cost, off = p.cost(&y)
		return y, cost, off
	}
	cost, off := p.cost(&x)
	damping := 1e-4
	e := p.linear(&x, off)
	for range 60 {
		damped := e
		for i := range n {
			damped.h[i*n+i] *= 1 + damping
		}
		// Without the condition that a mat.Cholesky would estimate each time.
		root, ok := lapack64.Potrf(blas64.Symmetric{N: n, Stride: n, Uplo: blas.Upper, Data: damped.h[:n*n]})
		if !ok {
			damping = max(1e-4, damping*10)
			continue
		}
		copy(step.Data, e.g[:n])
		lapack64.Potrs(root, step)
		gain := 0.0
		for i := range step.Data {
			gain += step.Data[i] * e.g[i]
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
