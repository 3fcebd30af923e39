package analysis

import "time"

// Ball is the kind of ball struck. Range balls fly shorter than new ones
// (common practice, no source), so their distances compare only with each
// other; what the club did compares across all of them.
type Ball string

// The kinds of ball.
const (
	UnknownBall Ball = "unknown"
	NewBall     Ball = "new"
	RangeBall   Ball = "range"
)

// Conditions are the air and wind of a session. A nil pointer is unknown.
type Conditions struct {
	Temperature *float64 // kelvin
	Altitude    *float64 // metres above sea level
	WindSpeed   *float64 // m/s at 10 m
	WindFrom    *float64 // rad clockwise from the target line: 0 is into the face
}

// Dating is how the time a session was hit is known.
type Dating string

// The ways of knowing it, the least first.
const (
	Undated   Dating = ""        // neither file nor golfer said
	ByPosting Dating = "posting" // the file's clock is ahead, so it is taken as hit when it was posted
	ByDay     Dating = "day"     // the golfer's day is known and no hour: the time is where that day begins
	ByClock   Dating = "clock"   // read off a clock, without its offset, as the golfer's
	ByInstant Dating = "instant" // with an offset from UTC
)

// A Session is one visit to the range, from one file.
type Session struct {
	Hand       Hand
	Ball       Ball
	Target     float64   // carry aimed at with no club in particular, m; 0 when not said
	When       time.Time // when its first ball was hit, zero when neither file nor golfer said
	Dated      Dating    // how that is known
	Conditions Conditions
	Shots      []Shot // file order
	Note       string
}

// A Set is the shots of one session hit with one club under one label.
type Set struct {
	Club  Club
	Label string
	Shots []Shot
}

// Sets groups the shots by club and label, in order of first appearance. The
// shots are copied.
func (s Session) Sets() []Set {
	type key struct {
		club  Club
		label string
	}
	at := map[key]int{}
	var sets []Set
	for _, shot := range s.Shots {
		k := key{shot.Club, shot.Label}
		i, ok := at[k]
		if !ok {
			i = len(sets)
			at[k] = i
			sets = append(sets, Set{Club: shot.Club, Label: shot.Label})
		}
		sets[i].Shots = append(sets[i].Shots, shot)
	}
	return sets
}

// Used is the set without the shots set aside.
func (s Set) Used() []Shot {
	var used []Shot
	for _, shot := range s.Shots {
		if shot.Aside == Used {
			used = append(used, shot)
		}
	}
	return used
}

// Values lists number n of the shots that have it, and the positions in shots
// they came from.
func Values(shots []Shot, n Number) (values []float64, at []int) {
	for i, s := range shots {
		if v, ok := s.Value(n); ok {
			values = append(values, v)
			at = append(at, i)
		}
	}
	return values, at
}

// LongAgo is how many years back a day is believed without asking (common
// practice, no source: what is measured at a range is younger).
const LongAgo = 10
