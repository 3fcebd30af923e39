package record

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"math"
	"slices"

	"rangepost/analysis"
	"rangepost/analysis/plan"
	"rangepost/analysis/stat"
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

// Plan is a plan as it stands. Once settled it stays so, whatever becomes of the
// sessions it rests on.
func (rs *Records) Plan(ctx context.Context, kept store.Plan) (p Plan, err error) {
	p.Plan = kept
	if err := json.Unmarshal(kept.Card, &p.Card); err != nil {
		return p, fmt.Errorf("the card of plan %s: %w", kept.ID, err)
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
	judged := report.Judged{Card: p.Card}
	if err := judged.Judge(p.Placed, worths); err != nil {
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

// A Placing is a session beside the plan it may be hit for.
type Placing struct {
	Plan
	Reading plan.Reading   // how its balls were taken
	Likely  []plan.Reading // how they may be taken, where that has to be asked
	New     bool           // they were placed just now
	Ended   bool           // and that settled the plan
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
		p, err := rs.Plan(ctx, kept)
		return &Placing{Plan: p, Reading: plan.Reading{Key: at.Reading}}, err
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
	return rs.place(ctx, *p, s, answer, match.Placed, match.Reading)
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
	return rs.place(ctx, *p, s, answer, placed, plan.Reading{Key: key})
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

// place keeps where a session's balls belong, labels them so, and settles the
// plan if that ends it.
func (rs *Records) place(ctx context.Context, p Plan, s *store.Session, answer *report.Report, placed plan.Placed, how plan.Reading) (*Placing, error) {
	if err := rs.db.Place(ctx, store.Placed{Session: s.ID, Plan: p.ID, Reading: how.Key, Turns: placed.Turn}); err != nil {
		return nil, err
	}
	if !how.Is(plan.Labels) && how.Key != string(plan.Again) {
		said := s.Said
		said.Sets = p.Card.Labelled(placed)
		var err error
		if *s, *answer, err = rs.say(ctx, *s, said); err != nil {
			return nil, err
		}
	}
	now, err := rs.Plan(ctx, p.Plan)
	if err != nil {
		return nil, err
	}
	out := &Placing{Plan: now, Reading: how, New: true}
	if now.Result.Status == plan.Going || !now.Runs() {
		return out, nil
	}
	var found *analysis.TrialGist
	if now.Trial != nil {
		found = report.TrialGist(*now.Trial)
	}
	if out.Plan.Plan, err = rs.db.SettlePlan(ctx, p.ID, string(now.Result.Status), found); err != nil {
		return nil, err
	}
	out.Ended = true
	return out, nil
}

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

// Brief is the brief that keeps what a plan moved: its number about where the set
// that moved it most has it. ok is false where nothing moved.
func (p Plan) Brief() (b analysis.Brief, ok bool) {
	set := 0
	var best trial.Row
	for i := 1; i < len(p.Card.Labels); i++ {
		if row, found := p.row(i); found && row.Verdict == trial.Moved && (set == 0 || abs(row.Difference) > abs(best.Difference)) {
			set, best = i, row
		}
	}
	if set == 0 {
		return b, false
	}
	var values []float64
	for _, placed := range p.Placed {
		for i, turn := range placed.Turn {
			shot := placed.Session.Shots[i]
			if x, has := shot.Value(p.Card.Number); has && turn != plan.Nowhere && p.Card.Turns[turn].Set == set && shot.Aside == analysis.Used {
				values = append(values, x)
			}
		}
	}
	e := stat.Mean(values)
	if !e.OK {
		return b, false
	}
	// To halves of what a golfer would care about, so that it can be said.
	step := trial.PracticalZero(p.Card.Number, e.Mean, 0) / 2
	low, high := step*math.Floor((e.Mean-e.SD)/step), step*math.Ceil((e.Mean+e.SD)/step)
	return analysis.Brief{Number: p.Card.Number, Low: &low, High: &high, Club: p.Card.Club, Label: p.Card.Labels[set], Balls: analysis.UsualBalls}, true
}

func abs(x float64) float64 { return max(x, -x) }

// KeepPlan marks on a student's timeline that what a plan moved is kept.
func (rs *Records) KeepPlan(ctx context.Context, p Plan, by, note string) error {
	_, err := rs.db.AddLesson(ctx, store.Lesson{Server: p.Server, Student: p.Student, Coach: by, Lesson: analysis.Lesson{Note: note}})
	return err
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
