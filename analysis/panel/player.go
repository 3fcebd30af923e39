package panel

import (
	"math"
	"math/rand/v2"

	"rangepost/analysis"
)

// A Player is a world's golfer with one club, hand and wind, for a harness that
// says itself what every ball is meant to be.
type Player struct {
	World *World
	Club  analysis.Club
	Hand  analysis.Hand
	Wind  Wind
	Wide  float64 // times the golfer's spread across
}

// playerGust is the standard deviation of the wind's strength from ball to ball,
// a share: as in every session of a Kind.
const playerGust = 0.15

// Usual is the delivery the golfer's balls are drawn around with nothing off:
// square, and struck in the middle.
func (p Player) Usual() analysis.Delivery { return p.World.golfer.mean(p.Club) }

// Breeze is a wind of this world's.
func (w *World) Breeze(rng *rand.Rand) Wind { return w.wind.draw(rng) }

// One is the ball of a delivery in the mean wind.
func (p Player) One(d analysis.Delivery) Ball { return p.ball(d, 1) }

// Hit is a ball around each mean in turn, with the golfer's scatter, streaks and
// tails, in a wind that comes and goes. Split, Wind and Strike are left out.
func (p Player) Hit(means []analysis.Delivery, rng *rand.Rand) []Ball {
	balls := make([]Ball, len(means))
	for i, z := range p.World.golfer.draws(len(means), rng) {
		balls[i] = p.drawn(means[i], z)
	}
	return balls
}

// LongRun is the golfer's long run around a mean: 64 balls spread evenly, in
// pairs opposite about it.
func (p Player) LongRun(mean analysis.Delivery) []Ball {
	var run []Ball
	for _, z := range p.World.golfer.tail.points() {
		z[drawGust] = max(-2, min(2, z[drawGust]))
		run = append(run, p.drawn(mean, z))
	}
	return run
}

// Session is what the world's device hands over of the balls; told is whether it
// states the wind.
func (p Player) Session(balls []Ball, columns Columns, told bool, rng *rand.Rand) analysis.Session {
	s := analysis.Session{Hand: p.Hand, Ball: p.World.Ball, Conditions: p.World.conditions(plan{wind: p.Wind, told: told})}
	for i, b := range balls {
		bare := analysis.Shot{N: i + 1, Row: i + 2, Club: p.Club}
		s.Shots = append(s.Shots, columns.keep(p.World.device.read(bare, b, rng), bare))
	}
	return s
}

func (p Player) drawn(mean analysis.Delivery, z draw) Ball {
	return p.ball(p.World.golfer.deliver(mean, p.Hand, z, p.Wide), 1+playerGust*z[drawGust])
}

func (p Player) ball(d analysis.Delivery, gust float64) Ball {
	b := Ball{Delivery: d}
	b.Launch = p.World.strike(p.Club, p.Hand, d)
	b.Flight = p.World.fly(b.Launch, p.Wind.toward(gust))
	return b
}

// Curve is how far right of its start line the ball landed, m, square to that
// line, as it flew.
func (b Ball) Curve() float64 {
	if b.Flight.Carry == 0 {
		return 0
	}
	aim := math.Asin(max(-1, min(1, b.Flight.Lateral/b.Flight.Carry)))
	return b.Flight.Carry * math.Sin(aim-b.Launch.Direction)
}

// Mirrored is the ball in a mirror, of a golfer of the other hand.
func (b Ball) Mirrored() Ball {
	b.Delivery.Face, b.Delivery.Path = -b.Delivery.Face, -b.Delivery.Path
	b.Launch.Direction, b.Launch.Axis = -b.Launch.Direction, -b.Launch.Axis
	b.Flight.Lateral = -b.Flight.Lateral
	s := b.Split
	b.Split = Split{-s.Miss, -s.Face, -s.Path, -s.Strike, -s.Wind, -s.Other}
	b.Wind, b.Strike = -b.Wind, -b.Strike
	return b
}
