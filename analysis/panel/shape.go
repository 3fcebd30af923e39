package panel

import (
	"fmt"
	"hash/fnv"
	"math"
	"math/rand/v2"

	"gonum.org/v1/gonum/stat/distuv"

	"rangepost/analysis"
)

// A Shape is how the balls of an honest session are spread. None of them has a
// mishit in it: every ball is of the golfer's one pattern.
type Shape string

// The shapes.
const (
	ShapeNormal Shape = "normal"
	ShapeT5     Shape = "t5"
	ShapeT3     Shape = "t3"
	ShapeSkew   Shape = "skew"       // face and strike have a long side
	ShapeSlice  Shape = "wide slice" // path across, face open to it, twice as wide
)

// Shapes lists them in a fixed order.
func Shapes() []Shape { return []Shape{ShapeNormal, ShapeT5, ShapeT3, ShapeSkew, ShapeSlice} }

// A Mishit is how a ball went wrong, "" for one that did not.
type Mishit string

// The mishits.
const (
	Top   Mishit = "top"
	Duff  Mishit = "duff"
	Thin  Mishit = "thin"
	Shank Mishit = "shank"
)

// MishitKinds lists them in a fixed order.
func MishitKinds() []Mishit { return []Mishit{Top, Duff, Thin, Shank} }

// A ShapeCase is a session of one shape with some true mishits, or none.
type ShapeCase struct {
	World   *World
	Club    analysis.Club
	Hand    analysis.Hand
	Balls   int
	Columns Columns
	Shape   Shape
	Mishits []Mishit // their kinds; where they come is drawn
	Seed    uint64
}

func (c ShapeCase) String() string {
	return fmt.Sprintf("%s, %s, %s-handed, %d balls, %s, %s, mishits %v, seed %d",
		c.World.Name, c.Club.Key(), c.Hand, c.Balls, c.Columns, c.Shape, c.Mishits, c.Seed)
}

func (c ShapeCase) rng(part string) *rand.Rand {
	h := fnv.New64a()
	fmt.Fprint(h, "shape/", c.World.Name, "/", c.Club.Key(), "/", c.Shape, "/", part)
	return rand.New(rand.NewPCG(c.Seed, h.Sum64()))
}

// ShapeCases is count cases spread evenly like Cases. Every second is without a
// mishit; the others have one to four, a quarter of the balls at most, of
// mixed kinds.
func ShapeCases(seed uint64, count int) []ShapeCase {
	rng := rand.New(rand.NewPCG(seed, 0x7368617065))
	worlds, clubs, shapes := Worlds(), Clubs(), Shapes()
	sizes := []int{6, 8, 12, 20, 40, 60, 100}
	columns := []Columns{Everything, Everything, NoStrike, BallOnly, ClubAndEnd, FacePathEnd}
	world, club, shape := deal(rng, len(worlds)), deal(rng, len(clubs)), deal(rng, len(shapes))
	size, column, kind := deal(rng, len(sizes)), deal(rng, len(columns)), deal(rng, len(MishitKinds()))
	cases := make([]ShapeCase, count)
	for i := range cases {
		c := ShapeCase{
			World: worlds[world()], Club: clubs[club()], Balls: sizes[size()],
			Columns: columns[column()], Shape: shapes[shape()],
		}
		if rng.Float64() < 0.35 {
			c.Hand = analysis.LeftHanded
		}
		n := min(1+rng.IntN(4), c.Balls/4)
		c.Seed = rng.Uint64()
		if i%2 == 1 {
			for range n {
				c.Mishits = append(c.Mishits, MishitKinds()[kind()])
			}
		}
		cases[i] = c
	}
	return cases
}

// A ShapeTruth is what the session of a shape really was.
type ShapeTruth struct {
	Case    ShapeCase
	Balls   []Ball
	Mishits []Mishit // by ball

	hit  hitter
	mean analysis.Delivery
	wide float64
}

// of turns a normal deviate into the shape's, with mean 0 and deviation 1. The
// skew is a gamma's of shape 2, skewness 1.4.
func (s Shape) of(z float64, d int) float64 {
	p := distuv.UnitNormal.CDF(z)
	p = min(max(p, 1e-6), 1-1e-6)
	switch s {
	case ShapeT5:
		return t5.of(z)
	case ShapeT3:
		return distuv.StudentsT{Mu: 0, Sigma: 1, Nu: 3}.Quantile(p) / math.Sqrt(3)
	case ShapeSkew:
		if d == drawFace || d == drawToe || d == drawSpeed {
			x := (distuv.Gamma{Alpha: 2, Beta: 1}.Quantile(p) - 2) / math.Sqrt2
			if d == drawSpeed {
				x = -x // the long side is the slow one
			}
			return x
		}
	}
	return z
}

func (s Shape) draw(z draw) draw {
	for d := range z {
		if d != drawGust {
			z[d] = s.of(z[d], d)
		}
	}
	return z
}

// mean is what the shape's balls are drawn around, and how wide.
func (s Shape) mean(w *World, c analysis.Club, hand analysis.Hand, rng *rand.Rand) (analysis.Delivery, float64) {
	between := func(low, high float64) float64 { return low + (high-low)*rng.Float64() }
	d := w.golfer.mean(c)
	side := hand.Mirror()
	d.Face, d.Path = 0.6*deg*rng.NormFloat64(), 1.0*deg*rng.NormFloat64()
	d.StrikeToe = 2 * analysis.Millimetre * rng.NormFloat64()
	wide := 1.0
	if s == ShapeSlice {
		d.Path, d.Face = -side*between(4, 9)*deg, side*between(0, 3)*deg
		wide = between(1.7, 2.2)
	}
	return d, wide
}

// Play hits the case's balls.
func (c ShapeCase) Play() (analysis.Session, ShapeTruth) {
	w := *c.World
	w.golfer.tail = normal // the shape has the tails
	mean, wide := c.Shape.mean(&w, c.Club, c.Hand, c.rng("mean"))
	hit := hitter{world: &w, head: w.head(c.Club), hand: c.Hand, wind: w.wind.draw(c.rng("wind"))}
	t := ShapeTruth{Case: c, Mishits: make([]Mishit, c.Balls), hit: hit, mean: mean, wide: wide}
	for i, at := range c.rng("where").Perm(c.Balls) {
		if i < len(c.Mishits) {
			t.Mishits[at] = c.Mishits[i]
		}
	}
	how := c.rng("how")
	for i, z := range w.golfer.draws(c.Balls, c.rng("balls")) {
		d := w.golfer.deliver(mean, c.Hand, c.Shape.draw(z), wide)
		wind := hit.wind.toward(1)
		b := Ball{Delivery: d}
		b.Launch, b.Flight = hit.flight(d, wind)
		if t.Mishits[i] != "" {
			b.Delivery, b.Launch = t.Mishits[i].spoil(d, b.Launch, c.Hand, how)
			b.Flight = w.fly(b.Launch, wind)
		}
		t.Balls = append(t.Balls, b)
	}
	s := analysis.Session{Hand: c.Hand, Ball: w.Ball, Conditions: w.conditions(plan{})}
	noise := c.rng("device")
	for i, b := range t.Balls {
		bare := analysis.Shot{N: i + 1, Row: i + 2, Club: c.Club}
		shot := w.device.read(bare, b, noise)
		if t.Mishits[i] != "" {
			shot = offTheGround(shot)
		}
		s.Shots = append(s.Shots, c.Columns.keep(shot, bare))
	}
	return s, t
}

// offTheGround is a reading of a ball that hardly flew: no device writes down
// that it flew below the grass.
func offTheGround(s analysis.Shot) analysis.Shot {
	for n, least := range map[analysis.Number]float64{
		analysis.LaunchAngle: 0.1 * deg, analysis.Descent: 0.1 * deg, analysis.Apex: 0.1,
		analysis.Carry: 1, analysis.FlightTime: 0.1,
	} {
		if v, ok := s.Value(n); ok && v < least {
			s = s.With(n, least)
		}
	}
	return s
}

// LongRun is the mean carry and lateral, m, of the golfer's good balls without
// end: of thirty times as many as the case's, a fifth of what those are unsure by.
func (t ShapeTruth) LongRun() (carry, lateral float64) {
	many := 2 * max(200, 15*len(t.Balls))
	c, run := t.Case, t.Case.rng("long run")
	for range many / 2 {
		var z, other draw
		for i := range z {
			z[i] = run.NormFloat64()
			other[i] = -z[i]
		}
		for _, z := range []draw{z, other} {
			_, f := t.hit.flight(t.hit.world.golfer.deliver(t.mean, c.Hand, c.Shape.draw(z), t.wide), t.hit.wind.toward(1))
			carry += f.Carry / float64(many)
			lateral += f.Lateral / float64(many)
		}
	}
	return carry, lateral
}

// spoil makes a mishit of a good ball. No impact law of ours holds outside the
// face, so the launch is drawn: speeds and angles that the trade knows of each,
// common practice, no source.
func (m Mishit) spoil(d analysis.Delivery, l analysis.Launch, hand analysis.Hand, rng *rand.Rand) (analysis.Delivery, analysis.Launch) {
	between := func(low, high float64) float64 { return low + (high-low)*rng.Float64() }
	mm := analysis.Millimetre
	switch m {
	case Top: // the leading edge above the ball's middle
		l.Speed *= between(0.30, 0.60)
		l.Angle = between(0.5, 3) * deg
		l.Spin *= between(0.1, 0.3)
		d.StrikeUp = -between(18, 24) * mm
	case Thin: // the leading edge below its middle
		l.Speed *= between(0.80, 0.93)
		l.Angle *= between(0.25, 0.45)
		l.Spin *= between(0.5, 0.8)
		d.StrikeUp = -between(14, 19) * mm
	case Duff: // the ground first
		d.ClubSpeed *= between(0.65, 0.85)
		l.Speed *= between(0.50, 0.75)
		l.Spin *= between(0.3, 0.6)
		d.StrikeUp = between(4, 12) * mm
	case Shank: // off the neck, away from the golfer
		l.Speed *= between(0.50, 0.75)
		l.Angle *= between(0.4, 0.9)
		l.Direction += hand.Mirror() * between(22, 50) * deg
		l.Spin *= between(0.3, 0.7)
		l.Axis = hand.Mirror() * between(15, 40) * deg
		d.StrikeToe = -between(28, 36) * mm
	}
	return d, l
}
