package report

import (
	"rangepost/analysis"
	"rangepost/analysis/cause"
	"rangepost/analysis/trial"
)

// Teaches is what this session's own trial saw of setup tools, for later
// sessions to go by.
func (r Report) Teaches() []analysis.Observation {
	if r.Trial == nil {
		return nil
	}
	return trial.Observations(*r.Trial)
}

// Responses is what each setup tool does to a golfer's delivery with a club, as
// far as earlier trials taught it.
func Responses(taught []analysis.Observation, club analysis.Club, hand analysis.Hand) []trial.Response {
	var seen []analysis.Observation
	for _, o := range taught {
		if o.Club == club {
			seen = append(seen, o)
		}
	}
	return trial.Learn(seen, hand)
}

// responses are the ones a work-back is chosen by. A tool never tried is left
// to the trade's prior.
func responses(learned []trial.Response) map[analysis.Tool]cause.Response {
	by := map[analysis.Tool]cause.Response{}
	for _, r := range learned {
		if r.Trials == 0 {
			continue
		}
		tool := r.Tool
		response := by[tool]
		switch r.Number {
		case analysis.Face:
			response.Face = r.Mean
		case analysis.Path:
			response.Path = r.Mean
		default:
			continue
		}
		by[tool] = response
	}
	return by
}
