package shotmaker

import (
	"math/rand/v2"

	"rangepost/analysis"
)

// Control is how well a golfer's club does what is asked of it.
type Control string

// The kinds of control.
const (
	Obeys   Control = "obeys"   // 0.9 to 1.1 of every change
	Partly  Control = "partly"  // about the same share of all, 0.3 to 0.8
	Uneven  Control = "uneven"  // each number its own share, 0 to 1.2
	Nothing Control = "nothing" // every shot is the same
)

// Controls lists them in a fixed order.
func Controls() []Control { return []Control{Obeys, Partly, Uneven, Nothing} }

// Mistake is what a golfer gets wrong about what was asked.
type Mistake string

// The mistakes.
const (
	NoMistake  Mistake = "none"
	OtherCurve Mistake = "a draw taken for a fade" // and the reverse, where they are named
	OtherStart Mistake = "starts on the other side"
)

// turned is what the golfer takes an ask for, and whether that is another shot.
func (m Mistake) turned(a Ask) (Ask, bool) {
	switch {
	case m == OtherCurve && a.named:
		a.Start, a.Curve = -a.Start, -a.Curve
	case m == OtherStart && a.Start != 0:
		a.Start = -a.Start
	default:
		return a, false
	}
	return a, true
}

// Numbers lists the numbers of the delivery that are controlled.
func Numbers() []analysis.Number {
	return []analysis.Number{
		analysis.ClubSpeed, analysis.Attack, analysis.Path, analysis.Face, analysis.FaceToPath, analysis.DynamicLoft,
	}
}

// Value is one of Numbers of a delivery, SI.
func Value(d analysis.Delivery, n analysis.Number) float64 {
	if n == analysis.FaceToPath {
		return d.Face - d.Path
	}
	return *part(&d, n)
}

func part(d *analysis.Delivery, n analysis.Number) *float64 {
	switch n {
	case analysis.ClubSpeed:
		return &d.ClubSpeed
	case analysis.Attack:
		return &d.Attack
	case analysis.Path:
		return &d.Path
	case analysis.Face:
		return &d.Face
	case analysis.DynamicLoft:
		return &d.DynamicLoft
	}
	panic("no number of the delivery: " + n.String()) // a mistake of the harness
}

// moved are the numbers that have a gain: face-to-path follows from two of them.
var moved = []analysis.Number{analysis.ClubSpeed, analysis.Attack, analysis.Path, analysis.Face, analysis.DynamicLoft}

// A talk is cross-talk: asked to change one number, the golfer changes another
// too, by a share in SI units of both, in a right-hander's frame.
type talk struct {
	from, to analysis.Number
	share    float64
}

// shotmaker is how one golfer answers to what is asked.
type shotmaker struct {
	side  float64 // +1 for a right-hander
	gains map[analysis.Number]float64
	talks []talk
	habit analysis.Delivery // what is added to every shot alike
	steep float64           // attack of a ball fully low, rad; 0 for who leaves it
}

func newShotmaker(c Control, hand analysis.Hand, rng *rand.Rand) shotmaker {
	between := func(low, high float64) float64 { return low + (high-low)*rng.Float64() }
	g := shotmaker{side: hand.Mirror(), gains: map[analysis.Number]float64{}}
	common := between(0.3, 0.8)
	for _, n := range moved {
		g.gains[n] = map[Control]float64{
			Obeys: between(0.9, 1.1), Partly: common + between(-0.1, 0.1), Uneven: between(0, 1.2),
		}[c]
	}
	either := func() float64 { return float64(2*rng.IntN(2) - 1) }
	talks := []talk{
		{analysis.DynamicLoft, analysis.Path, either() * between(0.2, 0.6)},
		{analysis.DynamicLoft, analysis.ClubSpeed, between(5, 15)}, // m/s for a radian
		{analysis.Path, analysis.Attack, either() * between(0.2, 0.5)},
		{analysis.Face, analysis.DynamicLoft, between(0.2, 0.6)},
		{analysis.ClubSpeed, analysis.DynamicLoft, -between(0.2, 0.6) * deg},
	}
	rng.Shuffle(len(talks), func(i, j int) { talks[i], talks[j] = talks[j], talks[i] })
	g.talks = talks[:[]int{0, 0, 1, 2}[rng.IntN(4)]]
	sideways := deg
	if c == Obeys {
		sideways *= 0.4 // who has the club in hand has less of a habit
	}
	path := rng.NormFloat64() * 1.5 * sideways // a face goes some of the way with its path
	g.habit = analysis.Delivery{
		Face: 0.6*path + rng.NormFloat64()*0.6*sideways, Path: path,
		Attack: rng.NormFloat64() * 0.6 * deg, DynamicLoft: rng.NormFloat64() * 0.6 * deg,
		StrikeToe: rng.NormFloat64() * 1.5 * analysis.Millimetre, StrikeUp: rng.NormFloat64() * 1.5 * analysis.Millimetre,
	}
	if rng.IntN(2) == 0 {
		g.steep = between(1, 2) * deg
	}
	return g
}

// answer is the golfer's long-run mean when they mean a delivery, where straight
// is their plain one's.
func (g shotmaker) answer(straight, meant analysis.Delivery) analysis.Delivery {
	d := straight
	asked := func(n analysis.Number) float64 { return Value(meant, n) - Value(straight, n) }
	for _, n := range moved {
		*part(&d, n) += g.gains[n]*asked(n) + Value(g.habit, n)
	}
	for _, t := range g.talks {
		share := t.share
		if t.from.Info().Sideways != t.to.Info().Sideways {
			share *= g.side
		}
		*part(&d, t.to) += share * asked(t.from)
	}
	d.StrikeToe, d.StrikeUp = g.habit.StrikeToe, g.habit.StrikeUp
	return d
}
