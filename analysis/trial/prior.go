package trial

import "rangepost/analysis"

// prior is how unsure the trade's expectation of a tool is (its mean is
// analysis.Tool.Usual), and how much a tool's effect differs from trial to
// trial, SI. Both are common practice, no source, and wide: a tool is taken to
// work the usual way round in three cases of four.
type prior struct{ sd, between float64 }

// responding are the numbers a tool's response is learned of.
var responding = []analysis.Number{
	analysis.ClubSpeed, analysis.Attack, analysis.Path, analysis.Face, analysis.FaceToPath, analysis.DynamicLoft,
}

func priorOf(n analysis.Number) prior {
	if n == analysis.ClubSpeed {
		return prior{1, 0.4}
	}
	return prior{3 * analysis.Degree, 1 * analysis.Degree}
}
