package visits

import (
	"fmt"
	"math/rand/v2"
	"slices"
)

// Trouble is how a file differs from what the card had next.
type Trouble uint8

// The troubles. Those that cancel leave as many balls as the card has: so many
// warm-ups and stopped as many early, as a bucket of balls makes them; a ball
// more in one turn and one less in another; or a turn skipped and one of as many
// balls repeated.
const (
	Intact         Trouble = iota
	StopsAfterTurn         // and goes home
	StopsMidTurn
	WarmsUp        // with the card's club, set up as usual
	WarmsUpOther   // with another club
	SkipsTurn      // not the last
	RepeatsTurn    // at once
	BallMore       // in one turn
	BallLess       // in one turn
	MissesReadings // the device does, 1-3
	MixesClubs     // balls of another club between those of the card
	BallsAfter     // the card is done, as usual
	TwoVisits      // the next two of the card, in one file
	SplitVisit     // one visit in two files, this being the one or the other
	PostedAgain    // a file that is in already, dressed otherwise
	NotThisPlan    // the same club on another day
	Cancels
	NumTroubles = int(iota)
)

// Share is how many of a hundred files have a trouble. The task asks for 55-60 %
// intact; the rest is common practice, no source.
func (t Trouble) Share() int { return troubles[t].share }

func (t Trouble) String() string {
	if int(t) < NumTroubles {
		return troubles[t].name
	}
	return fmt.Sprintf("Trouble(%d)", uint8(t))
}

var troubles = [NumTroubles]struct {
	name  string
	share int
}{
	Intact:         {"intact", 57},
	StopsAfterTurn: {"stops after a turn", 6},
	StopsMidTurn:   {"stops in mid-turn", 4},
	WarmsUp:        {"warm-ups", 6},
	WarmsUpOther:   {"warm-ups with another club", 4},
	SkipsTurn:      {"turn skipped", 2},
	RepeatsTurn:    {"turn repeated", 1},
	BallMore:       {"ball more", 2},
	BallLess:       {"ball less", 2},
	MissesReadings: {"readings missed", 4},
	MixesClubs:     {"two clubs", 1},
	BallsAfter:     {"balls after the end", 3},
	TwoVisits:      {"two visits in one file", 1},
	SplitVisit:     {"one visit in two files", 2},
	PostedAgain:    {"posted again", 2},
	NotThisPlan:    {"not this plan", 2},
	Cancels:        {"pair that cancels", 1},
}

func newTrouble(rng *rand.Rand) Trouble {
	x := rng.IntN(100)
	for t := range troubles {
		if x -= troubles[t].share; x < 0 {
			return Trouble(t)
		}
	}
	panic("visits: the troubles' shares do not add up")
}

// strays are balls of no turn, hit as usual.
func strays(balls int, like stretch) stretch {
	return stretch{turn: -1, set: 0, balls: balls, club: like.club}
}

const mostWarmUps = 15

// befall is what a visit's stretches become under the troubles that are the
// golfer's; the others leave them as they are.
func (t Trouble) befall(s []stretch, rng *rand.Rand) []stretch {
	s = slices.Clone(s)
	at := rng.IntN(len(s))
	switch t {
	case StopsAfterTurn:
		return s[:1+rng.IntN(len(s)-1)]
	case StopsMidTurn:
		s[at].balls = 1 + rng.IntN(s[at].balls-1)
		return s[:at+1]
	case WarmsUp:
		return slices.Insert(s, 0, strays(1+rng.IntN(mostWarmUps), s[0]))
	case WarmsUpOther:
		w := strays(1+rng.IntN(mostWarmUps), s[0])
		w.club = shorter(s[0].club, rng)
		return slices.Insert(s, 0, w)
	case SkipsTurn:
		at = rng.IntN(len(s) - 1)
		return slices.Delete(s, at, at+1)
	case RepeatsTurn:
		return slices.Insert(s, at, s[at])
	case BallMore:
		s[at].balls++
	case BallLess:
		s[at].balls--
	case MixesClubs:
		for range 1 + rng.IntN(3) {
			at := 1 + rng.IntN(len(s)-1)
			m := strays(2+rng.IntN(5), s[0])
			m.club = another(s[0].club, rng)
			s = slices.Insert(s, at, m)
		}
	case BallsAfter:
		return append(s, strays(1+rng.IntN(20), s[0]))
	case Cancels:
		return cancel(s, rng)
	}
	return s
}

func cancel(s []stretch, rng *rand.Rand) []stretch {
	at, other := rng.IntN(len(s)), rng.IntN(len(s)-1)
	if other >= at {
		other++
	}
	switch x := rng.Float64(); {
	case x < 0.6:
		warm := strays(3+rng.IntN(10), s[0])
		short := min(warm.balls, len(places(s))-1)
		warm.balls = short
		for short > 0 {
			last := &s[len(s)-1]
			drop := min(short, last.balls)
			last.balls -= drop
			short -= drop
			if last.balls == 0 {
				s = s[:len(s)-1]
			}
		}
		return slices.Insert(s, 0, warm)
	case x < 0.85 || s[at].balls != s[other].balls:
		s[at].balls++
		s[other].balls--
	default:
		again := s[at]
		s[other].balls = 0
		s = slices.Insert(s, at, again)
		s = slices.DeleteFunc(s, func(x stretch) bool { return x.balls == 0 })
	}
	return s
}
