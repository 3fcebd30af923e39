package record

import (
	"context"

	"rangepost/analysis"
	"rangepost/analysis/timeline"
	"rangepost/store"
)

// An air is what was known of the air of each session and of how its balls
// left: enough to bring a distance from one air to another.
type air struct {
	conditions map[string]analysis.Conditions
	launches   map[string]map[analysis.Club]analysis.Launch // by session
}

// airOf is empty for numbers the air does not touch, and where no session says
// anything of its air.
func (rs *Records) airOf(ctx context.Context, server, student string, n analysis.Number) (a air, err error) {
	if !timeline.Flown(n) {
		return a, nil
	}
	if a.conditions, err = rs.db.Airs(ctx, server, student); err != nil || len(a.conditions) == 0 {
		return air{}, err
	}
	a.launches = map[string]map[analysis.Club]analysis.Launch{}
	for _, part := range []struct {
		number analysis.Number
		set    func(l *analysis.Launch, v float64)
	}{
		{analysis.BallSpeed, func(l *analysis.Launch, v float64) { l.Speed = v }},
		{analysis.LaunchAngle, func(l *analysis.Launch, v float64) { l.Angle = v }},
		{analysis.Direction, func(l *analysis.Launch, v float64) { l.Direction = v }},
		{analysis.Spin, func(l *analysis.Launch, v float64) { l.Spin = v }},
		{analysis.SpinAxis, func(l *analysis.Launch, v float64) { l.Axis = v }},
	} {
		means, err := rs.db.Values(ctx, server, student, store.ValuesFilter{Number: part.number, MeansOnly: true})
		if err != nil {
			return air{}, err
		}
		for _, v := range means {
			of := a.launches[v.Session]
			if of == nil {
				of = map[analysis.Club]analysis.Launch{}
				a.launches[v.Session] = of
			}
			l := of[v.Club]
			part.set(&l, v.Mean)
			of[v.Club] = l
		}
	}
	for _, of := range a.launches {
		for club, l := range of {
			if l.Speed <= 0 || l.Angle == 0 || l.Spin <= 0 {
				delete(of, club) // not enough to fly
			}
		}
	}
	return a, nil
}

// session is a session's values with the air they were hit in.
func (a air) session(v analysis.SessionValues) analysis.SessionValues {
	v.Conditions, v.Launch = a.conditions[v.Session], a.launches[v.Session][v.Club]
	return v
}
