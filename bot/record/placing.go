package record

import (
	"context"
	"errors"
	"slices"

	"rangepost/analysis"
	"rangepost/analysis/plan"
	"rangepost/bot/report"
	"rangepost/store"
)

// A Placing is a session beside the plan it may be hit for.
type Placing struct {
	Plan
	Reading plan.Reading   // how its balls were taken
	Likely  []plan.Reading // how they may be taken, where that has to be asked
	New     bool           // they were placed just now
}

// ForPlan is the plan a session was hit for, nil if for none. One that was posted
// while a plan runs, and may be hit for it, is placed if its balls find their
// places without asking. Then, and only then, the session and its answer are
// other ones than were given: labelled by the card.
func (rs *Records) ForPlan(ctx context.Context, s *store.Session, answer *report.Report) (*Placing, error) {
	at, err := rs.db.PlacedAt(ctx, s.ID)
	if err == nil && at.Reading != store.Elsewhere && len(at.Turns) == len(answer.Session.Shots) {
		kept, err := rs.db.Plan(ctx, s.Server, at.Plan)
		if err != nil {
			return nil, err
		}
		// Whatever stopped short of it when they were placed is made up for.
		placed := plan.Placed{Session: answer.Session, Turn: at.Turns}
		return rs.follow(ctx, kept, s, answer, placed, plan.Reading{Key: at.Reading})
	}
	if err == nil && at.Reading == store.Elsewhere {
		return nil, nil
	}
	if err != nil && !errors.Is(err, store.ErrNotFound) {
		return nil, err
	}
	p, err := rs.planFor(ctx, *s, answer.Session.Shots)
	if p == nil || err != nil || len(answer.Reading.Questions) > 0 {
		return nil, err
	}
	match, err := p.Card.Match(p.Placed, answer.Session)
	if err != nil {
		return nil, err
	}
	if len(match.Likely) > 0 {
		return &Placing{Plan: *p, Likely: match.Likely}, nil
	}
	return rs.place(ctx, p.Plan, s, answer, match.Placed, match.Reading)
}

// planFor is the plan a session may be hit for: the one its student has, if it
// was set before the balls were posted and they are with its club.
func (rs *Records) planFor(ctx context.Context, s store.Session, shots []analysis.Shot) (*Plan, error) {
	kept, err := rs.db.LastPlan(ctx, s.Server, s.Student)
	if errors.Is(err, store.ErrNotFound) {
		return nil, nil
	}
	if err != nil || !kept.Ended.IsZero() || s.Posted.Before(kept.At) || s.HitBy().Before(kept.At) && s.Dated == analysis.ByInstant {
		return nil, err
	}
	with := func(shot analysis.Shot) bool { return shot.Club == kept.Club || shot.Club.Unknown() }
	if !slices.ContainsFunc(shots, with) {
		return nil, nil
	}
	p, err := rs.Plan(ctx, kept)
	return &p, err
}

// TakeReading places a session's balls by the reading that somebody chose.
func (rs *Records) TakeReading(ctx context.Context, s *store.Session, answer *report.Report, key string) (*Placing, error) {
	p, err := rs.planFor(ctx, *s, answer.Session.Shots)
	if err != nil {
		return nil, err
	}
	if p == nil {
		return nil, analysis.Refuse("`/plan` shows what there is.", "There is no plan under way that these balls could be hit for.")
	}
	placed, err := p.Card.Take(p.Placed, answer.Session, key)
	if err != nil {
		return nil, err
	}
	if key == store.Elsewhere {
		return nil, rs.db.Place(ctx, store.Placed{Session: s.ID, Plan: p.ID, Reading: key, Turns: placed.Turn})
	}
	return rs.place(ctx, p.Plan, s, answer, placed, plan.Reading{Key: key})
}

// Misplaced takes a session's balls off the card, for whoever says that they were
// not hit as they were taken, and says how they may have been. The session and its
// answer are then other ones than were given: without the card's labels.
func (rs *Records) Misplaced(ctx context.Context, s *store.Session, answer *report.Report) (*Placing, error) {
	p, err := rs.planFor(ctx, *s, answer.Session.Shots)
	if err != nil {
		return nil, err
	}
	if p == nil {
		return nil, analysis.Refuse("`/plan` shows what there is.", "The plan is over, and its balls stay where they were.")
	}
	said := s.Said
	said.Sets = ""
	if *s, *answer, err = rs.Say(ctx, *s, said); err != nil {
		return nil, err
	}
	if p, err = rs.planFor(ctx, *s, answer.Session.Shots); err != nil || p == nil {
		return nil, err
	}
	likely, err := p.Card.Readings(p.Placed, answer.Session)
	return &Placing{Plan: *p, Likely: likely}, err
}

// place keeps where a session's balls belong, and what follows from that.
func (rs *Records) place(ctx context.Context, kept store.Plan, s *store.Session, answer *report.Report, placed plan.Placed, how plan.Reading) (*Placing, error) {
	if err := rs.db.Place(ctx, store.Placed{Session: s.ID, Plan: kept.ID, Reading: how.Key, Turns: placed.Turn}); err != nil {
		return nil, err
	}
	out, err := rs.follow(ctx, kept, s, answer, placed, how)
	if out != nil {
		out.New = true
	}
	return out, err
}

// follow labels the balls of a session as they were placed, and settles the plan if
// they end it. Done once it changes nothing.
func (rs *Records) follow(ctx context.Context, kept store.Plan, s *store.Session, answer *report.Report, placed plan.Placed, how plan.Reading) (*Placing, error) {
	p, err := rs.Plan(ctx, kept)
	if err != nil || !p.Runs() {
		return &Placing{Plan: p, Reading: how}, err
	}
	said := s.Said
	said.Sets = p.Card.Labelled(placed)
	if byCard := how.Key != string(plan.Labels) && said.Sets != ""; byCard && said.Sets != s.Said.Sets {
		if *s, *answer, err = rs.say(ctx, *s, said); err != nil {
			return nil, err
		}
		if p, err = rs.Plan(ctx, kept); err != nil { // its yards may have changed
			return nil, err
		}
	}
	if p.Result.Status != plan.Going {
		var found *analysis.TrialGist
		if p.Trial != nil {
			found = report.TrialGist(*p.Trial)
		}
		if p.Plan, err = rs.db.SettlePlan(ctx, p.ID, string(p.Result.Status), found); err != nil {
			return nil, err
		}
	}
	return &Placing{Plan: p, Reading: how}, nil
}
