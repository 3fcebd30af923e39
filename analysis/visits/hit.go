package visits

import (
	"math"
	"math/rand/v2"

	"rangepost/analysis"
)

// A ball is one that was hit.
type ball struct {
	shot   analysis.Shot
	turn   int  // in the card, -1 of none
	starts bool // the golfer had set up anew, or changed the club
	mishit bool
}

// Hit has a golfer hit a card as it stands: one session a visit, the shots in
// order and neither labelled nor rounded, and the turn of every ball by its
// place in turns. A mishit counts as a ball of its turn. Effects are by set;
// e[0] is mostly none. The zero Effect stands for those that e is too short for.
func Hit(turns []Turn, g Golfer, e []Effect, rng *rand.Rand) (sessions []analysis.Session, truth [][]int) {
	for v := range numVisits(turns) {
		balls := g.play(laidOut(turns, v, g.Club), e, rng)
		sessions = append(sessions, session(g.Hand, balls))
		truth = append(truth, turnsOf(balls))
	}
	return sessions, truth
}

// play is a visit: every ball of the stretches, in order.
func (g Golfer) play(stretches []stretch, e []Effect, rng *rand.Rand) (balls []ball) {
	total := 0
	for _, s := range stretches {
		total += s.balls
	}
	sd, warm, tire := of(g.SD), of(g.Warm), of(g.Tire)
	visit := scattered(of(g.VisitSD), rng)
	fresh := math.Sqrt(1 - g.Serial*g.Serial)
	var left vector // what is left of the ball before
	for _, s := range stretches {
		setup := scattered(of(g.TurnSD), rng)
		m, level := modelOf(s.club), of(g.at(s.club).Level)
		var effect Effect
		if s.set < len(e) {
			effect = e[s.set]
		}
		mean := level.plus(1, visit).plus(1, setup).plus(1, of(effect.Shift))
		spread := effect.spread(sd)
		for j := range s.balls {
			i := len(balls)
			own := g.own(rng)
			if i == 0 {
				left = own
			} else {
				for k := range left {
					left[k] = g.Serial*left[k] + fresh*own[k]
				}
			}
			v := mean
			if i < g.WarmBalls {
				v = v.plus(1-float64(i)/float64(g.WarmBalls), warm)
			}
			if total > 1 {
				v = v.plus(float64(i)/float64(total-1), tire)
			}
			for k := range v {
				v[k] += spread[k] * left[k]
			}
			b := ball{turn: s.turn, starts: j == 0, mishit: rng.Float64() < g.Mishits}
			if b.mishit {
				v = mishit(v, rng)
			}
			b.shot = m.shot(v, g.Hand)
			balls = append(balls, b)
		}
	}
	return balls
}

// scattered is a normal of each standard deviation.
func scattered(sd vector, rng *rand.Rand) (v vector) {
	for i := range v {
		v[i] = sd[i] * rng.NormFloat64()
	}
	return v
}

func session(h analysis.Hand, balls []ball) analysis.Session {
	s := analysis.Session{Hand: h}
	for i, b := range balls {
		b.shot.N = i + 1
		s.Shots = append(s.Shots, b.shot)
	}
	return s
}

func turnsOf(balls []ball) []int {
	turns := make([]int, len(balls))
	for i, b := range balls {
		turns[i] = b.turn
	}
	return turns
}
