package cause

import (
	"math"
	"slices"

	"rangepost/analysis"
	"rangepost/analysis/ball"
	"rangepost/analysis/pattern"
	"rangepost/analysis/stat"
)

// flier is what a ball's carry is made of: club speed (m/s), smash factor,
// launch angle (rad), spin (rad/s), and what the air and the ball itself did
// (m), which is what the model of still air does not say.
type flier struct{ carry, speed, smash, launch, spin, air float64 }

func (f *flier) each() [6]*float64 {
	return [6]*float64{&f.carry, &f.speed, &f.smash, &f.launch, &f.spin, &f.air}
}

func (f flier) between(g flier) flier {
	for i, v := range g.each() {
		*f.each()[i] = (*f.each()[i] + *v) / 2
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
	mean     flier
}

// UsualOf is a golfer's usual with a club in earlier sessions; ok is false when
// none of them has what a carry is made of. Each session counts once, however
// many balls it has, and all are flown in the same still air: what each day's own
// air did is part of its usual.
func UsualOf(sessions []analysis.Session, club analysis.Club, c Config) (u Usual, ok bool) {
	m := ModelOf(club, Config{Hand: c.Hand})
	var days []flier
	for _, s := range sessions {
		var fliers []flier
		for _, set := range s.Sets() {
			if set.Club == club {
				fliers = append(fliers, fliersOf(pattern.Mishits(set).Used(), &m)...)
			}
		}
		if len(fliers) >= leastBalls {
			days = append(days, meanOf(fliers))
		}
	}
	return Usual{len(days), meanOf(days)}, len(days) > 0
}

func (u *Usual) sessions() int {
	if u == nil {
		return 0
	}
	return u.Sessions
}

// A reference is what balls are set against, and how unsure each of it is.
type reference struct {
	flier
	sessions int // 0 when it comes from the set itself
}

// unsure is how far the reference may be off, a standard deviation each: what a
// golfer's day differs from the next by (our choice: 1.5 % of speed and smash,
// 0.8 degrees, 5 % of spin, 2.5 % of carry), by the number of days.
func (r reference) unsure(at flier) flier {
	if r.sessions == 0 {
		return flier{}
	}
	of := 1 / math.Sqrt(float64(r.sessions))
	return flier{0, 0.015 * at.speed * of, 0.015 * at.smash * of, 0.8 * analysis.Degree * of, 0.05 * at.spin * of, 0.025 * at.carry * of}
}

// reference is the golfer's usual, or, without one, what the set itself tells.
func (u *Usual) reference(fliers []flier, target float64) reference {
	if u != nil {
		return reference{u.mean, u.Sessions}
	}
	r := meanOf(fliers)
	// What varies more than one golfer's swing does is two swings, and the one
	// that carries nearer the target is what was meant.
	for _, x := range []struct {
		of     func(f *flier) *float64
		widest func(mean float64) float64
	}{
		{func(f *flier) *float64 { return &f.speed }, func(v float64) float64 { return 0.045 * v }},
		{func(f *flier) *float64 { return &f.launch }, func(float64) float64 { return 2.6 * analysis.Degree }},
		{func(f *flier) *float64 { return &f.smash }, func(v float64) float64 { return 0.045 * v }},
		{func(f *flier) *float64 { return &f.spin }, func(v float64) float64 { return 0.2 * v }},
	} {
		values := make([]float64, len(fliers))
		for i := range fliers {
			values[i] = *x.of(&fliers[i])
		}
		if s := stat.SampleOf(values); math.Sqrt(s.Variance) > x.widest(s.Mean) {
			*x.of(&r) = *x.of(better(fliers, x.of, target))
		}
	}
	return reference{flier: r}
}

// better splits balls in two by one of their numbers, where the two groups
// differ most from each other (Fisher 1958, J. Am. Stat. Assoc. 53:789 [M]), and
// returns the mean of the group that carries nearer the target.
func better(fliers []flier, of func(*flier) *float64, target float64) *flier {
	sorted := slices.Clone(fliers)
	slices.SortStableFunc(sorted, func(a, b flier) int {
		switch x, y := *of(&a), *of(&b); {
		case x < y:
			return -1
		case x > y:
			return 1
		}
		return 0
	})
	best, at := math.Inf(-1), 1
	for i := 2; i <= len(sorted)-2; i++ {
		low, high := meanOf(sorted[:i]), meanOf(sorted[i:])
		apart := *of(&high) - *of(&low)
		if between := float64(i*(len(sorted)-i)) * apart * apart; between > best {
			best, at = between, i
		}
	}
	low, high := meanOf(sorted[:at]), meanOf(sorted[at:])
	if math.Abs(low.carry-target) < math.Abs(high.carry-target) {
		return &low
	}
	return &high
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
		return m.Flight.Fly(analysis.Launch{Speed: f.speed * f.smash, Angle: f.launch, Spin: f.spin}).Carry
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
