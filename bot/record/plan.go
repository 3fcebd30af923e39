package record

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"slices"

	"rangepost/analysis"
	"rangepost/analysis/plan"
	"rangepost/analysis/trial"
	"rangepost/bot/report"
	"rangepost/store"
)

// AsUsual is what the usual set of every plan is called.
const AsUsual = "as usual"

// A Plan is a plan with its card, the sessions placed on it, and how it stands.
type Plan struct {
	store.Plan
	Card     plan.Plan
	Sessions []string      // those placed on it, in the order they were
	Placed   []plan.Placed // likewise
	Result   plan.Result
	Trial    *trial.Result // the sets compared, with the plan's own limits; nil while there is nothing to compare
}

// Next is the first turn nothing was hit of, len(Turns) where all were.
func (p Plan) Next() int { return report.Next(p.Placed) }

// Runs reports whether balls are still to be hit for it.
func (p Plan) Runs() bool { return p.Ended.IsZero() }

// A PlanAsked is what somebody asks a plan for.
type PlanAsked struct {
	Setter  string
	Club    analysis.Club
	Against []string // one or two
	Number  analysis.Number
	Change  float64 // SI, 0 for its practical zero
	Claim   string
	Seed    uint64
}

// SetPlan lays out a plan and sets it in place of the one a student has. Its
// error is an *analysis.Refusal for what makes no plan.
func (rs *Records) SetPlan(ctx context.Context, server, student string, asked PlanAsked) (Plan, error) {
	earlier, err := rs.earlierWith(ctx, server, student, asked.Club)
	if err != nil {
		return Plan{}, err
	}
	card, err := plan.New(plan.Config{
		Club: asked.Club, Labels: slices.Concat([]string{AsUsual}, asked.Against), Number: asked.Number, Change: asked.Change,
		Earlier: earlier, Seed: asked.Seed,
	})
	if err != nil {
		return Plan{}, err
	}
	text, err := json.Marshal(card)
	if err != nil {
		return Plan{}, err
	}
	set, err := rs.db.SetPlan(ctx, store.Plan{
		Server: server, Student: student, Setter: asked.Setter, Club: card.Club, Number: card.Number, Card: text, Claim: asked.Claim,
	})
	if err != nil {
		return Plan{}, err
	}
	return rs.Plan(ctx, set)
}

// earlierWith are the latest of a student's sessions with a club, from which
// their scatter is known.
func (rs *Records) earlierWith(ctx context.Context, server, student string, club analysis.Club) (earlier []analysis.Session, err error) {
	values, err := rs.db.Values(ctx, server, student, store.ValuesFilter{Number: analysis.BallSpeed, Club: club, MeansOnly: true})
	if err != nil {
		return nil, err
	}
	for _, n := range []analysis.Number{analysis.Lateral, analysis.Face} {
		if len(values) == 0 {
			if values, err = rs.db.Values(ctx, server, student, store.ValuesFilter{Number: n, Club: club, MeansOnly: true}); err != nil {
				return nil, err
			}
		}
	}
	for _, v := range values[max(0, len(values)-usualSessions):] {
		s, err := rs.db.SessionWithBalls(ctx, server, v.Session)
		if err != nil {
			return nil, err
		}
		earlier = append(earlier, s.Reading.Session)
	}
	return earlier, nil
}

// LastPlan is the plan a student was set last, as it stands; nil without one.
func (rs *Records) LastPlan(ctx context.Context, server, student string) (*Plan, error) {
	kept, err := rs.db.LastPlan(ctx, server, student)
	if errors.Is(err, store.ErrNotFound) {
		return nil, nil
	}
	if err != nil {
		return nil, err
	}
	p, err := rs.Plan(ctx, kept)
	return &p, err
}

// SettledPlans are a student's with some clubs, oldest first, with their cards and
// without what was hit for them.
func (rs *Records) SettledPlans(ctx context.Context, server, student string, clubs []analysis.Club) (all []Plan, err error) {
	kept, err := rs.db.Plans(ctx, server, student)
	if err != nil {
		return nil, err
	}
	for _, k := range kept {
		if k.Settled.IsZero() || !slices.Contains(clubs, k.Club) {
			continue
		}
		p, err := carded(k)
		if err != nil {
			return nil, err
		}
		all = append(all, p)
	}
	return all, nil
}

// carded is a plan with its card.
func carded(kept store.Plan) (p Plan, err error) {
	p.Plan = kept
	if err := json.Unmarshal(kept.Card, &p.Card); err != nil {
		return p, fmt.Errorf("the card of plan %s: %w", kept.ID, err)
	}
	return p, nil
}

// Plan is a plan as it stands. Once settled it stays so, whatever becomes of the
// sessions it rests on.
func (rs *Records) Plan(ctx context.Context, kept store.Plan) (p Plan, err error) {
	if p, err = carded(kept); err != nil {
		return p, err
	}
	placed, err := rs.db.PlacedOn(ctx, kept.ID)
	if err != nil {
		return p, err
	}
	for _, at := range placed {
		if at.Reading == store.Elsewhere {
			continue
		}
		s, err := rs.db.SessionWithBalls(ctx, kept.Server, at.Session)
		if err != nil {
			return p, err
		}
		if len(s.Reading.Session.Shots) != len(at.Turns) {
			// Read anew with other balls: it is placed anew when it is looked at.
			rs.log.WarnContext(ctx, "a session has other balls than were placed", "session", at.Session)
			continue
		}
		p.Sessions, p.Placed = append(p.Sessions, at.Session), append(p.Placed, plan.Placed{Session: s.Reading.Session, Turn: at.Turns})
	}
	worths, err := rs.worthsOf(ctx, kept.Server, p)
	if err != nil {
		return p, err
	}
	judged := report.Judged{Card: p.Card, Visits: p.Placed}
	if err := judged.Judge(worths); err != nil {
		return p, err
	}
	p.Result, p.Trial = judged.Result, judged.Trial
	if kept.Status != "" {
		p.Result.Status = plan.Status(kept.Status)
	}
	return p, nil
}

// worthsOf are what a radian of face and path is worth in the session placed last
// that tells; zero if none does.
func (rs *Records) worthsOf(ctx context.Context, server string, p Plan) (w plan.Worths, err error) {
	for _, id := range slices.Backward(p.Sessions) {
		s, err := rs.db.Session(ctx, server, id)
		if err != nil {
			return w, err
		}
		answer, err := rs.readable(ctx, s.SessionInfo)
		if err != nil {
			return w, err
		}
		if i := answer.MainOf(p.Card.Club); i >= 0 {
			if c := answer.Sets[i].Cause; c.FaceWorth != 0 && c.PathWorth != 0 {
				return plan.Worths{Face: c.FaceWorth, Path: c.PathWorth, Doubt: c.WorthDoubt}, nil
			}
		}
	}
	return w, nil
}

// UsualClub is the club most of a student's sessions have.
func (rs *Records) UsualClub(ctx context.Context, server, student string) (analysis.Club, error) {
	for _, n := range []analysis.Number{analysis.Lateral, analysis.Face, analysis.BallSpeed} {
		values, err := rs.db.Values(ctx, server, student, store.ValuesFilter{Number: n, MeansOnly: true})
		if err != nil || len(values) > 0 {
			return commonest(values), err
		}
	}
	return analysis.Club{}, nil
}
