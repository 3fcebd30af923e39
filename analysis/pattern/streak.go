package pattern

import (
	"math"

	"rangepost/analysis"
	"rangepost/analysis/stat"
)

// streaky are the numbers that show whether a ball resembles the one before it,
// the one whose mean is asked for first.
var streaky = [...]analysis.Number{
	analysis.Lateral, analysis.Carry, analysis.ClubSpeed, analysis.Face, analysis.Path, analysis.Attack,
	analysis.DynamicLoft, analysis.StrikeToe, analysis.StrikeUp, analysis.BallSpeed, analysis.LaunchAngle,
	analysis.Direction, analysis.Spin,
}

// Streak is how far the balls of a set, in the order they were hit, resemble the
// ones before: by every number that all of them were measured in.
func Streak(used []analysis.Shot) stat.Streak { return StreakAcross(used) }

// StreakAcross is Streak of several sets of one golfer, whose streaks are alike
// whatever the sets' means.
func StreakAcross(sets ...[]analysis.Shot) stat.Streak {
	balls := 0
	for _, used := range sets {
		balls += len(used)
	}
	var series [][]float64
	for _, n := range streaky {
		all := make([]float64, 0, balls)
		for _, used := range sets {
			from := len(all)
			mean := 0.0
			for _, s := range used {
				if v, _ := s.Value(n); s.Measured(n) {
					all = append(all, v)
					mean += v
				}
			}
			for i := from; i < len(all); i++ {
				all[i] -= mean / float64(len(all)-from)
			}
		}
		if len(all) == balls && balls > 0 {
			series = append(series, all)
		}
	}
	return stat.StreakOf(series...)
}

// fewer reports whether streaks make the balls count for so much fewer that the
// golfer should know, and for how many.
func fewer(s stat.Streak) (effective int, worth bool) {
	of := s.Effective()
	return int(math.Round(of)), s.N >= leastToSay && of < 0.75*float64(s.N)
}

// leastToSay is the number of balls under which streaks widen limits and are
// not spoken of: they may as well be luck.
const leastToSay = 12
