package panel

import (
	"math/rand/v2"

	"rangepost/analysis"
)

// Kind is what a session was made to be. It is the intention only: what the
// session is, its truth tells, and the two may differ.
type Kind string

// The kinds of session.
const (
	Square      Kind = "square"       // nothing wrong
	FaceOff     Kind = "face"         // face open or closed
	PathOff     Kind = "path"         // path across
	Together    Kind = "together"     // face and path push the ball the same way
	Leaning     Kind = "leaning"      // face and path cancel: the ball finishes well
	AimOff      Kind = "aim"          // face and path off the same way by as much
	StrikeOff   Kind = "strike"       // off the middle, toward toe or heel
	WindOnly    Kind = "wind"         // nothing wrong but the wind
	Wide        Kind = "wide"         // centred with a wide spread
	ExtremePath Kind = "extreme path" // path 8 to 12 deg off with a face to match
)

// Kinds lists them in a fixed order.
func Kinds() []Kind {
	return []Kind{Square, FaceOff, PathOff, Together, Leaning, AimOff, StrikeOff, WindOnly, Wide, ExtremePath}
}

// plan is what a session's balls are drawn around.
type plan struct {
	mean analysis.Delivery
	wide float64 // times the golfer's spread across
	wind Wind
	gust float64 // standard deviation of the wind's strength from ball to ball, share
	told bool    // the session's conditions state the wind
}

// plan draws the means of a session, as a right-hander's. Sizes come from ranges seen on any practice
// ground: common practice, no source.
func (k Kind) plan(w *World, c analysis.Club, hand analysis.Hand, rng *rand.Rand) plan {
	side := 1.0
	if rng.Float64() < 0.5 {
		side = -1
	}
	between := func(low, high float64) float64 { return low + (high-low)*rng.Float64() }
	around := func(sd float64) float64 { return sd * rng.NormFloat64() }

	p := plan{mean: w.golfer.mean(c), wide: 1, wind: w.wind.draw(rng), gust: 0.15}
	face, path := around(0.35), around(0.45)
	toe, up := around(1.5), around(1.5)
	switch k {
	case FaceOff:
		face, path = side*between(2, 6), around(0.7)
	case PathOff:
		face, path = around(0.6), side*between(3, 8)
	case Together:
		face, path = side*between(1, 4), -side*between(2, 6)
	case AimOff:
		both := side * between(2, 6)
		face, path = both+around(0.25), both+around(0.25)
	case Leaning:
		path = side * between(3, 8)
	case ExtremePath:
		path = side * between(8, 12)
	case StrikeOff:
		face, path, toe = around(0.15), around(0.15), side*between(9, 22)
	case WindOnly:
		p.wind = crosswind(side, between(2.5, 6), around(0.5))
	case Wide:
		p.wide = between(1.5, 2)
	}
	p.mean.Face, p.mean.Path = face*deg, path*deg
	p.mean.StrikeToe, p.mean.StrikeUp = toe*analysis.Millimetre, up*analysis.Millimetre
	switch k {
	case Leaning:
		p.mean.Face = w.facing(c, p) + around(0.2)*deg
	case ExtremePath:
		p.mean.Face = w.facing(c, p) + around(0.8)*deg
	}
	// A left-hander's session is a right-hander's in a mirror.
	p.mean.Face *= hand.Mirror()
	p.mean.Path *= hand.Mirror()
	p.wind.From *= hand.Mirror()
	p.told = p.wind.Speed > 0 && rng.Float64() < 0.5
	return p
}

// facing is the face that brings a right-hander's mean ball back to the target
// line; where none does, half the path.
func (w *World) facing(c analysis.Club, p plan) float64 {
	off := func(face float64) float64 {
		d := p.mean
		d.Face = face
		return w.fly(w.strike(c, analysis.RightHanded, d), p.wind.toward(1)).Lateral
	}
	low, high := p.mean.Path-20*deg, p.mean.Path+20*deg
	if off(low) > 0 || off(high) < 0 {
		return p.mean.Path / 2
	}
	for range 24 {
		if at := (low + high) / 2; off(at) < 0 {
			low = at
		} else {
			high = at
		}
	}
	return (low + high) / 2
}
