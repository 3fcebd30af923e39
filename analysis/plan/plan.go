package plan

import "rangepost/analysis"

// A Plan is what was agreed before a ball was hit. It is never changed after.
type Plan struct {
	Club   analysis.Club
	Labels []string        // of the sets, the usual one first; one or two others
	Number analysis.Number // the number of interest
	Change float64         // the smallest change of it that matters, SI, above 0

	Turns []Turn // in the order they are hit
	Seed  uint64 // that drew the order

	BallsASet int     // of the card
	Power     float64 // chance to call a change of Change moved within the card's balls
	SD        float64 // of one ball, of Number, that this was worked out with, SI
	Own       int     // balls of this golfer's that SD rests on, 0 if it is what is usual for golfers
}

// A Turn is a few balls of one set, hit one after the other.
type Turn struct {
	Set   int // index into Labels
	Balls int
	Block int // from 0
	Visit int // from 0
}

// Nowhere is the place of a ball that is none of the card's: warming up, another
// club, more than the card asks for.
const Nowhere = -1

// A Placed is one session whose balls found their places.
type Placed struct {
	Session analysis.Session
	Turn    []int // for each of Session.Shots the index into Plan.Turns, or Nowhere
}
