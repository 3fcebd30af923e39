package months

import (
	"fmt"
	"math/rand/v2"
	"time"

	"gonum.org/v1/gonum/stat/distuv"

	"rangepost/analysis"
)

// Asks is what a brief asks for besides its limits.
type Asks uint8

// What a brief may ask for.
const (
	BallsOnly Asks = iota
	DateOnly
	Neither
	NumAsks = iota
)

func (a Asks) String() string { return [...]string{"balls", "date", "neither"}[a] }

// A Season is a brief and what was posted while it ran.
type Season struct {
	Brief analysis.Brief
	Set   time.Time
	Posts []Post  // by time, at least two after the brief's date
	Share float64 // of all balls the golfer would ever hit, inside the limits: the truth
}

// A Post is the balls of one session, in the order they were hit, rad.
type Post struct {
	At     time.Time
	Values []float64
}

// Brief simulates a season of a brief. Share is how many of the golfer's balls
// are inside its limits; serial is the correlation of a ball (not of whether it
// is inside, which is less) with the one before in its session. Every second
// brief is open on one side, every second of two asks for 20 balls, not 40.
func Brief(share, serial float64, asks Asks, seed uint64) Season {
	rng := rand.New(rand.NewPCG(seed, 170))
	set := time.Date(2031, time.May, 5, 12, 0, 0, 0, time.UTC)
	s := Season{Set: set, Share: share, Brief: analysis.Brief{Number: analysis.Face}}
	if seed%2 == 0 {
		high := BallSD * distuv.UnitNormal.Quantile(share)
		s.Brief.High = &high
	} else {
		high := BallSD * distuv.UnitNormal.Quantile((1+share)/2)
		low := -high
		s.Brief.Low, s.Brief.High = &low, &high
	}
	switch asks {
	case BallsOnly:
		s.Brief.Balls = 20 + 20*int(seed/2%2)
	case DateOnly:
		s.Brief.Until = time.Date(2031, time.May, 25, 23, 59, 59, 999e6, time.UTC)
	case Neither:
	default:
		panic(fmt.Sprintf("months: no brief asks for %d", asks))
	}
	at := set.Add(5 * time.Hour)
	for range 14 {
		v := series(10+rng.IntN(31), serial, rng)
		for i := range v {
			v[i] *= BallSD
		}
		s.Posts = append(s.Posts, Post{At: at, Values: v})
		at = at.AddDate(0, 0, 2+rng.IntN(2))
	}
	return s
}
