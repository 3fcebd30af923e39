package visits

import (
	"math/rand/v2"

	"rangepost/analysis"
)

// A Turn is a few balls in a row of one set, as a card lays them out. All four
// count from 0; set 0 is the usual one.
type Turn struct{ Set, Balls, Block, Visit int }

// mostBalls is how many balls of a card a visit has at most.
const mostBalls = 60

// Card draws a card of one to five visits: two sets or, in three of ten, three,
// each once a block in an order drawn by chance; two to four blocks a visit;
// three to eight balls a turn, five in half of the cards. In one card of seven
// the usual set has up to three balls a turn more than the others.
func Card(rng *rand.Rand) []Turn {
	sets := 2
	if rng.Float64() < 0.3 {
		sets = 3
	}
	balls := 5
	if rng.Float64() < 0.5 {
		balls = 3 + rng.IntN(6)
	}
	usual := balls
	if rng.IntN(7) == 0 {
		usual += 1 + rng.IntN(3)
	}
	blocks := 2 + rng.IntN(3)
	for blocks > 2 && blocks*(usual+(sets-1)*balls) > mostBalls {
		blocks--
	}
	var turns []Turn
	for visit := range 1 + rng.IntN(5) {
		for block := range blocks {
			for _, set := range rng.Perm(sets) {
				t := Turn{Set: set, Balls: balls, Block: visit*blocks + block, Visit: visit}
				if set == 0 {
					t.Balls = usual
				}
				turns = append(turns, t)
			}
		}
	}
	return turns
}

// numVisits is how many visits a card has.
func numVisits(turns []Turn) (n int) {
	for _, t := range turns {
		n = max(n, t.Visit+1)
	}
	return n
}

// A stretch is balls that a golfer hits without setting up anew.
type stretch struct {
	turn  int // index in the card, -1 of none
	set   int // how the golfer sets up
	balls int
	club  analysis.Club
}

// laidOut are the turns of one visit as the card has them.
func laidOut(turns []Turn, visit int, club analysis.Club) (s []stretch) {
	for i, t := range turns {
		if t.Visit == visit {
			s = append(s, stretch{turn: i, set: t.Set, balls: t.Balls, club: club})
		}
	}
	return s
}

// places lists the turn of every ball of stretches.
func places(s []stretch) (turn []int) {
	for _, x := range s {
		for range x.balls {
			turn = append(turn, x.turn)
		}
	}
	return turn
}
