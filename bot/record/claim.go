package record

import (
	"context"
	"slices"

	"rangepost/analysis/plan"
	"rangepost/analysis/trial"
)

// row is what was found of the number of interest of a set.
func (p Plan) row(set int) (trial.Row, bool) {
	i := slices.IndexFunc(p.Result.Rows, func(r trial.Row) bool { return r.Set == set && r.Number == p.Card.Number })
	if i < 0 {
		return trial.Row{}, false
	}
	return p.Result.Rows[i], true
}

// ClaimHeld reports whether what a settled plan's claim calls for happened: told
// is false where that cannot be said.
func (p Plan) ClaimHeld() (held, told bool) {
	if p.Claim == "" || p.Way == 0 || p.Status == "" {
		return false, false
	}
	if p.Found == nil || len(p.Found.Sets) == 0 {
		return false, p.Status == string(plan.Held)
	}
	change, moved := p.Found.Sets[0].Of(p.Card.Number)
	switch {
	case moved && !change.Little:
		return change.Difference*float64(p.Way) > 0, true
	case moved, p.Status == string(plan.Held):
		return false, true
	}
	row, ok := p.row(1)
	return false, ok && row.Verdict == trial.Held
}

// A Score is how good somebody's forecasts of claims were: Brier's score (1950,
// Monthly Weather Review 78:1) over N claims that were answered.
type Score struct {
	N     int
	Score float64 // mean squared error of the chances, 0 is perfect
}

// Forecasts scores what somebody expected of claims on a server.
func (rs *Records) Forecasts(ctx context.Context, server, who string) (s Score, err error) {
	all, err := rs.db.Forecasts(ctx, server, who, "")
	if err != nil {
		return s, err
	}
	for _, f := range all {
		kept, err := rs.db.Plan(ctx, server, f.Plan)
		if err != nil {
			return s, err
		}
		p, err := rs.Plan(ctx, kept)
		if err != nil {
			return s, err
		}
		held, told := p.ClaimHeld()
		if !told {
			continue
		}
		off := f.Chance
		if held {
			off = 1 - f.Chance
		}
		s.N++
		s.Score += off * off
	}
	if s.N > 0 {
		s.Score /= float64(s.N)
	}
	return s, nil
}
