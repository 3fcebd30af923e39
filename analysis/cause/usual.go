package cause

import (
	"math"
	"math/rand/v2"
	"slices"

	"gonum.org/v1/gonum/floats"

	"rangepost/analysis"
	"rangepost/analysis/ball"
	"rangepost/analysis/pattern"
	"rangepost/analysis/stat"
)

// flier is what a ball's carry is made of: club speed (m/s), smash factor,
// launch angle (rad), spin (rad/s), and what the air and the ball itself did
// (m), which is what the model of still air does not say.
type flier struct{ carry, speed, smash, launch, spin, air float64 }

func (f flier) launched() analysis.Launch {
	return analysis.Launch{Speed: f.speed * f.smash, Angle: f.launch, Spin: f.spin}
}

func (f *flier) each() [6]*float64 {
	return [6]*float64{&f.carry, &f.speed, &f.smash, &f.launch, &f.spin, &f.air}
}

// numbers are those that have an owner, in the owners' order.
func (f flier) numbers() [byAir]float64 {
	return [byAir]float64{bySpeed: f.speed, byStrike: f.smash, byLoft: f.launch, bySpin: f.spin}
}

func (f flier) between(g flier) flier {
	for i, v := range g.each() {
		*f.each()[i] = (*f.each()[i] + *v) / 2
	}
	return f
}

func (f flier) less(g flier) flier {
	for i, v := range g.each() {
		*f.each()[i] -= *v
	}
	return f
}

// fliersOf lists the balls whose carry can be owned up to: those with a carry and
// a speed of club or ball. What was not measured of a launch is the model's for
// the delivery.
func fliersOf(used []analysis.Shot, m *ball.Model) (fliers []flier) {
	speedOf, loft := carrySpeeds(m), middleLoft(used, m.Head)
	launch := m.Head.Strike(loft).Angle
	for _, s := range used {
		s = s.Derived()
		carry, ok := s.Value(analysis.Carry)
		if !ok || !s.Has(analysis.ClubSpeed) && !s.Has(analysis.BallSpeed) {
			continue
		}
		d, ok := presumed(s, m.Head, speedOf, loft, launch)
		if !ok || !struckable(d) {
			continue
		}
		l := m.Launch(d, m.Departure(d, s))
		fliers = append(fliers, flier{carry, d.ClubSpeed, l.Speed / d.ClubSpeed, l.Angle, l.Spin, carry - m.Flight.Fly(l).Carry})
	}
	return fliers
}

func meanOf(fliers []flier) (m flier) {
	for _, f := range fliers {
		for i, v := range f.each() {
			*m.each()[i] += *v / float64(len(fliers))
		}
	}
	return m
}

// A Usual is how a golfer usually strikes and flies one club, over sessions.
type Usual struct {
	Sessions int
	days     []flier
	said     Said // what was said of each day's air and ball, in the mean
	clubless bool // no club speed on some day
	named    bool // the ball was said, on every day
}

// UsualOf is a golfer's usual with a club in earlier sessions; ok is false when
// none of them has what a carry is made of. Each session counts once, however
// many balls it has, and all are flown in the same still air: what each day's own
// air did is part of its usual.
func UsualOf(sessions []analysis.Session, club analysis.Club, c Config) (u Usual, ok bool) {
	m := ModelOf(club, Config{Hand: c.Hand})
	u.named = true
	var all Said
	for _, s := range sessions {
		var fliers []flier
		clubless := false
		for _, set := range s.Sets() {
			if set.Club == club {
				used := pattern.Mishits(set).Used()
				fliers = append(fliers, fliersOf(used, &m)...)
				clubless = clubless || lacksClub(used)
			}
		}
		if len(fliers) >= leastBalls {
			day := meanOf(fliers)
			its, _ := said(day, club, s.Ball, c.Hand, s.Conditions)
			all.Wind, all.Air, all.Ball = all.Wind+its.Wind, all.Air+its.Air, all.Ball+its.Ball
			u.days = append(u.days, day)
			u.clubless = u.clubless || clubless
			u.named = u.named && isSaid(s.Ball)
		}
	}
	if u.Sessions = len(u.days); u.Sessions > 0 {
		n := float64(u.Sessions)
		u.said = Said{all.Wind / n, all.Air / n, all.Ball / n}
	}
	return u, u.Sessions > 0
}

// in is the same days with what air and ball did taken from another model.
func (u *Usual) in(was, m *ball.Model) *Usual {
	is := *u
	is.days = slices.Clone(u.days)
	for i, day := range is.days {
		is.days[i].air += was.Flight.Fly(day.launched()).Carry - m.Flight.Fly(day.launched()).Carry
	}
	return &is
}

// lacksClub reports whether any of the balls has a speed and no club speed.
func lacksClub(used []analysis.Shot) bool {
	return slices.ContainsFunc(used, func(s analysis.Shot) bool {
		s = s.Derived()
		return s.Has(analysis.BallSpeed) && !s.Has(analysis.ClubSpeed)
	})
}

func (u *Usual) sessions() int {
	if u == nil {
		return 0
	}
	return u.Sessions
}

// A reference is what balls are set against.
type reference struct {
	flier
	sessions int     // 0 when it comes from the set itself
	days     []flier // the mean of each session
	clubless bool    // club speed is not known here or there: it is the ball's over a usual smash
	off      [][numParts]float64
	kinds    [byAir]kinds   // of swing, of what a reference of the set itself is the better of two
	told     [numParts]bool // what a reference of the set itself can tell: what varied in it, and the air
}

// tells reports whether a verdict on a miss of these parts is one that the
// reference can tell: without earlier sessions what is left over may be another
// swing as well as another club, and what is not off in some balls only may be how
// this golfer swings. Of two things it has to tell both.
func (r reference) tells(v DistanceVerdict, parts [numParts]float64) bool {
	if r.sessions > 0 || v == DistanceCentred {
		return true
	}
	miss := floats.Sum(parts[:])
	count := 0
	for i, told := range r.told {
		switch {
		case told && owners[i] == v:
			return true
		case told && parts[i]/miss >= aShare:
			count++
		}
	}
	return v == DistanceTwo && count > 1
}

// usualDay is what a golfer's day differs from the next by, a standard deviation
// each: 1.5 % of speed and smash, 0.8 degrees, 5 % of spin, 2.5 % of carry (our
// choice).
func usualDay(at flier) flier {
	return flier{0, 0.015 * at.speed, 0.015 * at.smash, 0.8 * analysis.Degree, 0.05 * at.spin, usualCarry * at.carry}
}

const usualCarry = 0.025

// dayWeight is how many days what is usual for any golfer's days is worth
// against this golfer's own (our choice).
const dayWeight = 2

// draw draws how far the mean of the days may be from the golfer's usual, m each:
// as unsure as the days differ from each other, and together as they differ
// together, with what is usual for the few they are (a covariance under its
// conjugate prior: Gelman et al., Bayesian Data Analysis, 3.6 [M]).
func (r reference) draw(rng *rand.Rand, day [byClub]float64) (v [byClub]float64) {
	df := float64(dayWeight + len(r.off) - 1)
	scale := 1 / math.Sqrt(df*float64(r.sessions))
	for i := range v {
		v[i] = scale * math.Sqrt(dayWeight) * day[i] * rng.NormFloat64()
	}
	for _, off := range r.off {
		z := scale * rng.NormFloat64()
		for i := range v {
			v[i] += z * off[i]
		}
	}
	return v
}

// reference is the golfer's usual, or, without one, what the set itself tells.
func (u *Usual) reference(fliers []flier, clubless bool, target float64, m *ball.Model) reference {
	if u != nil {
		return reference{flier: meanOf(u.days), sessions: u.Sessions, days: u.days, clubless: u.clubless || clubless}
	}
	mean := meanOf(fliers)
	r := mean
	r.air = 0 // the model's own still air
	s := slopesAt(r, m)
	speed := func(f flier) float64 { return f.speed }
	strike := func(f flier) float64 { return f.smash - s.smashByLaunch*f.launch }
	if clubless { // of a usual smash whatever the loft, so that the speed has what loft takes of it
		speed = func(f flier) float64 { return f.speed * f.smash / (f.smash + s.smashByLaunch*(f.launch-r.launch)) }
		strike = func(f flier) float64 { return f.smash }
	}
	// What varies more than one golfer's swing does is two swings, and the one
	// that carries nearer the target is what was meant. Smash and spin do so where
	// they vary as much beyond what comes with loft, and go with it; the speed of a ball
	// alone does beyond what its loft takes, so that loft comes first.
	told := [numParts]bool{byAir: true}
	var kind [byAir]kinds
	for _, x := range []struct {
		owner  int
		number func(f *flier) *float64
		beyond func(f flier) float64
		widest func(mean float64) float64
	}{
		{byLoft, func(f *flier) *float64 { return &f.launch }, func(f flier) float64 { return f.launch }, func(float64) float64 { return 2.6 * analysis.Degree }},
		{bySpeed, func(f *flier) *float64 { return &f.speed }, speed, func(v float64) float64 { return 0.045 * v }},
		{byStrike, func(f *flier) *float64 { return &f.smash }, strike, func(v float64) float64 { return 0.045 * v }},
		{bySpin, func(f *flier) *float64 { return &f.spin }, func(f flier) float64 { return f.spin - s.spinByLaunch*f.launch }, func(v float64) float64 { return 0.2 * v }},
	} {
		varies := func(of func(f flier) float64) float64 {
			values := make([]float64, len(fliers))
			for i, f := range fliers {
				values[i] = of(f)
			}
			return math.Sqrt(stat.SampleOf(values).Variance) / x.widest(*x.number(&mean))
		}
		meant := x.beyond(mean)
		if wide := min(varies(x.beyond), varies(func(f flier) float64 { return *x.number(&f) })); wide > 1 {
			this, that := better(fliers, x.beyond, target)
			kind[x.owner] = kinds{other: x.beyond(that) - x.beyond(this), all: meant - x.beyond(this), ofOther: otherMeant(this.carry, that.carry, target)}
			if x.owner == byStrike {
				kind[x.owner].ofAll = oneKind(wide, len(fliers))
			}
			meant, told[x.owner] = x.beyond(this), true
		}
		*x.number(&r) += meant - x.beyond(r)
	}
	return reference{flier: r, told: told, clubless: clubless, kinds: kind}
}

// slopes are what one more unit of each is worth in carry at a ball, m, and what
// comes with loft and speed: smash and spin a rad of launch angle, spin a m/s.
type slopes struct {
	speed, smash, loft, spin                 float64
	smashByLaunch, spinByLaunch, spinBySpeed float64
}

// slopesAt takes them by central differences: of the flight at the ball's own
// launch, of the strike at the usual delivery that launches as high.
func slopesAt(at flier, m *ball.Model) (s slopes) {
	carry := func(f flier) float64 {
		return m.Flight.Fly(f.launched()).Carry
	}
	by := func(move func(f *flier, step float64), step float64) float64 {
		more, less := at, at
		move(&more, step)
		move(&less, -step)
		return (carry(more) - carry(less)) / (2 * step)
	}
	d := m.Head.Usual.Delivery()
	d.ClubSpeed = at.speed
	d.DynamicLoft += (at.launch - m.Head.Strike(d).Angle) / upShare
	steeper, flatter, faster, slower := d, d, d, d
	steeper.DynamicLoft += analysis.Degree
	flatter.DynamicLoft -= analysis.Degree
	faster.ClubSpeed++
	slower.ClubSpeed--
	high, low := m.Head.Strike(steeper), m.Head.Strike(flatter)
	scale := at.spin / m.Head.Strike(d).Spin // as much as this golfer spins it
	s.smashByLaunch = (high.Speed - low.Speed) / at.speed / (high.Angle - low.Angle)
	s.spinByLaunch = scale * (high.Spin - low.Spin) / (high.Angle - low.Angle)
	s.spinBySpeed = scale * (m.Head.Strike(faster).Spin - m.Head.Strike(slower).Spin) / 2

	s.smash = by(func(f *flier, step float64) { f.smash += step }, 0.01)
	s.spin = by(func(f *flier, step float64) { f.spin += step }, 100*analysis.RevPerMinute)
	s.speed = by(func(f *flier, step float64) { f.speed += step }, 0.5) + s.spin*s.spinBySpeed
	launch := by(func(f *flier, step float64) { f.launch += step }, 0.5*analysis.Degree)
	s.loft = launch + s.smash*s.smashByLaunch + s.spin*s.spinByLaunch
	return s
}

// parts are what a ball owes to each owner, m, against a reference: linear in
// what it differs by, loft with the smash and spin that come with it and speed
// with its spin. Where no club speed was measured the smash is what the loft
// lets expect, and the club as fast as that asks for.
func (s slopes) parts(f flier, r reference) (v [numParts]float64) {
	launch, speed, smash := f.launch-r.launch, f.speed-r.speed, f.smash-r.smash
	if r.clubless {
		smash = s.smashByLaunch * launch
		speed = f.speed*f.smash/(r.smash+smash) - r.speed
	}
	v[bySpeed] = s.speed * speed
	v[byLoft] = s.loft * launch
	v[bySpin] = s.spin * (f.spin - r.spin - s.spinByLaunch*launch - s.spinBySpeed*speed)
	v[byStrike] = s.smash * (smash - s.smashByLaunch*launch)
	v[byAir] = f.air - r.air
	return v
}

// unlofted is a ball without what it starts higher by, and what comes with loft.
func (s slopes) unlofted(f, off flier) flier {
	f.launch -= off.launch
	f.smash -= s.smashByLaunch * off.launch
	f.spin -= s.spinByLaunch * off.launch
	return f
}

// unspun is a ball without what it spins off the reference beyond what comes with
// loft and speed.
func (s slopes) unspun(f, off flier) flier {
	f.spin -= off.spin - s.spinByLaunch*off.launch - s.spinBySpeed*off.speed
	return f
}

// alone is what each is worth by itself, m.
func (s slopes) alone(f flier) [byClub]float64 {
	return [byClub]float64{bySpeed: s.speed * f.speed, byStrike: s.smash * f.smash, byLoft: s.loft * f.launch, bySpin: s.spin * f.spin, byAir: f.air}
}
