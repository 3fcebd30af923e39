package sessionfile

import (
	"math"

	"rangepost/analysis"
	"rangepost/analysis/impact"
)

// A ballRow is the numbers of one ball as the file has them, SI, NaN where it has
// none. What follows from others by definition is in it only where the file has
// it too.
type ballRow [analysis.NumNumbers]float64

func rowOf(s analysis.Shot) (x ballRow) {
	for _, n := range analysis.Numbers() {
		x[n] = math.NaN()
		if v, ok := s.Value(n); ok {
			x[n] = v
		}
	}
	return x
}

func (x *ballRow) has(ns ...analysis.Number) bool {
	for _, n := range ns {
		if math.IsNaN(x[n]) {
			return false
		}
	}
	return true
}

// A law is something that ties the numbers of one ball together.
type law int

// The laws: what the flight does with a launch, what the club does to the ball,
// and what numbers are by definition.
const (
	carryLaw law = iota
	apexLaw
	timeLaw
	descentLaw
	finishLaw // the ball comes down where start line and curve lead
	speedLaw
	launchLaw
	spinLaw
	startLaw // the ball starts between face and path
	axisLaw  // the axis follows face-to-path
	faceToPathLaw
	smashLaw
	spinLoftLaw

	numLaws = int(iota)
)

// ofStrike are the laws that hold for a ball struck off the middle only as far
// as the strike is known.
func (l law) ofStrike() bool { return l >= speedLaw && l <= axisLaw }

// ofFlight are the laws that need the ball flown.
func (l law) ofFlight() bool { return l <= finishLaw }

// lawNumbers are the numbers a law is about; which of them are there decides whether it
// can be held against a ball.
var lawNumbers = [numLaws][]analysis.Number{
	carryLaw:      {analysis.Carry, analysis.BallSpeed, analysis.LaunchAngle, analysis.Spin},
	apexLaw:       {analysis.Apex, analysis.BallSpeed, analysis.LaunchAngle, analysis.Spin},
	timeLaw:       {analysis.FlightTime, analysis.BallSpeed, analysis.LaunchAngle, analysis.Spin},
	descentLaw:    {analysis.Descent, analysis.BallSpeed, analysis.LaunchAngle, analysis.Spin},
	finishLaw:     {analysis.Lateral, analysis.Carry, analysis.Direction, analysis.SpinAxis, analysis.Spin},
	speedLaw:      {analysis.BallSpeed, analysis.ClubSpeed},
	launchLaw:     {analysis.LaunchAngle, analysis.DynamicLoft, analysis.Attack},
	spinLaw:       {analysis.Spin, analysis.DynamicLoft, analysis.Attack, analysis.ClubSpeed},
	startLaw:      {analysis.Direction, analysis.Face, analysis.Path},
	axisLaw:       {analysis.SpinAxis, analysis.Face, analysis.Path},
	faceToPathLaw: {analysis.FaceToPath, analysis.Face, analysis.Path},
	smashLaw:      {analysis.Smash, analysis.BallSpeed, analysis.ClubSpeed},
	spinLoftLaw:   {analysis.SpinLoft, analysis.DynamicLoft, analysis.Attack},
}

// misses are by how much a ball misses each law: logarithms of ratios of lengths,
// speeds, times and spins, and differences of angles in rad. NaN where it lacks a
// number.
type misses struct {
	by [numLaws]float64

	// far is what the law hangs on, against which the ball is held: the flight's
	// length for the carry, face-to-path for the start line. A device that
	// reads or a model that makes a tenth too much of it misses by a tenth of it.
	far [numLaws]float64

	// other is the same by other numbers of the ball, where there are any.
	other [numLaws]float64

	// slack and lean are how far apart the two things are that carry can mean:
	// of its logarithm, and of the angle to where the ball came down.
	slack, lean float64
	x           ballRow // with what follows by definition
}

func (m *misses) set(k law, by, far float64) { m.by[k], m.far[k] = by, far }

// physics is what the laws are reckoned with.
type physics struct {
	*sky
	head impact.Head
	club analysis.Club

	// What stands for the loft and attack that a ball lacks, in rad, and for the
	// smash factor: those usual of the others. The club's own loft is another by
	// ten degrees, and would make the speeds look wrong for an empty cell beside
	// them.
	loft, attack, smash float64
}

func physicsOf(c analysis.Club, hand analysis.Hand, sky *sky) *physics {
	head := impact.HeadOf(c)
	head.Hand = hand
	p := &physics{sky: sky, head: head, club: c, loft: 25 * degree, smash: 1.35}
	if v, ok := c.Loft(); ok {
		p.loft = v
	}
	return p
}

// deliver sets what stands for numbers a ball lacks from the usual ball, where
// it has them.
func (p *physics) deliver(usual *ballRow) {
	if usual.has(analysis.DynamicLoft) {
		p.loft = usual[analysis.DynamicLoft]
	}
	if smash := usual[analysis.BallSpeed] / usual[analysis.ClubSpeed]; smash > 0 {
		p.smash = smash
	}
	p.attack = orZero(usual[analysis.Attack])
}

// complete is the row with what follows by definition where the file lacks it.
func (x ballRow) complete() ballRow {
	const f, p, t = analysis.Face, analysis.Path, analysis.FaceToPath
	switch {
	case math.IsNaN(x[f]):
		x[f] = x[t] + x[p]
	case math.IsNaN(x[p]):
		x[p] = x[f] - x[t]
	}
	const b, c, s = analysis.BallSpeed, analysis.ClubSpeed, analysis.Smash
	switch {
	case math.IsNaN(x[b]):
		x[b] = x[s] * x[c]
	case math.IsNaN(x[c]):
		x[c] = x[b] / x[s]
	}
	return x
}

// of is how a row misses the laws.
func (p *physics) of(read ballRow) misses { return p.miss(read, true) }

// miss is of, without the laws of the flight where it is not to be flown.
func (p *physics) miss(read ballRow, fly bool) (m misses) {
	x := read.complete()
	m.x = x
	for k := range m.by {
		m.by[k], m.other[k] = math.NaN(), math.NaN()
	}
	if fly {
		p.flown(&x, &m)
	}
	p.struck(&x, &m)
	m.set(faceToPathLaw, x[analysis.FaceToPath]-(x[analysis.Face]-x[analysis.Path]), 0)
	m.set(smashLaw, math.Log(x[analysis.Smash]*x[analysis.ClubSpeed]/x[analysis.BallSpeed]), 0)
	if read.has(analysis.SpinLoft) {
		d := analysis.Delivery{DynamicLoft: x[analysis.DynamicLoft], Attack: x[analysis.Attack]}
		if x.has(analysis.Face, analysis.Path) {
			d.Face, d.Path = x[analysis.Face], x[analysis.Path]
		}
		m.set(spinLoftLaw, x[analysis.SpinLoft]-impact.SpinLoft(d), 0)
	}
	for k := range m.by {
		if math.IsInf(m.by[k], 0) {
			m.by[k] = math.NaN()
		}
	}
	return m
}

// flown is the ball against the flight of its launch.
func (p *physics) flown(x *ballRow, m *misses) {
	axis := x[analysis.SpinAxis]
	if math.IsNaN(axis) {
		axis = 0
	}
	l := analysis.Launch{Speed: x[analysis.BallSpeed], Angle: x[analysis.LaunchAngle], Spin: x[analysis.Spin], Axis: axis}
	if !flyable(l) {
		return
	}
	to := p.fly(l)
	far := math.Hypot(to.Carry, to.Lateral)
	// Some give the carry along the target line, some the way from tee to
	// pitch. It is held against the middle, and both are within reach.
	m.slack = 0.5 * math.Log(math.Hypot(1, orZero(x[analysis.Lateral])/x[analysis.Carry]))
	m.set(carryLaw, math.Log(x[analysis.Carry]/far)+m.slack, math.Log(far))
	m.set(apexLaw, math.Log(x[analysis.Apex]/to.Apex), math.Log(to.Apex))
	m.set(timeLaw, math.Log(x[analysis.FlightTime]/to.Time), math.Log(to.Time))
	m.set(descentLaw, x[analysis.Descent]-to.Descent, to.Descent)
	if x.has(analysis.SpinAxis) && x[analysis.Carry] > 15 {
		turn := math.Atan2(to.Lateral, to.Carry)
		side := x[analysis.Lateral] / x[analysis.Carry]
		along, whole := math.Atan(side), math.Asin(max(-1, min(1, side)))
		m.lean = (whole - along) / 2
		turned := along + m.lean - x[analysis.Direction]
		m.set(finishLaw, turned-turn, turn)
		m.other[finishLaw] = turned
	}
}

// struck is the ball against what the delivery makes of it, struck where that was
// measured, else in the middle of the face. Where club speed was not measured it is taken from the ball's,
// which only the spin then hangs on; loft likewise from the other balls, or the club.
func (p *physics) struck(x *ballRow, m *misses) {
	d := analysis.Delivery{
		ClubSpeed: x[analysis.ClubSpeed], Attack: x[analysis.Attack], DynamicLoft: x[analysis.DynamicLoft],
		Face: x[analysis.Face], Path: x[analysis.Path],
		StrikeToe: orZero(x[analysis.StrikeToe]), StrikeUp: orZero(x[analysis.StrikeUp]),
	}
	speedy, lofty, faced := d.ClubSpeed > 5, x.has(analysis.DynamicLoft, analysis.Attack), x.has(analysis.Face, analysis.Path)
	if !speedy {
		d.ClubSpeed = x[analysis.BallSpeed] / p.smash
	}
	if !(d.ClubSpeed > 5) {
		d.ClubSpeed = 38
	}
	if math.IsNaN(d.Attack) {
		d.Attack = p.attack
	}
	if math.IsNaN(d.DynamicLoft) {
		d.DynamicLoft = p.loft
	}
	if !faced {
		d.Face, d.Path = 0, 0
	}
	l := p.head.Strike(d)
	if l.Speed <= 0 || l.Spin <= 0 {
		return
	}
	if speedy {
		m.set(speedLaw, math.Log(x[analysis.BallSpeed]/l.Speed), 0)
	}
	if lofty {
		m.set(launchLaw, x[analysis.LaunchAngle]-l.Angle, 0)
		m.set(spinLaw, math.Log(x[analysis.Spin]/l.Spin), 0)
	}
	if faced {
		m.set(startLaw, x[analysis.Direction]-l.Direction, d.Face-d.Path)
		m.set(axisLaw, x[analysis.SpinAxis]-l.Axis, l.Axis)
		m.other[axisLaw] = x[analysis.SpinAxis]
		m.other[startLaw] = math.Atan(math.Tan(x[analysis.SpinAxis]) * math.Tan(max(d.DynamicLoft-d.Attack, 5*degree)))
	}
}

// flyable reports whether the flight model gives a launch a flight worth
// comparing. It is wider than sane: a misread is to be flown too.
func flyable(l analysis.Launch) bool {
	return l.Speed > 12 && l.Speed < 140 && l.Angle > 2*degree && l.Angle < 75*degree &&
		l.Spin > 0 && l.Spin < 60000*analysis.RevPerMinute && math.Abs(l.Axis) < 85*degree
}

func orZero(v float64) float64 {
	if math.IsNaN(v) {
		return 0
	}
	return v
}
