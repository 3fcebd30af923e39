package plan

import (
	"math"
	"math/rand/v2"

	"rangepost/analysis"
)

// A hitter is a golfer for trying Match out: rough, and with the weaknesses that
// real ones have.
type hitter struct {
	rng                       *rand.Rand
	face, path, attack, speed float64 // spreads of a ball
	streak                    float64
	visit, turn, warming      float64
	tiring                    float64
	effect                    [][4]float64 // of each set, on these
	times                     bool         // between balls are said
	pauses                    float64      // how much longer before a change of set, as a logarithm
}

func newHitter(rng *rand.Rand, times float64, sets int) *hitter {
	u := func(low, high float64) float64 { return low + (high-low)*rng.Float64() }
	deg := analysis.Degree
	h := &hitter{rng: rng, face: u(1.5, 3) * deg, path: u(1.5, 3.5) * deg, attack: u(1, 2) * deg, speed: u(0.5, 1.2),
		streak: u(0, 0.35), visit: 0.8 * deg, turn: u(0, 0.6) * deg, warming: u(0, 2) * deg, tiring: u(-1, 1) * deg}
	for s := range sets {
		e := [4]float64{}
		if s > 0 {
			sign := float64(1 - 2*rng.IntN(2))
			e[0] = sign * times * deg
			if rng.IntN(2) == 0 {
				e[1] = -sign * times * deg
			}
		}
		h.effect = append(h.effect, e)
	}
	h.times = rng.IntN(3) > 0
	if rng.IntN(2) == 0 {
		h.pauses = u(0.3, 1.5)
	}
	return h
}

// hit is balls of these turns of a plan, or Nowhere, in order; mishits among
// them.
func (h *hitter) hit(p Plan, turns []int, number func(i int) int) analysis.Session {
	s := analysis.Session{}
	sd := [4]float64{h.face, h.path, h.attack, h.speed}
	var level, turn, last [4]float64
	for k := range level {
		level[k] = h.rng.NormFloat64() * h.visit
	}
	level[3] += 38
	at := -9
	for i, t := range turns {
		if t != at {
			for k := range turn {
				turn[k] = h.rng.NormFloat64() * h.turn
			}
			at = t
		}
		shot := analysis.Shot{N: number(i), Club: p.Club}
		for k, n := range []analysis.Number{analysis.Face, analysis.Path, analysis.Attack, analysis.ClubSpeed} {
			noise := h.rng.NormFloat64()
			if h.rng.IntN(25) == 0 {
				noise *= 3
			}
			last[k] = h.streak*last[k] + math.Sqrt(1-h.streak*h.streak)*noise
			v := level[k] + turn[k] + sd[k]*last[k]
			if k < 3 {
				v += h.warming*math.Exp(-float64(i)/5) + h.tiring*float64(i)/60
			}
			if t != Nowhere {
				v += h.effect[p.Turns[t].Set][k]
			}
			shot = shot.With(n, v)
		}
		face, _ := shot.Value(analysis.Face)
		path, _ := shot.Value(analysis.Path)
		shot = shot.With(analysis.Direction, 0.8*face+0.2*path+h.rng.NormFloat64()*0.2*analysis.Degree).
			With(analysis.Lateral, 130*(1.8*face-0.8*path)+h.rng.NormFloat64()*3).Derived()
		if h.rng.IntN(30) == 0 {
			shot.Aside = analysis.Mishit
		}
		if h.times && i > 0 {
			long := 2.8 + 0.35*h.rng.NormFloat64()
			if p.setOf(t) != p.setOf(turns[i-1]) && h.rng.IntN(4) > 0 {
				long += h.pauses
			}
			if h.rng.IntN(20) == 0 {
				long += 3 * h.rng.Float64()
			}
			shot.Pause = math.Round(math.Exp(long))
		}
		s.Shots = append(s.Shots, shot)
	}
	return s
}

// card is a plan of so many blocks a visit, its order drawn.
func card(rng *rand.Rand, sets, balls, blocks, visits int) Plan {
	p := Plan{Club: analysis.Club{Family: analysis.Iron, Number: 7}, Number: analysis.Face, Change: analysis.Degree,
		Labels: []string{"normal", "stronger grip", "ball back"}[:sets]}
	for b := range blocks * visits {
		for _, s := range rng.Perm(sets) {
			p.Turns = append(p.Turns, Turn{Set: s, Balls: balls, Block: b, Visit: b / blocks})
		}
	}
	return p
}

// deal is the balls of the card's turns from one up to another, in order.
func (p Plan) deal(from, to int) (turns []int) {
	for t := from; t < to; t++ {
		for range p.Turns[t].Balls {
			turns = append(turns, t)
		}
	}
	return turns
}
