package cause

import (
	"math"
	"math/rand/v2"

	"gonum.org/v1/gonum/mat"
	gonum "gonum.org/v1/gonum/stat"

	"rangepost/analysis"
	"rangepost/analysis/ball"
	"rangepost/analysis/impact"
	"rangepost/analysis/stat"
)

// calibration is what the balls themselves say of the model: how far off it
// most probably is, in standard deviations of its sources, and how sure that
// is. Without anything to go by it is the published middle with all of its
// doubt.
//
// A ball of which launch and carry were measured tells how much drag it met, and
// one whose apex or time in the air was how much lift, whether it was the ball, the
// air or the sources that differ; where face, path and start line were, whose the
// start is.
//
// Time tells best. What holds a ball up for longer is what bends it sideways: a
// hundredth more time is three hundredths more of what a degree of axis moves an iron,
// and two and a half of a driver, whether lift, drag or a head wind made it [C].
type calibration struct {
	off  ball.Doubt
	root [ball.NumDoubts][ball.NumDoubts]float64 // lower triangle of the covariance left
}

// How far the carry, apex and time of a middle ball may be off a right model, as
// fractions (our choice): a device's own error, and wind nobody wrote down. Where
// the launch was not measured, what the delivery leaves open of it as well. Once the
// time is right, what a degree of axis is worth in any published flight is within a
// few hundredths (TestTimeTellsWhatAnAxisIsWorth).
const (
	carryError, apexError, timeError                = 0.02, 0.05, 0.01
	carryUnlaunched, apexUnlaunched, timeUnlaunched = 0.06, 0.15, 0.07
)

// bendError is the same of what a degree of axis is worth, startError of where the
// mean ball starts, rad (our choice), and numTold is how many things the balls tell.
const (
	bendError  = 0.04
	startError = 0.15 * analysis.Degree
	numTold    = 5
)

// seenFlight is what was measured of the flights, as means over the balls, 0
// where it was not.
type seenFlight struct {
	carry, apex, time       float64
	carrySE, apexSE, timeSE float64 // as fractions

	// bend is what a radian of spin axis moves the carry sideways, m, over the
	// balls whose start line, axis and finish were measured, as far to either side
	// as bendOver.
	bend, bendSE float64 // the error as a fraction
	bendOver     float64 // rad

	// startSE is how far the mean start line may be off that of the mean face and
	// path in a right model, rad; 0 where one of them was not measured.
	startSE float64
}

// tellOf is what the balls of a set say of the model.
func tellOf(balls []struck, m *ball.Model, seen launchSeen, used []analysis.Shot) calibration {
	if len(balls) == 0 {
		return calibrate(*m, analysis.Delivery{}, ball.Departure{}, seen, seenFlight{})
	}
	typical, own := middle(balls, m)
	flown := flownOf(used)
	if !seen.speed && !seen.clubSpeed {
		flown.carry = 0 // the speed was presumed from it
	}
	carry, apex, time := middleOverMean(balls, typical, own, m)
	flown.carry, flown.apex, flown.time = flown.carry*carry, flown.apex*apex, flown.time*time
	flown.startSE = startOf(balls, typical, m)
	return calibrate(*m, typical, own, seen, flown)
}

// middleOverMean is carry, apex and time of the middle ball over the means of all, each
// flown for itself: more than 1, as a ball with its axis to one side flies lower.
func middleOverMean(balls []struck, typical analysis.Delivery, own ball.Departure, m *ball.Model) (carry, apex, time float64) {
	for _, b := range balls {
		l := m.Land(b.delivery, b.own)
		carry += l.Carry / float64(len(balls))
		apex += l.Apex / float64(len(balls))
		time += l.Time / float64(len(balls))
	}
	middle := m.Land(typical, own)
	return ratio(middle.Carry, carry), ratio(middle.Apex, apex), ratio(middle.Time, time)
}

// calibrate finds the most probable place of the model by Gauss-Newton steps
// from the published middle: the sum of squares of what it is off by, in
// standard deviations, and of what it leaves of carry and apex.
func calibrate(m ball.Model, d analysis.Delivery, own ball.Departure, seen launchSeen, flown seenFlight) calibration {
	var c calibration
	for i := range c.root {
		c.root[i][i] = 1
	}
	launched := m.Launch(d, own)
	misses := func(off ball.Doubt) (left [numTold]float64) {
		at := m.Off(off)
		l := at.Land(d, seen.keep(launched, at.Head.Strike(d), own))
		carryError, apexError, timeError := carryError, apexError, timeError
		if !seen.speed || !seen.angle {
			carryError, apexError, timeError = carryUnlaunched, apexUnlaunched, timeUnlaunched
		}
		if flown.carry > 0 {
			left[0] = math.Log(l.Carry/flown.carry) / math.Hypot(carryError, flown.carrySE)
		}
		if flown.apex > 0 {
			left[1] = math.Log(l.Apex/flown.apex) / math.Hypot(apexError, flown.apexSE)
		}
		if flown.bend > 0 {
			more, less := launched, launched
			more.Axis += flown.bendOver
			less.Axis -= flown.bendOver
			bend := (at.Flight.Fly(more).Lateral - at.Flight.Fly(less).Lateral) / (2 * flown.bendOver)
			left[2] = math.Log(bend/flown.bend) / math.Hypot(bendError, flown.bendSE)
		}
		if flown.startSE > 0 {
			left[3] = (at.Head.Strike(d).Direction - launched.Direction) / math.Hypot(startError, flown.startSE)
		}
		if flown.time > 0 {
			left[4] = math.Log(l.Time/flown.time) / math.Hypot(timeError, flown.timeSE)
		}
		return left
	}
	if flown == (seenFlight{}) {
		return c
	}
	const n = ball.NumDoubts
	off := c.off
	h, g, step := mat.NewSymDense(n, nil), mat.NewVecDense(n, nil), mat.NewVecDense(n, nil)
	var chol mat.Cholesky
	for range calibrationSteps {
		base := misses(off)
		var slope [numTold][n]float64
		for k := range off {
			const by = 0.25
			moved := off
			moved[k] += by
			for j, v := range misses(moved) {
				slope[j][k] = (v - base[j]) / by
			}
		}
		for i := range n {
			sum := off[i]
			for j := range base {
				sum += slope[j][i] * base[j]
			}
			g.SetVec(i, sum)
			for k := i; k < n; k++ {
				v := 0.0
				if i == k {
					v = 1
				}
				for j := range slope {
					v += slope[j][i] * slope[j][k]
				}
				h.SetSym(i, k, v)
			}
		}
		if !chol.Factorize(h) || chol.SolveVecTo(step, g) != nil {
			return c // numbers no ball has
		}
		for i := range off {
			off[i] = max(-furthestOff, min(furthestOff, off[i]-step.AtVec(i)))
		}
	}
	var left mat.SymDense
	if chol.InverseTo(&left) != nil {
		return c
	}
	var cov [n][n]float64
	for i := range n {
		if math.IsNaN(off[i]) {
			return c
		}
		for k := range n {
			cov[i][k] = left.At(i, k)
		}
	}
	c.off, c.root = off, lower(cov)
	return c
}

// The steps of calibrate, after which nothing moves any more, and how far from
// the published middle it lets the model go, standard deviations.
const (
	calibrationSteps = 3
	furthestOff      = 4
)

// lower is the root of a covariance that is not singular.
func lower(cov [ball.NumDoubts][ball.NumDoubts]float64) (root [ball.NumDoubts][ball.NumDoubts]float64) {
	for i := range cov {
		for j := range i + 1 {
			left := cov[i][j]
			for k := range j {
				left -= root[i][k] * root[j][k]
			}
			if i == j {
				root[i][i] = math.Sqrt(max(0, left))
			} else if root[j][j] > 0 {
				root[i][j] = left / root[j][j]
			}
		}
	}
	return root
}

// draw is how far off the model may be as well.
func (c *calibration) draw(rng *rand.Rand) ball.Doubt {
	var z ball.Doubt
	for i := range z {
		z[i] = rng.NormFloat64()
	}
	off := c.off
	for i := range off {
		for j := range i + 1 {
			off[i] += c.root[i][j] * z[j]
		}
	}
	return off
}

// flownOf is what was measured of the flights of the used balls.
func flownOf(used []analysis.Shot) (f seenFlight) {
	of := func(n analysis.Number) (centre, se float64) {
		var values []float64
		for _, s := range used {
			if v, _ := s.Value(n); s.Measured(n) && v > 0 {
				values = append(values, v)
			}
		}
		if len(values) == 0 {
			return 0, 0
		}
		centre = mean(values)
		if len(values) > 1 {
			se = math.Sqrt(variance(values)/float64(len(values))) / centre
		}
		return centre, se
	}
	f.carry, f.carrySE = of(analysis.Carry)
	f.apex, f.apexSE = of(analysis.Apex)
	f.time, f.timeSE = of(analysis.FlightTime)
	f.bend, f.bendSE, f.bendOver = bendOf(used)
	return f
}

// startOf is how far the mean start line of balls may be off that of their mean
// face and path, in a right model: by what the balls vary, and by where on a rounded
// face a golfer strikes them when that was not measured. 0 where start line, face or
// path of any was not measured.
func startOf(balls []struck, typical analysis.Delivery, m *ball.Model) (se float64) {
	off := make([]float64, len(balls))
	placed := true
	for i, b := range balls {
		if !b.started || b.inference != nil {
			return 0
		}
		off[i] = b.own.Direction
		placed = placed && b.placed
	}
	if len(off) < leastBalls {
		return 0
	}
	se = math.Sqrt(variance(off) / float64(len(off)))
	if !placed {
		toe := typical
		toe.StrikeToe += usualStrike
		se = math.Hypot(se, m.Head.Strike(toe).Direction-m.Head.Strike(typical).Direction)
	}
	return se
}

// bendOf is what a radian of spin axis moves the carry sideways, by the slopes
// of the lateral over start line and axis. The noise of a device makes such a
// slope too small, and taking a noise off that it does not have too large
// (Fuller 1987, Measurement Error Models, 1.4 and 2.2: the moments less those of
// the errors). How noisy this one is nobody knows: the answer lies between none
// and the usual, as unsure as the two are apart. 0 where the balls do not tell
// it: too few, an axis that hardly varies beyond its noise, or a slope the wrong
// way. A slope over balls whose axes spread is less than that of the middle one; of
// axes spread normally it is as much as over the root of three standard deviations to
// either side, to the third order [C].
func bendOf(used []analysis.Shot) (bend, se, over float64) {
	var y, start, axis []float64
	for _, s := range used {
		if !s.Measured(analysis.Lateral) || !s.Measured(analysis.Direction) || !s.Measured(analysis.SpinAxis) {
			continue
		}
		v, _ := s.Value(analysis.Lateral)
		d, _ := s.Value(analysis.Direction)
		a, _ := s.Value(analysis.SpinAxis)
		y, start, axis = append(y, v), append(start, d), append(axis, a)
	}
	y, start, axis = amid(y, start, axis)
	const least = 8
	if len(y) < least {
		return 0, 0, 0
	}
	m := momentsOf(y, start, axis)
	noise := impact.TypicalNoise()
	quiet := m
	quiet.dd -= noise.Direction * noise.Direction
	quiet.aa -= noise.Axis * noise.Axis
	low, seen, ok := m.onAxis()
	high, _, okQuiet := quiet.onAxis()
	if !ok || !okQuiet || quiet.aa < m.aa/2 {
		return 0, 0, 0
	}
	return math.Sqrt(low * high), math.Hypot(seen, math.Log(high/low)), math.Sqrt(3 * quiet.aa)
}

// amid leaves out the balls whose axis is far from the others': so far over, the
// slope is no longer one number. They are chosen by the axis and not by where
// they finished, which would bias it.
func amid(y, start, axis []float64) (ys, starts, axes []float64) {
	const farthest = 3
	z, ok := stat.Hampel(axis)
	if !ok {
		return y, start, axis
	}
	for i := range y {
		if math.Abs(z[i]) <= farthest {
			ys, starts, axes = append(ys, y[i]), append(starts, start[i]), append(axes, axis[i])
		}
	}
	return ys, starts, axes
}

// moments are the variances and covariances of start line d, axis a and lateral
// y over n balls.
type moments struct{ dd, aa, da, dy, ay, yy, n float64 }

func momentsOf(y, start, axis []float64) moments {
	return moments{
		dd: variance(start), aa: variance(axis), da: covariance(start, axis),
		dy: covariance(start, y), ay: covariance(axis, y), yy: variance(y), n: float64(len(y)),
	}
}

// slopes are those of the lateral over start line and axis together, and the
// variance they leave; not ok where the two vary as one.
func (m moments) slopes() (onStart, onAxis, left float64, ok bool) {
	det := m.dd*m.aa - m.da*m.da
	if !(m.dd > 0 && m.aa > 0 && det > 0.1*m.dd*m.aa) {
		return 0, 0, 0, false
	}
	onStart, onAxis = (m.dy*m.aa-m.ay*m.da)/det, (m.ay*m.dd-m.dy*m.da)/det
	return onStart, onAxis, max(0, m.yy-onStart*m.dy-onAxis*m.ay), true
}

// onAxis is the slope of the lateral over the axis at one start line, and its
// standard error as a fraction.
func (m moments) onAxis() (slope, se float64, ok bool) {
	_, slope, left, ok := m.slopes()
	if !ok {
		return 0, 0, false
	}
	det := m.dd*m.aa - m.da*m.da
	return slope, math.Sqrt(left/(m.n-3)*m.dd/det) / slope, slope > 0
}

func mean(v []float64) float64 { return gonum.Mean(v, nil) }

func variance(v []float64) float64 { return gonum.Variance(v, nil) }

func covariance(a, b []float64) float64 { return gonum.Covariance(a, b, nil) }
