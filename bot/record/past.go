package record

import (
	"context"
	"slices"

	"rangepost/analysis"
	"rangepost/analysis/timeline"
	"rangepost/bot/report"
	"rangepost/store"
)

// mostAgain is how many sessions are looked through for the same finding.
const mostAgain = 12

// Past is what the sessions before one say of one of its sets. Of a set that was
// tried beside the usual one there is no past.
func (rs *Records) Past(ctx context.Context, s store.Session, set report.Set) (p timeline.Past, err error) {
	taught, err := rs.db.Taught(ctx, s.Server, s.Student, set.Club)
	if err != nil {
		return p, err
	}
	var tried []analysis.Tool
	for _, o := range taught {
		if !slices.Contains(tried, o.Tool) {
			tried = append(tried, o.Tool)
		}
	}
	p.Again, p.Tried = 1, tried
	if set.Club.Unknown() || set.Setup == analysis.Tried {
		return p, nil
	}
	values, err := rs.db.Values(ctx, s.Server, s.Student, store.ValuesFilter{Number: analysis.Lateral, Club: set.Club, MeansOnly: true})
	if err != nil {
		return p, err
	}
	var middles []float64
	for _, v := range slices.Backward(values) {
		if v.At.Before(s.At) {
			middles = append(middles, v.Mean)
		}
	}
	p = timeline.PastOf(middles)
	p.Tried = tried
	before, err := rs.db.Before(ctx, s.SessionInfo, mostAgain)
	p.Again, _ = again(set.Gist(), before)
	return p, err
}
