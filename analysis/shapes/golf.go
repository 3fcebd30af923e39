package shapes

import (
	"math"
	"math/rand/v2"

	"rangepost/analysis"
)

// build is what a club usually brings to the ball: how its head speed compares
// with the driver's, the loft it is usually delivered with, how steeply, and
// how much of the head's speed across the face becomes spin. All of it is
// common practice, no source: the files only have to look like golf.
type build struct {
	club    analysis.Club
	speed   float64 // of the driver's
	loft    float64 // deg, dynamic
	attack  float64 // deg
	grip    float64 // rpm for each mph of club speed times the sine of spin loft
	scatter float64 // of the golfer's scatter
}

var bag = []build{
	{analysis.Club{Family: analysis.Driver}, 1, 13, 0.5, 106, 1.2},
	{analysis.Club{Family: analysis.Wood, Number: 3}, 0.955, 13.8, -1.8, 118, 1.15},
	{analysis.Club{Family: analysis.Wood, Number: 5}, 0.93, 16, -2.3, 122, 1.1},
	{analysis.Club{Family: analysis.Hybrid, Number: 4}, 0.9, 18, -3, 135, 1.05},
	{analysis.Club{Family: analysis.Iron, Number: 4}, 0.865, 18.5, -3.2, 143, 1},
	{analysis.Club{Family: analysis.Iron, Number: 5}, 0.845, 20, -3.4, 150, 1},
	{analysis.Club{Family: analysis.Iron, Number: 6}, 0.82, 22, -3.7, 156, 1},
	{analysis.Club{Family: analysis.Iron, Number: 7}, 0.8, 24.5, -4, 161, 1},
	{analysis.Club{Family: analysis.Iron, Number: 8}, 0.775, 27.5, -4.2, 163, 0.95},
	{analysis.Club{Family: analysis.Iron, Number: 9}, 0.755, 31.5, -4.4, 165, 0.95},
	{analysis.Club{Family: analysis.Wedge, Wedge: "pw"}, 0.735, 36, -4.6, 166, 0.9},
	{analysis.Club{Family: analysis.Wedge, Wedge: "gw"}, 0.715, 39.5, -4.6, 166, 0.9},
	{analysis.Club{Family: analysis.Wedge, Wedge: "sw"}, 0.685, 44, -4.6, 164, 0.9},
	{analysis.Club{Family: analysis.Wedge, Wedge: "60"}, 0.665, 47.5, -4.6, 160, 0.9},
}

// A golfer is who hit the balls. Angles in deg, the rest as said.
type golfer struct {
	hand    analysis.Hand
	ball    analysis.Ball
	speed   float64 // mph of the driver's head
	path    float64 // habit, right of target
	face    float64 // habit, right of target
	attack  float64 // more than usual
	loft    float64 // more than usual
	scatter float64 // deg of the face
	strike  float64 // mm
	toe, up float64 // mm, habit
	drag    float64 // of a new ball's
}

func newGolfer(r *rand.Rand) golfer {
	g := golfer{
		hand:    analysis.RightHanded,
		ball:    analysis.NewBall,
		speed:   clamp(94+11*r.NormFloat64(), 66, 122),
		path:    3.4 * r.NormFloat64(),
		attack:  1.2 * r.NormFloat64(),
		loft:    1.5 * r.NormFloat64(),
		scatter: clamp(1.9+0.7*r.NormFloat64(), 0.9, 4),
		strike:  clamp(7+2*r.NormFloat64(), 3, 13),
		toe:     4 * r.NormFloat64(),
		up:      3 * r.NormFloat64(),
		drag:    1,
	}
	g.face = 0.5*g.path + 1.8*r.NormFloat64()
	if chance(r, 0.15) {
		g.hand = analysis.LeftHanded
	}
	if chance(r, 0.45) {
		g.ball = analysis.RangeBall
		g.drag = 1.1 + 0.12*r.Float64()
	}
	return g
}

// hit is one full shot: every number in SI, right of target positive, toe and
// up positive.
func (g golfer) hit(r *rand.Rand, b build) map[analysis.Number]float64 {
	s := g.scatter * b.scatter
	path := g.path + 0.8*s*r.NormFloat64()
	face := g.face + 0.4*(path-g.path) + s*r.NormFloat64()
	attack := b.attack + g.attack + 0.9*r.NormFloat64()
	loft := b.loft + g.loft + 1.3*r.NormFloat64()
	head := g.speed * b.speed * (1 + 0.018*r.NormFloat64())
	toe := g.toe + g.strike*r.NormFloat64()
	up := g.up + 0.7*g.strike*r.NormFloat64()

	ftp := face - path
	spinLoft := math.Acos(math.Cos(rad(loft))*math.Cos(rad(attack))*math.Cos(rad(ftp))+math.Sin(rad(loft))*math.Sin(rad(attack))) / analysis.Degree
	smash := 1.495 - 0.0092*math.Max(spinLoft-12.5, -2) - 0.00035*(toe*toe+up*up)/2.2
	smash = clamp(smash, 0.95, 1.51)
	toward := clamp(0.88-0.0045*spinLoft, 0.6, 0.88) // how far the ball leaves toward the face
	launch := toward*loft + (1-toward)*attack + 0.08*up
	start := toward*face + (1-toward)*path
	spin := b.grip*head*math.Sin(rad(spinLoft)) - 12*up
	axis := math.Atan2(math.Sin(rad(ftp)), math.Sin(rad(loft-attack))) / analysis.Degree
	if b.club.Family == analysis.Driver || b.club.Family == analysis.Wood {
		// The head turns about a point behind the face and spins the ball
		// back: a strike on the toe curves toward the golfer.
		axis -= 0.45 * toe * g.hand.Mirror()
	}
	spin = math.Max(spin, 900)

	v := map[analysis.Number]float64{
		analysis.ClubSpeed:   head * analysis.MilePerHour,
		analysis.Attack:      rad(attack),
		analysis.Path:        rad(path),
		analysis.Face:        rad(face),
		analysis.FaceToPath:  rad(ftp),
		analysis.DynamicLoft: rad(loft),
		analysis.SpinLoft:    rad(spinLoft),
		analysis.Lie:         rad(60 + 1.5*r.NormFloat64()),
		analysis.StrikeToe:   toe * analysis.Millimetre,
		analysis.StrikeUp:    up * analysis.Millimetre,
		analysis.BallSpeed:   head * smash * analysis.MilePerHour,
		analysis.Smash:       smash,
		analysis.LaunchAngle: rad(launch),
		analysis.Direction:   rad(start),
		analysis.Spin:        spin * analysis.RevPerMinute,
		analysis.SpinAxis:    rad(axis),
	}
	f := fly(v[analysis.BallSpeed], rad(launch), rad(start), v[analysis.Spin], rad(axis), g.drag)
	v[analysis.Carry], v[analysis.Lateral] = f.carry, f.side
	v[analysis.Apex], v[analysis.Descent], v[analysis.FlightTime] = f.apex, f.descent, f.time
	roll := clamp(30-0.55*f.descent/analysis.Degree, 1, 28) * analysis.Yard * clamp(1.35-spin/9000, 0.2, 1.2)
	v[analysis.Total] = f.carry + roll
	v[analysis.LateralTotal] = f.side + roll*math.Sin(f.heading)
	return v
}

func rad(deg float64) float64 { return deg * analysis.Degree }

func clamp(v, low, high float64) float64 { return math.Max(low, math.Min(high, v)) }

func chance(r *rand.Rand, p float64) bool { return r.Float64() < p }

func pick[T any](r *rand.Rand, from []T) T { return from[r.IntN(len(from))] }
