package timeline

import (
	"rangepost/analysis"
	"rangepost/analysis/stat"
)

// Kept is how a brief was kept by some balls: the first of those there are, as
// many as it is judged by.
type Kept struct {
	Brief               analysis.Brief
	Inside, Of          int
	Counted             float64 // independent balls that these count for
	Share               float64 // 0 when Of is 0
	ShareLow, ShareHigh float64 // 95 %; 0 to 1 when Of is 0
	Enough              bool    // as many balls as the brief asks, or it asks for none in particular
}

// Keep is how a brief was kept by balls, of which each was inside its limits or
// not: a series a session, each in the order they were hit. It is judged with
// as many as it asks for; where these do not settle it, it goes on to twice as
// many, and to four times. Limits of the share are Wilson's (1927) for the balls
// these count for: where each resembles the one before they tell less
// (stat.StreakAcross).
func Keep(b analysis.Brief, sessions ...[]bool) (k Kept) {
	asked := b.Asked()
	if asked == 0 { // all there are, by its date
		return All(b, sessions...)
	}
	for _, times := range rounds {
		k = All(b, first(times*asked, sessions)...)
		if k.Of < times*asked || k.settled() != Unclear {
			break
		}
	}
	return k
}

// rounds are how many times the balls a brief asks for it is judged with.
var rounds = []int{1, 2, 4}

// first are the first n balls of sessions.
func first(n int, sessions [][]bool) (some [][]bool) {
	for _, balls := range sessions {
		balls = balls[:min(n, len(balls))]
		n -= len(balls)
		some = append(some, balls)
	}
	return some
}

// All is Keep of all the balls there are, whatever the brief asks for.
func All(b analysis.Brief, sessions ...[]bool) Kept {
	inside, of, counted := 0, 0, 0.0
	series := make([][]float64, len(sessions))
	for i, balls := range sessions {
		series[i] = make([]float64, len(balls))
		for j, in := range balls {
			if in {
				series[i][j] = 1
				inside++
			}
		}
		of += len(balls)
	}
	streak := stat.StreakAcross(series)
	for _, values := range series {
		if len(values) > 0 {
			counted += streak.For(len(values)).Effective()
		}
	}
	return Shared(b, inside, of, counted)
}

// Shared is how a brief was kept by so many balls, that count for so many
// independent ones, of which so many were inside.
func Shared(b analysis.Brief, inside, of int, counted float64) Kept {
	k := Kept{Brief: b, Inside: inside, Of: of, Counted: counted, ShareHigh: 1, Enough: of > 0 && of >= b.Asked()}
	if of > 0 && counted > 0 {
		k.Share = float64(inside) / float64(of)
		k.ShareLow, k.ShareHigh = stat.WilsonCounted(k.Share, counted, 0.95)
	}
	return k
}

// Count are the balls that count into a brief, each inside its limits or not:
// those hit with its club (any, if it names none) that have the number.
// Misreads do not count. Mishits do: they were struck, and leaving them out
// would let the pattern decide which balls the brief is about.
func Count(b analysis.Brief, shots []analysis.Shot) (inside []bool) {
	for _, s := range shots {
		if s.Aside != analysis.Used && s.Aside != analysis.Mishit || !b.Club.Unknown() && s.Club != b.Club {
			continue
		}
		if v, ok := s.Value(b.Number); ok {
			inside = append(inside, b.Holds(v))
		}
	}
	return inside
}
