package panel

import (
	"math"
	"math/bits"
	"math/rand/v2"

	"rangepost/analysis"
)

// An Owner is what a miss in length is owed to.
type Owner string

// The owners. Air is wind, air and kind of ball together.
const (
	OwnerNone   Owner = "centred"
	OwnerSpeed  Owner = "speed"
	OwnerLoft   Owner = "loft"
	OwnerStrike Owner = "strike"
	OwnerSpin   Owner = "spin"
	OwnerAir    Owner = "air"
	OwnerClub   Owner = "club" // the usual itself is off the target
	OwnerTwo    Owner = "two"  // none of them owns two thirds, two a third
)

// flownOwners are those that balls are flown with and without; their places are
// the bits of a set of them.
var flownOwners = []Owner{OwnerSpeed, OwnerLoft, OwnerStrike, OwnerSpin, OwnerAir}

// A LengthTruth is what a session's length really was. Lengths are carries
// less the target, m, positive long.
type LengthTruth struct {
	Case   LengthCase
	Balls  []Ball
	Off    []bool // whether speed, loft, spin and strike were off in the ball
	Target float64
	Usual  float64 // the golfer's long-run mean carry with nothing off

	// Long run: the mean over the golfer's distribution on this day, and how it
	// is owed: Shapley's value over all that was off, flown by the world. The
	// owners add up to the miss.
	Miss   float64
	Owners map[Owner]float64
	// The same over the session's own balls, whose label is what a judge who knew
	// all of them and nothing of the golfer would say.
	SampleMiss   float64
	SampleOwners map[Owner]float64
	SampleLabel  Owner

	Zero   float64 // practical zero of a miss, m: the larger of 3 yd and 2 % of the usual
	Label  Owner
	Main   []Owner // the owner or two of the label, largest first
	Margin float64 // how far the nearest border to another label is, in shares of what sets it

	// Knowable is whether the file's columns, with the past if there is one, can
	// tell the owner at all. Also are owners that are as right with these columns:
	// without club speed a ball slow off the face is slow, whyever.
	Knowable bool
	Also     []Owner

	Wind Wind
	Told bool // wind and air are stated
}

// A day flies the balls of a length case with any of what was off.
type day struct {
	usual, today hitter
	t            things
	gust         float64
	golfer       golfer
	mean         analysis.Delivery
	hand         analysis.Hand
}

// fly is a ball with the owners in set as they were that day and the rest as
// usual; off is whether the ball is one of those that speed to spin are off in.
func (d day) fly(z draw, off bool, set uint) (analysis.Delivery, analysis.Launch, Flight) {
	in := func(i int) bool { return set&(1<<i) != 0 }
	mean := d.mean
	spin := 1.0
	if off {
		if in(0) {
			mean.ClubSpeed *= d.t.speed
		}
		if in(1) {
			mean.DynamicLoft += d.t.loft
		}
		if in(2) {
			mean.StrikeToe += d.t.toe
			mean.StrikeUp += d.t.up
		}
		if in(3) {
			spin = d.t.spin
		}
	}
	del := d.golfer.deliver(mean, d.hand, z, 1)
	h, wind := d.usual, vec{}
	if in(4) {
		gust := max(-2, min(2, z[drawGust]))
		h, wind = d.today, d.t.wind.toward(1+d.gust*gust)
	}
	l := h.world.meet(h.head, d.hand, del)
	l.Spin *= spin
	return del, l, h.world.fly(l, wind)
}

// active is the owners that were off at all.
func (t things) active() uint {
	var set uint
	for i, off := range []bool{
		t.speed != 1, t.loft != 0, t.toe != 0 || t.up != 0, t.spin != 1,
		t.wind.Speed > 0 || math.Abs(t.density-1) > 1e-9 || t.ball,
	} {
		if off {
			set |= 1 << i
		}
	}
	return set
}

// shapley shares value(active) - value(none) among the owners in active.
func shapley(active uint, value func(set uint) float64) map[Owner]float64 {
	worth := map[uint]float64{}
	for set := active; ; set = (set - 1) & active {
		worth[set] = value(set)
		if set == 0 {
			break
		}
	}
	k := bits.OnesCount(active)
	owners := map[Owner]float64{}
	for i, o := range flownOwners {
		if active&(1<<i) == 0 {
			continue
		}
		for set, v := range worth {
			if set&(1<<i) != 0 {
				continue
			}
			s := bits.OnesCount(set)
			weight := math.Gamma(float64(s+1)) * math.Gamma(float64(k-s)) / math.Gamma(float64(k+1))
			owners[o] += weight * (worth[set|1<<i] - v)
		}
	}
	return owners
}

// day sets up the golfer of the case: the world's, a little faster or slower
// and with a little more loft or less.
func (c LengthCase) day() day {
	rng := c.rng("golfer")
	w := c.World
	around := func(sd float64) float64 { return sd * rng.NormFloat64() }
	d := day{golfer: w.golfer, hand: c.Hand, gust: 0.15, t: c.things(c.rng("things"))}
	d.mean = w.golfer.mean(c.Club)
	d.mean.ClubSpeed *= 1 + 0.04*max(-2, min(2, around(1)))
	d.mean.DynamicLoft += max(-1.4, min(1.4, around(0.7))) * deg
	d.mean.Face, d.mean.Path = around(0.35)*deg, around(0.45)*deg
	d.mean.StrikeToe, d.mean.StrikeUp = around(1.5)*analysis.Millimetre, around(1.5)*analysis.Millimetre
	if c.Kind == InTheMiddle {
		d.mean.StrikeToe, d.mean.StrikeUp = 0, 0
		d.golfer.spread.toe, d.golfer.spread.up = 0.0004, 0.0004
	}
	today := d.t.in(w)
	d.usual = hitter{world: w, head: w.head(c.Club), hand: c.Hand}
	d.today = hitter{world: today, head: today.head(c.Club), hand: c.Hand, wind: d.t.wind}
	return d
}

// longRun is the mean carry over the golfer's distribution with the owners in
// set off.
func (d day) longRun(set uint) float64 {
	all := d.golfer.tail.points()
	sum := 0.0
	for _, z := range all {
		const ofBall = 1<<4 - 1 // the owners that some balls only are off in
		if set&ofBall == 0 || d.t.share < 1 {
			_, _, f := d.fly(z, false, set)
			rest := 1.0
			if set&ofBall != 0 {
				rest = 1 - d.t.share
			}
			sum += rest * f.Carry
		}
		if set&ofBall != 0 {
			_, _, f := d.fly(z, true, set)
			sum += d.t.share * f.Carry
		}
	}
	return sum / float64(len(all))
}

// Play hits the balls and hands over the session, its truth, and the earlier
// sessions of a case with a past.
func (c LengthCase) Play() (today analysis.Session, truth LengthTruth, past []analysis.Session) {
	d := c.day()
	t := LengthTruth{Case: c, Wind: d.t.wind, Told: d.t.told}
	t.Usual = d.longRun(0)
	t.Target = c.target(t.Usual)

	active := d.t.active()
	t.Owners = shapley(active, d.longRun)
	t.Owners[OwnerClub] = t.Usual - t.Target
	for _, v := range t.Owners {
		t.Miss += v
	}
	t.Zero = max(3*analysis.Yard, 0.02*t.Usual)

	zs, off := c.pick(d, t.Target)
	for i, z := range zs {
		del, l, f := d.fly(z, off[i], active)
		t.Balls = append(t.Balls, Ball{Delivery: del, Launch: l, Flight: f})
	}
	t.Off = off
	sample := func(set uint) float64 {
		sum := 0.0
		for i, z := range zs {
			_, _, f := d.fly(z, off[i], set)
			sum += f.Carry
		}
		return sum / float64(len(zs))
	}
	t.SampleOwners = shapley(active, sample)
	t.SampleOwners[OwnerClub] = sample(0) - t.Target
	for _, v := range t.SampleOwners {
		t.SampleMiss += v
	}
	t.Label, t.Main, t.Margin = owedLength(t.Miss, t.Zero, t.Owners)
	t.SampleLabel, _, _ = owedLength(t.SampleMiss, t.Zero, t.SampleOwners)
	t.Knowable, t.Also = c.knowable(t)

	today = c.session(t.Balls, d.today.world, c.rng("device"))
	today.Target = t.Target
	today.Conditions = d.conditions(c.World)
	if d.t.ball && !d.t.told {
		today.Ball = analysis.UnknownBall
	}
	if c.Past {
		past = c.past(d)
	}
	return today, t, past
}

// target is the carry aimed at: the usual, or some yards from it, to a yard.
func (c LengthCase) target(usual float64) float64 {
	step := 0.0
	switch c.Kind {
	case OtherClub:
		step = 11 * analysis.Yard // a club: common practice, no source
	case InTheMiddle:
		step = (5 + 4*c.rng("target").Float64()) * analysis.Yard
	}
	if c.Seed%2 == 0 {
		step = -step
	}
	usual += step
	return math.Round(usual/analysis.Yard) * analysis.Yard
}

// pick draws the session's balls and which of them things are off in.
func (c LengthCase) pick(d day, target float64) ([]draw, []bool) {
	n := c.Balls
	tries := 1
	if c.Kind == LengthLuck {
		tries = 8
	}
	rng := c.rng("balls")
	var best []draw
	far := -1.0
	for range tries {
		zs := c.World.golfer.draws(n, rng)
		if tries == 1 {
			best = zs
			break
		}
		sum := 0.0
		for _, z := range zs {
			_, _, f := d.fly(z, false, d.t.active())
			sum += f.Carry - target
		}
		if m := math.Abs(sum); m > far {
			best, far = zs, m
		}
	}
	off := make([]bool, n)
	which := c.rng("off")
	first := which.IntN(2)
	most := int(math.Round(d.t.share * float64(n)))
	for i, at := range which.Perm(n) {
		off[at] = i < most
	}
	if d.t.turns {
		for i := range off {
			off[i] = i%2 == first
		}
	}
	return best, off
}

// session is balls as the world's device writes them down.
func (c LengthCase) session(balls []Ball, w *World, noise *rand.Rand) analysis.Session {
	s := analysis.Session{Hand: c.Hand, Ball: w.Ball}
	for i, b := range balls {
		bare := analysis.Shot{N: i + 1, Row: i + 2, Club: c.Club}
		s.Shots = append(s.Shots, c.Columns.keep(w.device.read(bare, b, noise), bare))
	}
	return s
}

func (d day) conditions(w *World) analysis.Conditions {
	var c analysis.Conditions
	changed := math.Abs(d.t.density-1) > 1e-9
	if d.t.told && changed || w.told && !changed {
		kelvin, metres := d.t.kelvin, d.t.metres
		c.Temperature, c.Altitude = &kelvin, &metres
	}
	if d.t.told && d.t.wind.Speed > 0 {
		speed, from := d.t.wind.Speed, d.t.wind.From
		c.WindSpeed, c.WindFrom = &speed, &from
	}
	return c
}

// past is three earlier sessions of the golfer's usual, a little faster or
// slower from day to day, in the world's own air.
func (c LengthCase) past(d day) []analysis.Session {
	rng := c.rng("past")
	var all []analysis.Session
	for range 3 {
		was := d
		was.mean.ClubSpeed *= 1 + 0.006*rng.NormFloat64()
		was.mean.DynamicLoft += 0.3 * deg * rng.NormFloat64()
		was.t = things{speed: 1, spin: 1, density: 1, wind: c.World.wind.draw(rng)}
		was.today = was.usual
		var balls []Ball
		for _, z := range c.World.golfer.draws(12+rng.IntN(9), rng) {
			del, l, f := was.fly(z, false, 1<<4)
			balls = append(balls, Ball{Delivery: del, Launch: l, Flight: f})
		}
		s := c.session(balls, c.World, rng)
		s.Target, s.Conditions = 0, c.World.conditions(plan{})
		all = append(all, s)
	}
	return all
}

// owedLength is the label of a miss: of the owners that push its way the one
// with two thirds of them, or the two of which the lesser has a third.
func owedLength(miss, zero float64, owners map[Owner]float64) (Owner, []Owner, float64) {
	margin := min(1, gap(math.Abs(miss), zero, zero))
	if math.Abs(miss) <= zero {
		return OwnerNone, nil, margin
	}
	side := 1.0
	if miss < 0 {
		side = -1
	}
	sum := 0.0
	var first, second Owner
	for _, o := range append([]Owner{OwnerClub}, flownOwners...) {
		v := side * owners[o]
		if v <= 0 {
			continue
		}
		sum += v
		switch {
		case first == "" || v > side*owners[first]:
			first, second = o, first
		case second == "" || v > side*owners[second]:
			second = o
		}
	}
	margin = min(margin, gap(side*owners[first]/sum, 2.0/3, 1))
	if second == "" || side*owners[first] >= sum*2/3 {
		return first, []Owner{first}, margin
	}
	return OwnerTwo, []Owner{first, second}, margin
}

// knowable is whether columns and past can show the owner at all, by what has
// to be measured for it; and which other owners say as much with these columns.
func (c LengthCase) knowable(t LengthTruth) (bool, []Owner) {
	has := c.Columns.Has
	speed := has(analysis.ClubSpeed)
	ball := has(analysis.BallSpeed)
	launch := has(analysis.LaunchAngle) && has(analysis.Spin) && (ball || speed && has(analysis.Smash))
	loft := has(analysis.DynamicLoft) || has(analysis.LaunchAngle)
	strike := has(analysis.StrikeToe)
	varies := false // within the session
	switch c.Kind {
	case SlowSome, SlowHalf, LoftSome, SpinSome, StrikeSome, SlowAndOff:
		varies = true
	}
	one := func(o Owner) bool {
		switch o {
		case OwnerSpeed:
			return (speed || ball) && (varies || c.Past)
		case OwnerLoft:
			return loft && (varies || c.Past)
		case OwnerSpin:
			return launch && (varies || c.Past)
		case OwnerStrike:
			return strike || launch && speed && (varies || c.Past)
		case OwnerAir:
			return t.Told || launch && c.Past
		case OwnerClub:
			return c.Past
		}
		return true
	}
	ok := true
	for _, o := range t.Main {
		ok = ok && one(o)
	}
	var also []Owner
	if !speed && t.Label == OwnerStrike {
		also = append(also, OwnerSpeed)
	}
	return ok, also
}
