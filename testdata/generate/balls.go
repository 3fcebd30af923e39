package main

import (
	"math/rand/v2"

	"rangepost/analysis"
	"rangepost/analysis/player"
)

// shots are the balls of a visit as the device saw them, numbered in the order
// they were hit.
func (v visit) shots() ([]analysis.Shot, error) {
	rng := rand.New(rand.NewPCG(v.seed, 0))
	var shots []analysis.Shot
	for _, p := range v.parts {
		club, err := analysis.ParseClub(p.club)
		if err != nil {
			return nil, err
		}
		for _, s := range v.player(p, club).Shots(p.balls, p.label, rng) {
			s.N = len(shots) + 1
			shots = append(shots, s)
		}
	}
	for _, m := range v.misreads {
		shots[m.ball-1] = shots[m.ball-1].With(m.number, m.value)
	}
	return shots, nil
}

// player is the student with the delivery of one part. The world is drawn from
// the student's own seed, so that it is the same on every visit.
func (v visit) player(p part, club analysis.Club) player.Player {
	d := player.Typical(club)
	d.Face, d.Path = p.face*analysis.Degree, p.path*analysis.Degree
	d.Attack += p.attack * analysis.Degree
	d.DynamicLoft += p.loft * analysis.Degree
	d.ClubSpeed *= v.who.speed
	if p.speed > 0 {
		d.ClubSpeed *= p.speed
	}
	spread := player.TypicalSpread(v.who.skill)
	spread.Mishits = p.mishits
	world := player.Foreign(club, v.who.hand, rand.New(rand.NewPCG(v.who.seed, uint64(club.Family))))
	if v.wind.Speed > 0 {
		world.Ball.Flight.Wind = v.wind
	}
	return player.Player{
		Hand: v.who.hand, Club: club, Delivery: d, Spread: spread,
		World:  world,
		Device: v.device(),
	}
}
