package panel

import (
	"fmt"
	"hash/fnv"
	"math"
	"math/rand/v2"

	"rangepost/analysis"
)

// A Case is a session to be played: everything it becomes follows from it.
type Case struct {
	World   *World
	Club    analysis.Club
	Hand    analysis.Hand
	Balls   int
	Columns Columns
	Kind    Kind
	Seed    uint64
}

func (c Case) String() string {
	return fmt.Sprintf("%s, %s, %s-handed, %d balls, %s, %s, seed %d",
		c.World.Name, c.Club.Key(), c.Hand, c.Balls, c.Columns, c.Kind, c.Seed)
}

// rng is the case's own chance. Columns, balls and hand are not in it: fewer
// columns hide numbers of the same balls, more balls follow the same first
// ones, and the other hand's are the same in a mirror.
func (c Case) rng(part string) *rand.Rand {
	h := fnv.New64a()
	fmt.Fprint(h, c.World.Name, "/", c.Club.Key(), "/", c.Kind, "/", part)
	return rand.New(rand.NewPCG(c.Seed, h.Sum64()))
}

// Play hits the case's balls and returns the session a device would hand over
// and the truth of it. The same case gives the same session and truth.
func (c Case) Play() (analysis.Session, Truth) {
	w := c.World
	p := c.Kind.plan(w, c.Club, c.Hand, c.rng("plan"))
	hit := hitter{world: w, head: w.head(c.Club), hand: c.Hand, wind: p.wind}

	t := Truth{Case: c, Streak: w.golfer.streak, Wind: p.wind, WindTold: p.told, Askew: w.device.askew}
	for _, z := range w.golfer.draws(c.Balls, c.rng("balls")) {
		t.Balls = append(t.Balls, hit.ball(w.golfer.deliver(p.mean, c.Hand, z, p.wide), 1+p.gust*z[drawGust]))
	}
	t.settle(hit, p)

	s := analysis.Session{Hand: c.Hand, Ball: w.Ball, Conditions: w.conditions(p)}
	noise := c.rng("device")
	for i, b := range t.Balls {
		bare := analysis.Shot{N: i + 1, Row: i + 2, Club: c.Club}
		s.Shots = append(s.Shots, c.Columns.keep(w.device.read(bare, b, noise), bare))
	}
	return s, t
}

// draws is how the session's balls differ from the mean. What the golfer does
// wanders: each ball keeps a share of the last one's difference.
func (g golfer) draws(n int, rng *rand.Rand) []draw {
	all := make([]draw, n)
	var last draw
	for i := range all {
		keep := g.streak
		if i == 0 {
			keep = 0
		}
		for d := range draws {
			k := keep
			if d == drawGust {
				k = 0
			}
			last[d] = k*last[d] + math.Sqrt(1-k*k)*rng.NormFloat64()
			all[i][d] = g.tail.of(last[d])
		}
		all[i][drawGust] = max(-2, min(2, last[drawGust]))
	}
	return all
}
