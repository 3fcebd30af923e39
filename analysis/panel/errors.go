package panel

import (
	"fmt"
	"hash/fnv"
	"math"
	"math/rand/v2"
	"slices"

	"rangepost/analysis"
)

// A Fault is what a device got wrong in a file.
type Fault string

// The faults of one ball.
const (
	NoFault      Fault = "none"
	SpinHalved   Fault = "spin halved"
	SpinDoubled  Fault = "spin doubled"
	SpinTenth    Fault = "spin / 10"
	OthersFace   Fault = "another ball's face"
	FaceForPath  Fault = "face and path swapped"
	LoftTen      Fault = "loft +10 deg"
	PathTimesTen Fault = "path x 10"
)

// The faults of a whole column, or more.
const (
	AllSpinHalved Fault = "all spin halved"
	LateralTurned Fault = "lateral alone turned"
	ClubShifted   Fault = "club cells one ball late"
	ClubFrozen    Fault = "club cells frozen"
	SpeedsSwapped Fault = "speeds swapped"
)

// BallFaults lists the faults of one ball in a fixed order.
func BallFaults() []Fault {
	return []Fault{SpinHalved, SpinDoubled, SpinTenth, OthersFace, FaceForPath, LoftTen, PathTimesTen}
}

// ColumnFaults lists those of whole columns.
func ColumnFaults() []Fault {
	return []Fault{AllSpinHalved, LateralTurned, ClubShifted, ClubFrozen, SpeedsSwapped}
}

// A FaultCase is a session with one fault in it, or none.
type FaultCase struct {
	World   *World
	Club    analysis.Club
	Hand    analysis.Hand
	Balls   int
	Columns Columns
	Kind    Kind
	Shape   Shape // normal or t3
	Fault   Fault
	Seed    uint64
}

func (c FaultCase) String() string {
	return fmt.Sprintf("%s, %s, %s-handed, %d balls, %s, %s, %s, %s, seed %d",
		c.World.Name, c.Club.Key(), c.Hand, c.Balls, c.Columns, c.Kind, c.Shape, c.Fault, c.Seed)
}

// rng leaves the fault out: the honest session of the same seed has the same
// balls.
func (c FaultCase) rng(part string) *rand.Rand {
	h := fnv.New64a()
	fmt.Fprint(h, "fault/", c.World.Name, "/", c.Club.Key(), "/", c.Kind, "/", part)
	return rand.New(rand.NewPCG(c.Seed, h.Sum64()))
}

// Honest is the same session without the fault.
func (c FaultCase) Honest() FaultCase {
	c.Fault = NoFault
	return c
}

// FaultCases is count cases spread evenly like Cases over the faults given.
func FaultCases(seed uint64, count int, faults []Fault) []FaultCase {
	rng := rand.New(rand.NewPCG(seed, 0x6661756c74))
	worlds, clubs := Worlds(), Clubs()
	kinds := []Kind{Square, FaceOff, PathOff, Together, Leaning, AimOff, Wide}
	sizes := []int{8, 12, 20, 40, 60}
	columns := []Columns{Everything, Everything, NoStrike, NoClubSpeed}
	world, club, kind := deal(rng, len(worlds)), deal(rng, len(clubs)), deal(rng, len(kinds))
	size, column, fault := deal(rng, len(sizes)), deal(rng, len(columns)), deal(rng, len(faults))
	cases := make([]FaultCase, count)
	for i := range cases {
		c := FaultCase{
			World: worlds[world()], Club: clubs[club()], Balls: sizes[size()], Columns: columns[column()],
			Kind: kinds[kind()], Shape: ShapeNormal, Fault: faults[fault()],
		}
		if rng.Float64() < 0.35 {
			c.Hand = analysis.LeftHanded
		}
		if rng.Float64() < 0.5 {
			c.Shape = ShapeT3
		}
		c.Seed = rng.Uint64()
		cases[i] = c
	}
	return cases
}

// A FaultTruth is what the device got wrong.
type FaultTruth struct {
	Case    FaultCase
	Balls   []Ball
	At      int // the ball it is in, from 0; -1 for a whole column
	Numbers []analysis.Number

	// Contradicted is whether other columns of the file speak against it by more
	// than about six deviations of what is measured and not known of impact.
	Contradicted bool
}

// Play hits the balls, reads them, and gets them wrong.
func (c FaultCase) Play() (analysis.Session, FaultTruth) {
	w := *c.World
	w.golfer.tail = normal // the shape has the tails
	p := c.Kind.plan(&w, c.Club, c.Hand, c.rng("plan"))
	hit := hitter{world: &w, head: w.head(c.Club), hand: c.Hand, wind: p.wind}
	t := FaultTruth{Case: c, At: -1}
	s := analysis.Session{Hand: c.Hand, Ball: w.Ball, Conditions: w.conditions(p)}
	noise := c.rng("device")
	for i, z := range w.golfer.draws(c.Balls, c.rng("balls")) {
		gust := 1 + p.gust*z[drawGust]
		b := Ball{Delivery: w.golfer.deliver(p.mean, c.Hand, c.Shape.draw(z), p.wide)}
		b.Launch, b.Flight = hit.flight(b.Delivery, hit.wind.toward(gust))
		t.Balls = append(t.Balls, b)
		bare := analysis.Shot{N: i + 1, Row: i + 2, Club: c.Club}
		s.Shots = append(s.Shots, w.device.read(bare, b, noise))
	}
	c.spoil(s.Shots, &t, c.rng("fault"))
	for i, shot := range s.Shots {
		s.Shots[i] = c.Columns.keep(shot, analysis.Shot{N: i + 1, Row: i + 2, Club: c.Club})
	}
	return s, t
}

// spoil gets the readings wrong. What the device works out from them is worked
// out from the wrong ones, as a device does; but for swapped speeds, which the
// file has under each other's headings.
func (c FaultCase) spoil(shots []analysis.Shot, t *FaultTruth, rng *rand.Rand) {
	value := func(i int, n analysis.Number) float64 { v, _ := shots[i].Value(n); return v }
	put := func(i int, n analysis.Number, v float64) {
		shots[i] = c.World.device.worked(shots[i].With(n, v))
	}
	at := rng.IntN(len(shots))
	one := func(size, least float64, ns ...analysis.Number) {
		t.At, t.Numbers = at, ns
		t.Contradicted = math.Abs(size) >= least
	}
	has := c.Columns.Has
	// What a wrong face, path or loft is contradicted by: direction, launch and
	// axis; a wrong spin by spin loft and speed, and by the flight. A bulged face
	// scatters direction and axis by as much as two degrees of face do, which only
	// a measured strike takes out.
	face, path, balls := 4*deg, 8*deg, 12
	if bulged := c.World.head(c.Club).bulge > 0; bulged && !has(analysis.StrikeToe) {
		face, path, balls = 10*deg, 20*deg, 40
	}
	switch c.Fault {
	case SpinHalved, SpinDoubled, SpinTenth:
		k := map[Fault]float64{SpinHalved: 0.5, SpinDoubled: 2, SpinTenth: 0.1}[c.Fault]
		one(1, 0, analysis.Spin)
		put(at, analysis.Spin, k*value(at, analysis.Spin))
	case OthersFace:
		// The ball among the rest whose face differs the most: a face that is
		// alike is no error to anybody.
		other := at
		for i := range shots {
			if math.Abs(value(i, analysis.Face)-value(at, analysis.Face)) > math.Abs(value(other, analysis.Face)-value(at, analysis.Face)) {
				other = i
			}
		}
		by := value(other, analysis.Face) - value(at, analysis.Face)
		one(by, face, analysis.Face)
		put(at, analysis.Face, value(other, analysis.Face))
	case FaceForPath:
		f, p := value(at, analysis.Face), value(at, analysis.Path)
		one(f-p, face, analysis.Face, analysis.Path)
		put(at, analysis.Face, p)
		put(at, analysis.Path, f)
	case LoftTen:
		one(1, 0, analysis.DynamicLoft)
		put(at, analysis.DynamicLoft, value(at, analysis.DynamicLoft)+10*deg)
	case PathTimesTen:
		one(9*value(at, analysis.Path), path, analysis.Path)
		put(at, analysis.Path, 10*value(at, analysis.Path))
	case AllSpinHalved:
		t.Numbers, t.Contradicted = []analysis.Number{analysis.Spin}, true
		for i := range shots {
			put(i, analysis.Spin, value(i, analysis.Spin)/2)
		}
	case LateralTurned:
		t.Numbers = []analysis.Number{analysis.Lateral}
		turn := 0.0
		for i := range shots {
			turn += math.Abs(value(i, analysis.Lateral)) / float64(len(shots))
		}
		t.Contradicted = turn > 4
		for i := range shots {
			put(i, analysis.Lateral, -value(i, analysis.Lateral))
		}
	case ClubShifted:
		club := c.clubNumbers()
		t.Numbers, t.Contradicted = club, len(shots) >= balls
		before := slices.Clone(shots)
		for i := range shots {
			for _, n := range club {
				v, _ := before[(i+len(shots)-1)%len(shots)].Value(n)
				put(i, n, v)
			}
		}
	case ClubFrozen:
		club := c.clubNumbers()
		t.Numbers, t.Contradicted = club, len(shots) >= 8
		from := len(shots) / 3
		for i := from + 1; i < len(shots); i++ {
			for _, n := range club {
				put(i, n, value(from, n))
			}
		}
	case SpeedsSwapped:
		t.Numbers = []analysis.Number{analysis.BallSpeed, analysis.ClubSpeed}
		t.Contradicted = has(analysis.ClubSpeed)
		for i := range shots {
			b, cl := value(i, analysis.BallSpeed), value(i, analysis.ClubSpeed)
			shots[i] = shots[i].With(analysis.BallSpeed, cl).With(analysis.ClubSpeed, b)
		}
	}
	for _, n := range t.Numbers {
		if !has(n) {
			t.Contradicted = false
		}
	}
}

// clubNumbers are the readings of the club that the file has.
func (c FaultCase) clubNumbers() []analysis.Number {
	return slices.DeleteFunc([]analysis.Number{
		analysis.ClubSpeed, analysis.Attack, analysis.Path, analysis.Face, analysis.DynamicLoft,
		analysis.StrikeToe, analysis.StrikeUp,
	}, func(n analysis.Number) bool { return !c.Columns.Has(n) })
}
