package record

import (
	"math"
	"slices"
	"strings"

	"rangepost/analysis"
	"rangepost/analysis/stat"
	"rangepost/store"
)

// A setup is what was hit otherwise than usual in sessions, by what its sets are
// called: of each session only its balls.
type setup struct {
	label    string // in lower case
	sessions []analysis.SessionValues
}

// triedIn is what was tried in sessions of one club, whose values are those of
// the usual setup: in the order it was first hit.
func triedIn(sessions []analysis.SessionValues, balls map[string][]store.TriedBall) (all []setup) {
	for _, v := range sessions {
		for _, b := range balls[v.Session] {
			if b.Club != v.Club {
				continue
			}
			label := strings.ToLower(strings.TrimSpace(b.Label))
			at := slices.IndexFunc(all, func(s setup) bool { return s.label == label })
			if at < 0 {
				at = len(all)
				all = append(all, setup{label: label})
			}
			s := &all[at]
			if n := len(s.sessions); n == 0 || s.sessions[n-1].Session != v.Session {
				here := v
				here.Values, here.Inferred = nil, 0
				s.sessions = append(s.sessions, here)
			}
			here := &s.sessions[len(s.sessions)-1]
			here.Values = append(here.Values, b.Value)
			if b.Inferred {
				here.Inferred++
			}
		}
	}
	for _, s := range all {
		for i := range s.sessions {
			sample := stat.SampleOf(s.sessions[i].Values)
			s.sessions[i].Mean, s.sessions[i].SD = sample.Mean, 0
			if sample.N > 1 {
				s.sessions[i].SD = math.Sqrt(sample.Variance)
			}
		}
	}
	return all
}
