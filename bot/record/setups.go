package record

import (
	"math"
	"slices"

	"rangepost/analysis"
	"rangepost/analysis/stat"
	"rangepost/analysis/trial"
	"rangepost/store"
)

// A setup is the sessions hit with one setup, of each only its balls.
type setup struct {
	label    string // as trial.Setups has it
	sessions []analysis.SessionValues
}

// bySetup takes sessions of one club apart by the setups their sets name: the
// balls of the usual one, and those of each other, in the order they were first
// hit. A mean of both would be one of a setup that nobody used. Where nothing
// was hit with the usual one, all of it is taken for that.
func bySetup(sessions []analysis.SessionValues, labelled map[string][]store.LabelledBall) (usual []analysis.SessionValues, others []setup) {
	for _, v := range sessions {
		parts := partsOf(v, labelled[v.Session])
		for _, p := range parts {
			at := slices.IndexFunc(others, func(s setup) bool { return s.label == p.label })
			switch {
			case p.label == "":
				usual = append(usual, p.sessions...)
			case at < 0:
				others = append(others, p)
			default:
				others[at].sessions = append(others[at].sessions, p.sessions...)
			}
		}
	}
	if len(usual) == 0 {
		return sessions, nil
	}
	return usual, others
}

// partsOf is one session's values by setup. One without sets, or whose balls
// were read anew meanwhile, stays whole.
func partsOf(v analysis.SessionValues, balls []store.LabelledBall) []setup {
	whole := []setup{{sessions: []analysis.SessionValues{v}}}
	var labels []string
	of := map[string][]store.LabelledBall{}
	n := 0
	for _, b := range balls {
		if b.Club != v.Club {
			continue
		}
		if !slices.Contains(labels, b.Label) {
			labels = append(labels, b.Label)
		}
		of[b.Label] = append(of[b.Label], b)
		n++
	}
	if n != len(v.Values) {
		return whole
	}
	setups := trial.Setups(labels)
	var parts []setup
	for i, label := range setups {
		at := slices.IndexFunc(parts, func(s setup) bool { return s.label == label })
		if at < 0 {
			at = len(parts)
			part := v
			part.Values, part.Inferred = nil, 0
			parts = append(parts, setup{label, []analysis.SessionValues{part}})
		}
		part := &parts[at].sessions[0]
		for _, b := range of[labels[i]] {
			part.Values = append(part.Values, b.Value)
			if b.Inferred {
				part.Inferred++
			}
		}
	}
	if len(parts) == 1 && parts[0].label == "" {
		return whole
	}
	for i := range parts {
		part := &parts[i].sessions[0]
		sample := stat.SampleOf(part.Values)
		part.Mean, part.SD = sample.Mean, 0
		if sample.N > 1 {
			part.SD = math.Sqrt(sample.Variance)
		}
	}
	return parts
}
