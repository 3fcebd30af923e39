package cause

import (
	"math"
	"slices"

	"rangepost/analysis"
	"rangepost/analysis/ball"
	"rangepost/analysis/pattern"
	"rangepost/analysis/stat"
)

// A Swing is how a golfer delivered a club over the balls of a set, and what
// they would get of any other delivery: the middle ball, in the model its own
// flights point to, and in others that may be true as well.
type Swing struct {
	Club analysis.Club
	Hand analysis.Hand

	// Balls are the flights that are known of the balls that were struck.
	Balls []Seen

	// OK says whether deliveries are known as well; without them the rest is empty.
	OK        bool
	Delivery  [analysis.NumNumbers]analysis.Estimate // of the balls in use
	Usual     analysis.Delivery                      // the middle ball's
	Flight    ball.Flight                            // the mean of the balls in use
	FlightOff ball.Flight                            // what the model may have it off by, where it was not measured

	measured [analysis.NumNumbers]bool // of any ball in use
	struck   []struck
	flights  []ball.Flight // of struck
	streak   stat.Streak
	own      ball.Departure
	standard ball.Model
	models   []possible
	inferred [2]float64 // what inferred faces and paths have wrong in common, rad
}

// SwingOf is the swing of a set that was judged (Judge).
func SwingOf(set analysis.Set, c Config) Swing {
	set, worked := fill(set, c)
	p := pattern.Of(set)
	s := Swing{Club: set.Club, Hand: c.Hand, streak: p.Streak}
	used := set.Used()
	for _, n := range analysis.Numbers() {
		values, _ := analysis.Values(used, n)
		s.Delivery[n] = p.Streak.Mean(values)
		s.measured[n] = slices.ContainsFunc(used, func(shot analysis.Shot) bool { return shot.Measured(n) })
	}
	seen := seenOf(s.Delivery)
	published := ModelOf(set.Club, c)
	first := ready(set.Shots, worked, &published)
	known := tellOf(first, &published, seen, used)
	s.standard = published.Off(known.off)
	s.struck = ready(set.Shots, worked, &s.standard)
	s.Balls = seeAll(set.Shots, s.struck, &s.standard)
	if len(s.struck) == 0 {
		return s
	}
	s.OK = true
	s.Usual, s.own = middle(s.struck, &s.standard)
	s.models = possibilities(published, known, s.standard.Launch(s.Usual, s.own), s.Usual, s.own, seen, c.Seed)

	at := map[int]Seen{}
	for _, b := range s.Balls {
		at[b.N] = b
	}
	n := float64(len(s.struck))
	for _, b := range s.struck {
		f := at[b.n].Flight
		s.flights = append(s.flights, f)
		s.Flight = s.Flight.Plus(f.Times(1 / n))
	}
	m := meansOf(make([]Split, len(s.struck)), s.struck)
	for i := range m.faceBy {
		s.inferred[0] = math.Hypot(s.inferred[0], m.faceBy[i])
		s.inferred[1] = math.Hypot(s.inferred[1], m.pathBy[i])
	}
	s.FlightOff = s.off()
	return s
}

// Mean is the mean flight of the balls in use, whether their deliveries are known
// or not; NaN, and not ok, where a height or a carry is known of none.
func (s *Swing) Mean() (f ball.Flight, ok bool) {
	if s.OK {
		return s.Flight, true
	}
	n := 0.0
	for _, b := range s.Balls {
		if b.Used && !math.IsNaN(b.Apex) && !math.IsNaN(b.Carry) {
			n++
			f = f.Plus(b.Flight)
		}
	}
	return f.Times(1 / n), n > 0 // 0/0 is NaN
}

// Measured reports whether a number was measured of any ball in use.
func (s *Swing) Measured(n analysis.Number) bool { return s.measured[n] }

// off is what the mean flight may be off where the model has it.
func (s *Swing) off() (off ball.Flight) {
	flown := func(n analysis.Number) bool { return !s.measured[n] }
	if flown(analysis.Direction) {
		off.Start = startFlown
	}
	if flown(analysis.Apex) {
		off.Apex = apexFlown * s.Flight.Apex
	}
	if flown(analysis.Carry) {
		off.Carry = carryFlown * s.Flight.Carry
	}
	if flown(analysis.Lateral) || flown(analysis.Direction) {
		off.Curve = math.Hypot(curveFlown*s.Flight.Curve, driftFlown*s.Flight.Carry)
	}
	if flown(analysis.Lateral) {
		off.Lateral = off.Curve
	}
	return off
}
