package visits

import (
	"math/rand/v2"

	"rangepost/analysis"
)

// A model is a club as this world has it: what an average golfer delivers with
// it and what the ball then does. Middle-of-the-road figures (common practice,
// no source).
type model struct {
	club                analysis.Club
	speed, attack, loft float64 // m/s, deg, deg
	toFace              float64 // how far from path to face the ball starts
	launch              float64 // deg, that carries furthest
	spin                float64 // rev/min for a m/s of club speed, at a right angle of spin loft
	gear                float64 // deg of spin axis for a mm toward the toe
	practised           int     // of 20 cards, how many are about it
}

// The ball starts 61-83 % of the way from path to face (Wood, Henrikson and
// Broadie 2018, Proceedings 2(6):249, abstract [S]): the wedges take the low end
// and the driver the high one.
var models = []model{
	{analysis.Club{Family: analysis.Driver}, 43, 0, 14, 0.83, 14, 270, 0.5, 5},
	{analysis.Club{Family: analysis.Iron, Number: 5}, 37.5, -2.5, 19, 0.75, 15, 400, 0.08, 2},
	{analysis.Club{Family: analysis.Iron, Number: 7}, 35.5, -3.5, 23, 0.71, 17, 420, 0.05, 9},
	{analysis.Club{Family: analysis.Iron, Number: 9}, 34, -4, 29, 0.67, 21, 425, 0.04, 2},
	{analysis.Club{Family: analysis.Wedge, Wedge: "pw"}, 33, -4.5, 33, 0.64, 24, 430, 0.03, 2},
	{analysis.Club{Family: analysis.Wedge, Wedge: "56"}, 31, -5, 42, 0.61, 30, 430, 0.02, 0},
}

func modelOf(c analysis.Club) model {
	for _, m := range models {
		if m.club == c {
			return m
		}
	}
	panic("visits: no club " + c.Key())
}

// practised draws the club of a card.
func practised(rng *rand.Rand) analysis.Club {
	x := rng.IntN(20)
	for _, m := range models {
		if x -= m.practised; x < 0 {
			return m.club
		}
	}
	panic("visits: the clubs' shares do not add up")
}

// shorter draws a club to warm up with: one shorter than the card's, the wedges
// as often as all others together.
func shorter(than analysis.Club, rng *rand.Rand) analysis.Club {
	for i, m := range models {
		if m.club != than {
			continue
		}
		rest := models[i+1:]
		if len(rest) > 2 && rng.IntN(2) == 0 {
			rest = rest[len(rest)-2:]
		}
		return rest[rng.IntN(len(rest))].club
	}
	panic("visits: no club " + than.Key())
}

// another draws any club but the card's.
func another(than analysis.Club, rng *rand.Rand) analysis.Club {
	for {
		if m := models[rng.IntN(len(models))]; m.club != than {
			return m.club
		}
	}
}

// average is what an average right-hander delivers with a club.
func (m model) average() vector {
	return vector{speed: m.speed, attack: m.attack * analysis.Degree, loft: m.loft * analysis.Degree}
}
