package panel

import (
	"fmt"
	"hash/fnv"
	"math/rand/v2"

	"rangepost/analysis"
)

// A MixKind is what two swings in one file differ by.
type MixKind string

// The kinds of mixture.
const (
	MixPath5  MixKind = "path 5 deg apart"
	MixPath8  MixKind = "path 8 deg apart"
	MixPath12 MixKind = "path 12 deg apart"
	MixPath20 MixKind = "path 20 deg apart"
	MixLoft   MixKind = "loft 8 deg apart"
	MixSpeed  MixKind = "speed 20 % apart"
)

// MixKinds lists them in a fixed order.
func MixKinds() []MixKind {
	return []MixKind{MixPath5, MixPath8, MixPath12, MixPath20, MixLoft, MixSpeed}
}

// A MixCase is a session with two swings in it.
type MixCase struct {
	World   *World
	Club    analysis.Club
	Hand    analysis.Hand
	Balls   int
	Columns Columns
	Kind    MixKind
	Third   bool // the second swing is a third of the balls, not half
	Turns   bool // they come in turns, not one after the other
	Seed    uint64
}

func (c MixCase) String() string {
	return fmt.Sprintf("%s, %s, %s-handed, %d balls, %s, %s, third %v, turns %v, seed %d",
		c.World.Name, c.Club.Key(), c.Hand, c.Balls, c.Columns, c.Kind, c.Third, c.Turns, c.Seed)
}

func (c MixCase) rng(part string) *rand.Rand {
	h := fnv.New64a()
	fmt.Fprint(h, "mix/", c.World.Name, "/", c.Club.Key(), "/", c.Kind, "/", part)
	return rand.New(rand.NewPCG(c.Seed, h.Sum64()))
}

// MixCases is count cases spread evenly like Cases.
func MixCases(seed uint64, count int) []MixCase {
	rng := rand.New(rand.NewPCG(seed, 0x6d6978))
	worlds, clubs, kinds := Worlds(), Clubs(), MixKinds()
	sizes := []int{12, 18, 24, 36, 48}
	columns := []Columns{Everything, NoStrike, BallOnly, ClubAndEnd}
	world, club, kind := deal(rng, len(worlds)), deal(rng, len(clubs)), deal(rng, len(kinds))
	size, column, way := deal(rng, len(sizes)), deal(rng, len(columns)), deal(rng, 4)
	cases := make([]MixCase, count)
	for i := range cases {
		at := way()
		c := MixCase{
			World: worlds[world()], Club: clubs[club()], Balls: sizes[size()], Columns: columns[column()],
			Kind: kinds[kind()], Third: at%2 == 1, Turns: at/2 == 1,
		}
		if rng.Float64() < 0.35 {
			c.Hand = analysis.LeftHanded
		}
		c.Seed = rng.Uint64()
		cases[i] = c
	}
	return cases
}

// A MixTruth is what the session of two swings really was.
type MixTruth struct {
	Case   MixCase
	Balls  []Ball
	Second []bool // whether a ball is of the second swing
	// Distance between the two swings' means in the golfer's deviations of one
	// ball, of the number they differ by. Under 2 the mixture of equal
	// parts has one peak and no method sees two from the values alone.
	Apart float64
}

// means are the two swings': the golfer's own, and another to one side of it.
// The face goes a third of the way with the path, as a golfer's does who tries
// another swing: common practice, no source.
func (k MixKind) means(mean analysis.Delivery, g golfer, side float64) (a, b analysis.Delivery, apart float64) {
	a, b = mean, mean
	path := func(by float64) {
		b.Path += side * by * deg
		b.Face += side * by / 3 * deg
		apart = by * deg / g.spread.path
	}
	switch k {
	case MixPath5:
		path(5)
	case MixPath8:
		path(8)
	case MixPath12:
		path(12)
	case MixPath20:
		path(20)
	case MixLoft:
		b.DynamicLoft += 8 * deg
		apart = 8 * deg / g.spread.loft
	case MixSpeed:
		b.ClubSpeed *= 0.80
		apart = 0.2 / g.spread.speed
	}
	return a, b, apart
}

// Play hits the case's balls.
func (c MixCase) Play() (analysis.Session, MixTruth) {
	w := c.World
	rng := c.rng("mean")
	mean := w.golfer.mean(c.Club)
	mean.Face, mean.Path = 0.5*deg*rng.NormFloat64(), 0.8*deg*rng.NormFloat64()
	side := 1.0
	if rng.Float64() < 0.5 {
		side = -1
	}
	first, second, apart := c.Kind.means(mean, w.golfer, side)
	if rng.Float64() < 0.5 {
		first, second = second, first
	}
	hit := hitter{world: w, head: w.head(c.Club), hand: c.Hand, wind: w.wind.draw(c.rng("wind"))}
	t := MixTruth{Case: c, Apart: apart}
	every, n := 2, c.Balls/2
	if c.Third {
		every, n = 3, c.Balls/3
	}
	s := analysis.Session{Hand: c.Hand, Ball: w.Ball, Conditions: w.conditions(plan{})}
	noise := c.rng("device")
	for i, z := range w.golfer.draws(c.Balls, c.rng("balls")) {
		other := i >= c.Balls-n
		if c.Turns {
			other = i%every == every-1
		}
		m := first
		if other {
			m = second
		}
		b := Ball{Delivery: w.golfer.deliver(m, c.Hand, z, 1)}
		b.Launch, b.Flight = hit.flight(b.Delivery, hit.wind.toward(1))
		t.Balls = append(t.Balls, b)
		t.Second = append(t.Second, other)
		bare := analysis.Shot{N: i + 1, Row: i + 2, Club: c.Club}
		s.Shots = append(s.Shots, c.Columns.keep(w.device.read(bare, b, noise), bare))
	}
	return s, t
}
