package report

import (
	"rangepost/analysis"
	"rangepost/analysis/cause"
	"rangepost/analysis/trial"
)

// Teaches is what this session's own trials saw of setup tools, for later
// sessions to go by.
func (r Report) Teaches() (seen []analysis.Observation) {
	for _, t := range r.Trials {
		seen = append(seen, trial.Observations(t)...)
	}
	return seen
}

// Responses is what each setup tool does to a golfer's delivery with a club, as
// far as earlier trials taught it and, before those, what pooled says of their
// coach's other students.
func Responses(taught []analysis.Observation, pooled []analysis.Pooled, club analysis.Club, hand analysis.Hand) []trial.Response {
	var seen []analysis.Observation
	for _, o := range taught {
		if o.Club == club {
			seen = append(seen, o)
		}
	}
	var others []analysis.Pooled
	for _, p := range pooled {
		if p.Club == club {
			others = append(others, p)
		}
	}
	return trial.Learn(seen, hand, others...)
}

// responses are the ones a work-back is chosen by. A tool never tried, by the
// golfer or by their coach's students, is left to the trade's prior.
func responses(learned []trial.Response) map[analysis.Tool]cause.Response {
	by := map[analysis.Tool]cause.Response{}
	for _, r := range learned {
		if r.Trials == 0 && r.Golfers == 0 {
			continue
		}
		response := by[r.Tool]
		switch r.Number {
		case analysis.Face:
			response.Face = r.Mean
		case analysis.Path:
			response.Path = r.Mean
		default:
			continue
		}
		// Face and path are told by the same balls; where one rests on less than the
		// other, that is said.
		if g := r.Grounds(); response.Grounds == "" || response.Grounds == analysis.OwnTrials {
			response.Grounds = g
		}
		by[r.Tool] = response
	}
	return by
}
