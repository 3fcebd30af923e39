package cause

import (
	"math"

	"rangepost/analysis"
	"rangepost/analysis/ball"
	"rangepost/analysis/impact"
)

// A Seen flight is what is known of one ball's: as measured where it was, else
// as the model flies it. A number that nothing tells is NaN.
type Seen struct {
	N    int // of the shot
	Used bool
	ball.Flight
	SD     ball.Flight // what each but Lateral may be off by of its own, a standard deviation
	Common ball.Flight // what it may be off as every ball of the set is: the model's, where it was flown
}

// How far a ball's flight may be off what was read or flown, as standard
// deviations: a device's own (common practice, no source), and our model's, which
// is what it misses by in the worlds of other physics that judge it.
const (
	carryRead, apexRead    = 0.012, 0.025 // of the carry, of the apex
	lateralRead            = 0.008        // of the carry
	carryFlown, apexFlown  = 0.08, 0.15
	flownAgain             = 0.25        // of that, what differs from ball to ball
	curveFlown, driftFlown = 0.15, 0.015 // of the curve; of the carry, wind nobody wrote down
	startFlown             = 0.8 * analysis.Degree
	curveByAxis            = 0.45 // m of curve a rad of axis, over m of carry
	curveByFace            = 0.9  // the same a rad of face-to-path, without a measured axis
)

// seeAll is what is known of the flights of the balls that were struck, in the
// order they were hit: those in use, and the mishits, which are balls too.
func seeAll(shots []analysis.Shot, balls []struck, m *ball.Model) (all []Seen) {
	delivered := map[int]struck{}
	for _, b := range balls {
		delivered[b.n] = b
	}
	for _, s := range shots {
		if s.Aside != analysis.Used && s.Aside != analysis.Mishit {
			continue
		}
		b, ok := delivered[s.N]
		all = append(all, see(s, b, ok, m))
	}
	return all
}

func see(s analysis.Shot, b struck, delivered bool, m *ball.Model) Seen {
	nan := math.NaN()
	seen := Seen{N: s.N, Used: s.Aside == analysis.Used}
	modelled := ball.Flight{Start: nan, Curve: nan, Apex: nan, Carry: nan, Lateral: nan}
	launch, missing := s.Launch()
	switch {
	case delivered:
		launch = m.Launch(b.delivery, b.own)
		modelled = ball.FlightOf(launch.Direction, m.Flight.Fly(launch))
	case len(missing) == 0:
		modelled = ball.FlightOf(launch.Direction, m.Flight.Fly(launch))
	}
	noise := impact.TypicalNoise()
	read := func(n analysis.Number, of func(*ball.Flight) *float64, sdRead, sdFlown float64) {
		if v, _ := s.Value(n); s.Measured(n) {
			*of(&seen.Flight), *of(&seen.SD) = v, sdRead*v
		} else {
			v := *of(&modelled)
			*of(&seen.Flight), *of(&seen.SD), *of(&seen.Common) = v, flownAgain*sdFlown*v, sdFlown*v
		}
	}
	read(analysis.Carry, func(f *ball.Flight) *float64 { return &f.Carry }, carryRead, carryFlown)
	read(analysis.Apex, func(f *ball.Flight) *float64 { return &f.Apex }, apexRead, apexFlown)
	carry := seen.Carry
	if v, _ := s.Value(analysis.Direction); s.Measured(analysis.Direction) {
		seen.Start, seen.SD.Start = v, noise.Direction
	} else {
		seen.Start, seen.SD.Start = modelled.Start, startFlown
	}

	// The curve as the model flies it: from a measured axis, else from face
	// against path.
	slope, angle := curveByAxis, noise.Axis
	if !s.Measured(analysis.SpinAxis) {
		slope, angle = curveByFace, math.Hypot(noise.Face, noise.Path)
	}
	flown := math.Hypot(math.Hypot(slope*angle*carry, curveFlown*modelled.Curve), driftFlown*carry)
	seen.Curve, seen.SD.Curve = modelled.Curve, flown
	seen.Lateral = modelled.Lateral

	// And as it finished against its start line, where that was measured; of two
	// that are both known each counts by how sure it is.
	lateral, _ := s.Value(analysis.Lateral)
	if !s.Measured(analysis.Lateral) || math.IsNaN(seen.Start) || math.IsNaN(carry) {
		return seen
	}
	seen.Lateral = lateral
	finished := ball.Curve(seen.Start, carry, lateral)
	sd := math.Hypot(carry*seen.SD.Start, lateralRead*carry)
	if math.IsNaN(modelled.Curve) {
		seen.Curve, seen.SD.Curve = finished, sd
		return seen
	}
	share := flown * flown / (flown*flown + sd*sd)
	seen.Curve = share*finished + (1-share)*modelled.Curve
	seen.SD.Curve = flown * sd / math.Hypot(flown, sd)
	return seen
}
