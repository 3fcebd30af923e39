package panel

import (
	"fmt"
	"hash/fnv"
	"math"
	"math/rand/v2"

	"rangepost/analysis"
)

// A LengthKind is why a session was made to finish off its target carry. Like
// Kind it is the intention only.
type LengthKind string

// The kinds of session off in length.
const (
	LengthClean LengthKind = "clean"             // the usual balls at the usual target
	SlowSome    LengthKind = "slow in 60 %"      // club speed lower in some balls
	SlowAll     LengthKind = "slow in all"       // in all of them
	SlowHalf    LengthKind = "half at 86 %"      // every other ball at 86 %
	LoftSome    LengthKind = "loft in 60 %"      // dynamic loft off in some balls
	LoftAll     LengthKind = "loft in all"       // in all
	SpinSome    LengthKind = "spin in 60 %"      // grass or water between face and ball
	StrikeSome  LengthKind = "strike in 60 %"    // off the middle in some balls
	StrikeAll   LengthKind = "strike in all"     // in all
	HeadWind    LengthKind = "headwind"          // 2 to 6 m/s
	TailWind    LengthKind = "tailwind"          // 2 to 6 m/s
	CrossWind   LengthKind = "crosswind"         // 3 to 6 m/s, hardly any along
	ThinAir     LengthKind = "thin air"          // 1,200 to 2,000 m up
	ColdAir     LengthKind = "cold air"          // 0 to 6 degrees, bought in summer
	RangeBalls  LengthKind = "range balls"       // where the usual is a new ball's
	OtherClub   LengthKind = "another club's"    // the target is the next club's
	SlowAndLoft LengthKind = "speed and loft"    // two at once, in all
	SlowAndWind LengthKind = "speed and wind"    // two at once
	SlowAndOff  LengthKind = "speed and strike"  // two at once, in 60 %
	InTheMiddle LengthKind = "in the middle"     // strikes within a millimetre, target 5 to 9 yd off
	LengthLuck  LengthKind = "luck of few balls" // clean; the unluckiest of eight sessions
)

// LengthKinds lists them in a fixed order.
func LengthKinds() []LengthKind {
	return []LengthKind{
		LengthClean, SlowSome, SlowAll, SlowHalf, LoftSome, LoftAll, SpinSome, StrikeSome, StrikeAll,
		HeadWind, TailWind, CrossWind, ThinAir, ColdAir, RangeBalls, OtherClub,
		SlowAndLoft, SlowAndWind, SlowAndOff, InTheMiddle, LengthLuck,
	}
}

// A LengthCase is a session with a target carry.
type LengthCase struct {
	World   *World
	Club    analysis.Club
	Hand    analysis.Hand
	Balls   int
	Columns Columns
	Kind    LengthKind
	Past    bool // three earlier sessions are handed over too
	Seed    uint64
}

func (c LengthCase) String() string {
	past := "no past"
	if c.Past {
		past = "past"
	}
	return fmt.Sprintf("%s, %s, %s-handed, %d balls, %s, %s, %s, seed %d",
		c.World.Name, c.Club.Key(), c.Hand, c.Balls, c.Columns, c.Kind, past, c.Seed)
}

func (c LengthCase) rng(part string) *rand.Rand {
	h := fnv.New64a()
	fmt.Fprint(h, "length/", c.World.Name, "/", c.Club.Key(), "/", c.Kind, "/", part)
	return rand.New(rand.NewPCG(c.Seed, h.Sum64()))
}

// LengthCases is count cases spread evenly like Cases; every second has a past.
func LengthCases(seed uint64, count int) []LengthCase {
	rng := rand.New(rand.NewPCG(seed, 0x6c656e677468))
	worlds, clubs, columns, sizes, kinds := Worlds(), Clubs(), AllColumns(), Sizes(), LengthKinds()
	world, club := deal(rng, len(worlds)), deal(rng, len(clubs))
	column, size, kind := deal(rng, len(columns)), deal(rng, len(sizes)), deal(rng, len(kinds))
	cases := make([]LengthCase, count)
	for i := range cases {
		c := LengthCase{
			World: worlds[world()], Club: clubs[club()], Balls: sizes[size()],
			Columns: columns[column()], Kind: kinds[kind()], Past: rng.Float64() < 0.5,
		}
		if rng.Float64() < 0.35 {
			c.Hand = analysis.LeftHanded
		}
		c.Seed = rng.Uint64()
		if c.Kind == RangeBalls && c.World.Ball == analysis.RangeBall {
			c.Kind = SlowSome // every ball of that world is one
		}
		if c.Kind == LengthLuck {
			c.Balls = 5 + 3*(i%2)
		}
		cases[i] = c
	}
	return cases
}

// things are what is off in a session. The zero value but for factors of 1 is
// nothing.
type things struct {
	share   float64 // of the balls that speed, loft, spin and strike are off in
	turns   bool    // those balls come every other one
	speed   float64 // of the club, times
	loft    float64 // added, rad
	spin    float64 // off the face, times
	toe, up float64 // added, m

	wind    Wind
	told    bool    // the session states wind and air
	density float64 // of the air, times
	kelvin  float64
	metres  float64
	ball    bool // range balls where the usual are new
}

// things draws what is off. Sizes come from ranges seen on any practice ground:
// common practice, no source.
func (c LengthCase) things(rng *rand.Rand) things {
	between := func(low, high float64) float64 { return low + (high-low)*rng.Float64() }
	side := func() float64 {
		if rng.Float64() < 0.5 {
			return -1
		}
		return 1
	}
	w := c.World
	t := things{share: 0.6, speed: 1, spin: 1, density: 1, kelvin: 293, metres: 0}
	if w.told {
		t.kelvin, t.metres = w.kelvin, w.metres
	}
	t.wind = w.wind.draw(rng)
	t.told = rng.Float64() < 0.5
	strike := func() {
		switch {
		case rng.Float64() < 0.4:
			t.up = -between(7, 13) * analysis.Millimetre
		default:
			t.toe = side() * between(11, 22) * analysis.Millimetre
		}
	}
	switch c.Kind {
	case SlowSome:
		t.speed = between(0.86, 0.93)
	case SlowAll:
		t.share, t.speed = 1, between(0.88, 0.95)
	case SlowHalf:
		t.share, t.speed, t.turns = 0.5, 0.86, true
	case LoftSome:
		t.loft = c.lofts(side(), between(5, 9))
	case LoftAll:
		t.share, t.loft = 1, c.lofts(side(), between(3, 7))
	case SpinSome:
		t.spin = [2]float64{between(0.55, 0.72), between(1.3, 1.5)}[rng.IntN(2)]
	case StrikeSome:
		strike()
	case StrikeAll:
		t.share = 1
		strike()
	case HeadWind:
		t.wind = Wind{Speed: between(2, 6), From: between(-20, 20) * deg}
	case TailWind:
		t.wind = Wind{Speed: between(2, 6), From: math.Pi + between(-20, 20)*deg}
	case CrossWind:
		t.wind = crosswind(side(), between(3, 6), between(-0.4, 0.4))
	case ThinAir:
		t.metres = between(1200, 2000)
	case ColdAir:
		t.kelvin = between(273, 279)
	case RangeBalls:
		t.ball = true
	case SlowAndLoft:
		t.share, t.speed, t.loft = 1, between(0.90, 0.94), c.lofts(1, between(5, 8))
	case SlowAndWind:
		t.share, t.speed, t.wind = 1, between(0.90, 0.94), Wind{Speed: between(3, 5), From: between(-20, 20) * deg}
	case SlowAndOff:
		t.speed = between(0.88, 0.92)
		strike()
	}
	was, is := pressure(w.metres)/293, pressure(t.metres)/t.kelvin
	if w.told {
		was = pressure(w.metres) / w.kelvin
	}
	t.density = is / was
	return t
}

// lofts is a change of dynamic loft by size degrees; a driver's cannot lose so
// much as to stay on the ground.
func (c LengthCase) lofts(side, size float64) float64 {
	if c.Club.Family == analysis.Driver || c.Club.Family == analysis.Wood {
		size *= 0.8
	}
	return side * size * deg
}

// pressure is that of the standard atmosphere as a share of sea level's: ICAO
// Doc 7488 [M], 6.5 K/km under 11 km.
func pressure(metres float64) float64 { return math.Pow(1-2.25577e-5*metres, 5.2559) }

// in is the world in the day's air and with its ball, a copy.
func (t things) in(w *World) *World {
	day := *w
	day.air.density *= t.density
	// Sutherland's law near room temperature: viscosity as the 0.7th power [M].
	was := 293.0
	if w.told {
		was = w.kelvin
	}
	day.air.viscosity *= math.Pow(t.kelvin/was, 0.7) / t.density
	if t.ball {
		day.Ball = analysis.RangeBall
		day.law = tuned{w.law, 1.09, 0.97}
	}
	return &day
}
