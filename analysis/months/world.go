package months

import "rangepost/analysis"

// How much a session and a ball scatter, rad.
const (
	DaySD  = 0.8 * analysis.Degree
	BallSD = 2.5 * analysis.Degree
)

// A World is how sessions and balls hang together.
type World struct {
	Name   string
	Walk   float64 // sd of a step of the level from one session to the next, rad
	Serial float64 // correlation of a ball with the one before it
	Tails  bool    // days are Student's t of 3 degrees of freedom
}

// Worlds lists every world, the plainest first.
func Worlds() []World {
	const step = 0.2 * analysis.Degree
	return []World{
		{Name: "plain"},
		{Name: "alike", Serial: 0.35},
		{Name: "walk", Walk: step},
		{Name: "walk alike", Walk: step, Serial: 0.35},
		{Name: "tails", Serial: 0.35, Tails: true},
		{Name: "walk tails", Walk: step, Serial: 0.35, Tails: true},
	}
}
