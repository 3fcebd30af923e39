package panel

import (
	"math"

	"rangepost/analysis"
)

const deg = analysis.Degree

// A golfer is how a world's golfer delivers any club: everything in the
// golfer's own frame, positive to the right of a right-hander.
type golfer struct {
	speed    float64 // the driver's, m/s
	attack   float64 // added to what is usual for the club, rad
	loft     float64 // likewise
	spread   delta   // standard deviations of one ball
	match    float64 // correlation of face and path
	openLoft float64 // correlation of face and loft: opening adds loft
	swingToe float64 // correlation of path and strike across
	tail     tail
	streak   float64 // correlation of a ball with the one before
}

// delta is a difference between two deliveries.
type delta struct{ speed, attack, path, face, loft, toe, up float64 }

// usual is how a club is delivered square, for a driver at 45 m/s: common
// practice, no source.
func usual(c analysis.Club) (speed, attack, loft float64) {
	switch c.Family {
	case analysis.Driver:
		return 45, 0.5, 13.5
	case analysis.Wood:
		return 42.5, -2, 14.0
	case analysis.Hybrid:
		return 40.3, -3, 17.5
	case analysis.Wedge:
		if c.Wedge == "pw" {
			return 33.5, -4, 36
		}
		return 32, -4, 43
	}
	return 37 - 0.75*float64(c.Number-7), -3.5 - 0.2*float64(c.Number-7), 24 + 2.6*float64(c.Number-7)
}

// mean is the golfer's usual delivery of a club, square and in the middle.
func (g golfer) mean(c analysis.Club) analysis.Delivery {
	speed, attack, loft := usual(c)
	return analysis.Delivery{
		ClubSpeed:   speed * g.speed / 45,
		Attack:      attack*deg + g.attack,
		DynamicLoft: loft*deg + g.loft,
	}
}

// deliver is one ball of a mean delivery (in the target's frame); wide
// multiplies the spread.
func (g golfer) deliver(mean analysis.Delivery, hand analysis.Hand, z draw, wide float64) analysis.Delivery {
	mix := func(a, b, r float64) float64 { return r*a + math.Sqrt(1-r*r)*b }
	side := hand.Mirror()
	face := mix(z[drawPath], z[drawFace], g.match)
	mean.ClubSpeed *= 1 + g.spread.speed*z[drawSpeed]
	mean.Attack += g.spread.attack * z[drawAttack]
	mean.Path += side * wide * g.spread.path * z[drawPath]
	mean.Face += side * wide * g.spread.face * face
	mean.DynamicLoft += g.spread.loft * mix(face, z[drawLoft], g.openLoft)
	mean.StrikeToe += wide * g.spread.toe * mix(z[drawPath], z[drawToe], g.swingToe)
	mean.StrikeUp += wide * g.spread.up * z[drawUp]
	return mean
}

// skilled is about a low handicap's spread, club a middling one's: common
// practice, no source; face and path near 1.5 to 2 deg, strike 6 to 9 mm.
var (
	skilled  = delta{0.010, 0.8 * deg, 1.0 * deg, 1.1 * deg, 0.8 * deg, 0.0055, 0.0045}
	middling = delta{0.016, 1.1 * deg, 1.5 * deg, 1.7 * deg, 1.1 * deg, 0.0080, 0.0060}
	loose    = delta{0.022, 1.4 * deg, 2.0 * deg, 2.4 * deg, 1.4 * deg, 0.0100, 0.0075}
)
