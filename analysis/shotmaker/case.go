package shotmaker

import (
	"fmt"
	"hash/fnv"
	"math/rand/v2"

	"rangepost/analysis"
	"rangepost/analysis/panel"
)

// A Case is a session of asked shots to be played: everything it becomes follows
// from it.
type Case struct {
	World    *panel.World // World.HeldOut: nothing is ever tuned on it
	Club     analysis.Club
	Hand     analysis.Hand // before it is mirrored: the session has the hand it is played with
	Columns  panel.Columns
	Shots    int  // asked shots, beside the plain straight set: 2 to 6
	Turns    bool // hit a few of each in turn, not one set after the other
	Control  Control
	Mistake  Mistake
	Mirrored bool // the twin of the other hand: Play turns all it hands over
	Seed     uint64
}

func (c Case) String() string {
	twin := ""
	if c.Mirrored {
		twin = ", mirrored"
	}
	return fmt.Sprintf("%s, %s, %s-handed, %s, %d shots, turns %t, control %s, mistake %s, seed %d%s",
		c.World.Name, c.Club.Key(), c.Hand, c.Columns, c.Shots, c.Turns, c.Control, c.Mistake, c.Seed, twin)
}

// Mirror is the case's twin of the other hand: the same session with every lateral
// sign, side word and the hand turned, readings to the last digit.
func Mirror(c Case) Case {
	c.Mirrored = !c.Mirrored
	return c
}

// columns are what files hold: thrice everything, since most do.
var columns = []panel.Columns{
	panel.Everything, panel.Everything, panel.Everything, panel.NoStrike, panel.NoAxis, panel.BallOnly,
	panel.ClubAndEnd, panel.NoClubSpeed, panel.NoLoftAttack, panel.SpeedSmash,
	panel.NoFlight, panel.ClubOnly, panel.LaunchOnly, panel.FlightOnly,
}

// Cases is count cases, worlds, clubs, columns and the rest each dealt from its
// own shuffled pack, a third of them left-handed. The same seed gives the same
// cases, and a longer list begins with a shorter one's.
func Cases(seed uint64, count int) []Case {
	rng := rand.New(rand.NewPCG(seed, 0x73686f74))
	world, club, column := pack(rng, panel.Worlds()), pack(rng, panel.Clubs()), pack(rng, columns)
	shots, control := pack(rng, []int{2, 3, 4, 5, 6}), pack(rng, []Control{Obeys, Obeys, Partly, Partly, Uneven, Uneven, Nothing})
	mistake := pack(rng, []Mistake{NoMistake, NoMistake, NoMistake, NoMistake, NoMistake, NoMistake, OtherCurve, OtherStart})
	hand := pack(rng, []analysis.Hand{analysis.RightHanded, analysis.RightHanded, analysis.LeftHanded})
	cases := make([]Case, count)
	for i := range cases {
		cases[i] = Case{
			World: world(), Club: club(), Hand: hand(), Columns: column(), Shots: shots(),
			Turns: rng.IntN(3) == 0, Control: control(), Mistake: mistake(), Seed: rng.Uint64(),
		}
	}
	return cases
}

// pack deals from a pack that is shuffled whenever it is used up.
func pack[T any](rng *rand.Rand, all []T) func() T {
	var order []int
	return func() T {
		if len(order) == 0 {
			order = rng.Perm(len(all))
		}
		top := all[order[0]]
		order = order[1:]
		return top
	}
}

// rng is the case's own chance. Columns, order and mirror are not in it: fewer
// columns hide numbers of the same balls.
func (c Case) rng(part string) *rand.Rand {
	h := fnv.New64a()
	fmt.Fprint(h, "shotmaker/", c.World.Name, "/", c.Club.Key(), "/", part)
	return rand.New(rand.NewPCG(c.Seed, h.Sum64()))
}

// Play hits the session and tells the truth of it. The same case gives the same.
func (c Case) Play() (analysis.Session, Truth) {
	rng := c.rng("plan")
	t := Truth{Case: c, Player: panel.Player{
		World: c.World, Club: c.Club, Hand: c.Hand, Wind: c.World.Breeze(rng), Wide: 0.4 + 0.7*rng.Float64(),
	}}
	g := newShotmaker(c.Control, c.Hand, rng)
	t.Gains = g.gains
	t.plan(g, c.Shots, rng)

	t.order(c.Turns, c.rng("order"))
	var means []analysis.Delivery
	for _, shot := range t.Of {
		means = append(means, t.Shots[shot].Made)
	}
	t.Balls = t.Player.Hit(means, c.rng("balls"))
	s := t.Player.Session(t.Balls, c.Columns, rng.IntN(2) == 0 && t.Player.Wind.Speed > 0, c.rng("device"))
	for i := range s.Shots {
		s.Shots[i].Label = t.Shots[t.Of[i]].Ask.Label
	}
	if c.Mirrored {
		return mirrored(s), t.mirrored()
	}
	return s, t
}

// mirrored is the session as a golfer of the other hand would have hit it.
func mirrored(s analysis.Session) analysis.Session {
	s.Hand = other(s.Hand)
	if from := s.Conditions.WindFrom; from != nil {
		turned := -*from
		s.Conditions.WindFrom = &turned
	}
	for i, shot := range s.Shots {
		shot = shot.Mirrored()
		shot.Label = turnWords.Replace(shot.Label)
		s.Shots[i] = shot
	}
	return s
}

func other(h analysis.Hand) analysis.Hand {
	if h == analysis.LeftHanded {
		return analysis.RightHanded
	}
	return analysis.LeftHanded
}
