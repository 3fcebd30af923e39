package record

import (
	"context"
	"slices"

	"rangepost/analysis"
	"rangepost/analysis/cause"
	"rangepost/analysis/timeline"
	"rangepost/bot/report"
	"rangepost/store"
)

// Past is what the sessions before one say of the miss of one of its sets, and
// which setup tools the golfer ever tried with that club. Of a set that was
// tried beside the usual one there is no past.
func (rs *Records) Past(ctx context.Context, s store.Session, set report.Set) (past timeline.Past, tried []analysis.Tool, err error) {
	taught, err := rs.db.Taught(ctx, s.Server, s.Student, set.Club)
	if err != nil {
		return past, nil, err
	}
	for _, o := range taught {
		if !slices.Contains(tried, o.Tool) {
			tried = append(tried, o.Tool)
		}
	}
	if set.Club.Unknown() || set.Setup == analysis.Tried {
		return past, tried, nil
	}
	owners := ownersOf(set.Cause.Verdict)
	now, earlier, order := timeline.Means{}, map[string]timeline.Means{}, []string{}
	for _, n := range append([]analysis.Number{analysis.Lateral}, owners...) {
		values, err := rs.db.Values(ctx, s.Server, s.Student, store.ValuesFilter{Number: n, Club: set.Club, MeansOnly: true})
		if err != nil {
			return past, nil, err
		}
		for _, v := range slices.Backward(values) {
			switch {
			case v.Session == s.ID:
				now[n] = v.Mean
				continue
			case !v.At.Before(s.At):
				continue
			case earlier[v.Session] == nil:
				earlier[v.Session] = timeline.Means{}
				order = append(order, v.Session)
			}
			earlier[v.Session][n] = v.Mean
		}
	}
	var before []timeline.Means
	for _, id := range order {
		before = append(before, earlier[id])
	}
	return timeline.PastOf(now, before, set.Cause.PracticalZero, owners...), tried, nil
}

// ownersOf are the numbers a verdict says a miss is owned by.
func ownersOf(v cause.Verdict) []analysis.Number {
	switch v {
	case cause.Face:
		return []analysis.Number{analysis.Face}
	case cause.Path:
		return []analysis.Number{analysis.Path}
	case cause.FaceAndPath, cause.Aim:
		return []analysis.Number{analysis.Face, analysis.Path}
	}
	return nil
}
