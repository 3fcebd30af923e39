package trial

import (
	"slices"

	"rangepost/analysis"
)

// prior is how unsure the trade's expectation of a tool is (its mean is
// analysis.Tool.Usual), how much a tool's effect differs from trial to trial of a
// golfer, and how much from golfer to golfer, SI. All are common practice, no
// source, and wide: a tool is taken to work the usual way round in three cases of
// four.
type prior struct{ sd, between, golfers float64 }

// responding are the numbers a tool's response is learned of: those of the
// club that trials compare.
var responding = slices.DeleteFunc(analysis.Numbers(), func(n analysis.Number) bool {
	return n.Info().Of != analysis.OfClub || n.Info().Compared == 0
})

func priorOf(n analysis.Number) prior {
	switch n.Info().Kind {
	case analysis.Angle:
		return prior{3 * analysis.Degree, 1 * analysis.Degree, 2 * analysis.Degree}
	case analysis.Speed:
		return prior{1, 0.4, 0.7}
	case analysis.Small:
		return prior{6 * analysis.Millimetre, 2 * analysis.Millimetre, 4 * analysis.Millimetre}
	}
	// Of other kinds nothing is known: a tenth of what is believed of a shot.
	wide := (n.Info().Most - n.Info().Least) / 10
	return prior{wide, wide / 3, wide / 1.5}
}
