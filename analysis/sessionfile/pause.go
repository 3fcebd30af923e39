package sessionfile

import (
	"slices"

	"rangepost/analysis"
)

// fillPauses says how long after the ball before each was hit, where every row has
// a time of its own and these go up: what is written to the minute says nothing of
// the time between two balls.
func fillPauses(shots []analysis.Shot, times []moment) {
	if slices.ContainsFunc(times, func(m moment) bool { return m.IsZero() || m.dated == analysis.ByDay }) {
		return
	}
	for i := 1; i < len(times); i++ {
		if !times[i].After(times[i-1].Time) {
			return
		}
	}
	for i := 1; i < len(times); i++ {
		shots[i].Pause = times[i].Sub(times[i-1].Time).Seconds()
	}
}
