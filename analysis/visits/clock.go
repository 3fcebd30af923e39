package visits

import (
	"math"
	"math/rand/v2"
	"time"
)

// A habit is how a golfer passes the time.
type habit struct {
	pace   float64 // s between balls, the middle one
	pauses bool    // between turns, mostly
}

// LongPause is the least a golfer waits who pauses between turns; longer than
// any two balls of a turn are apart.
const LongPause = 45 * time.Second

func newHabit(rng *rand.Rand) habit {
	return habit{pace: 11 + 13*rng.Float64(), pauses: rng.IntN(2) == 0}
}

// wait is how long it is from one ball to the next, b: 6-40 s, and more now and
// then: between turns for those who pause there, before the card begins, after a
// change of club, and, one ball in a hundred, for a drink.
func (h habit) wait(before, b ball, rng *rand.Rand) time.Duration {
	seconds := min(max(h.pace*math.Exp(0.3*rng.NormFloat64()), 6), 40)
	long := func() { seconds += LongPause.Seconds() + 195*rng.Float64() }
	switch {
	case b.starts && h.pauses && rng.Float64() < 0.85,
		b.starts && before.turn < 0 && b.turn >= 0 && rng.Float64() < 0.6,
		rng.Float64() < 0.01:
		long()
	case before.shot.Club != b.shot.Club:
		seconds += 10 + 20*rng.Float64()
	}
	return time.Duration(seconds) * time.Second
}

// times are when the balls of a visit were hit.
func (h habit) times(balls []ball, start time.Time, rng *rand.Rand) []time.Time {
	at := make([]time.Time, len(balls))
	for i, b := range balls {
		if at[i] = start; i > 0 {
			at[i] = at[i-1].Add(h.wait(balls[i-1], b, rng))
		}
	}
	return at
}
