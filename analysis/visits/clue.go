package visits

import (
	"slices"
	"time"
)

// A Clue is what in a file says, without looking where the balls went, that it
// is not just what the card has next. They add up.
type Clue uint8

// The clues.
const (
	Count   Clue = 1 << iota // more balls than the card has next, or fewer
	OfClub                   // a ball with another club than the card's
	Gap                      // shot numbers that leave some out
	Pause                    // a long pause at the start of a turn where the card has none
	Already                  // every ball is in already
)

// clues works them out from the files and from what was hit. Due is the turn of
// every ball that the card has next.
func (c *Case) clues() (clues Clue) {
	if len(c.Truth) != len(c.Due) {
		clues |= Count
	}
	for i, s := range c.Session.Shots {
		if s.Club != c.Golfer.Club {
			clues |= OfClub
		}
		if c.Numbers != nil && i > 0 && c.Numbers[i] != c.Numbers[i-1]+1 {
			clues |= Gap
		}
	}
	for i := 1; i < len(c.Times); i++ {
		starts := c.Truth[i] != c.Truth[i-1]
		planned := i < len(c.Due) && c.Due[i] != c.Due[i-1]
		if starts && !planned && c.Times[i].Sub(c.Times[i-1]) >= LongPause {
			clues |= Pause
		}
	}
	if c.Of >= 0 {
		clues |= Already
	}
	return clues
}

// Silent reports whether the file has no clue although the card does not say
// where every ball belongs: who reads it as intact reads some balls wrongly, and
// nothing but where they went could have warned them.
func (c *Case) Silent() bool { return c.Clues == 0 && !slices.Equal(c.Truth, c.Due) }

// day is what a visit is at least from the next.
const day = 24 * time.Hour
