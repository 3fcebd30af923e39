package bot

import (
	"context"
	"fmt"
	"slices"

	"rangepost/analysis/plan"
	"rangepost/analysis/timeline"
	"rangepost/bot/record"
	"rangepost/bot/report"
	"rangepost/bot/words"
	"rangepost/store"
)

// planned is the reply to a session that was hit for a plan: which of its balls
// are which where that has to be asked, else how the plan stands. What one visit
// shows by itself is under Figures: looked at by itself, visit after visit, it
// would cry wolf.
func planned(ctx context.Context, b *Bot, r Call, s store.Session, answer report.Report, student store.Student, placing record.Placing, lead string, notes []string) (Reply, error) {
	_, voice, err := spokenTo(ctx, b, s.Server, s.Student)
	if err != nil {
		return Reply{}, err
	}
	reply := Reply{about: s.Student}
	if len(placing.Likely) > 0 {
		reply.Text = noted(words.Lines(lead, voice.PlanAsks(placing.Card, len(answer.Session.Shots))), notes...)
		var buttons []Button
		for _, reading := range placing.Likely {
			buttons = append(buttons, Button{Path: path("place", s.ID, reading.Key), Label: words.Cut(words.Sentence(words.PlanReading(reading)), 80)})
		}
		for row := range slices.Chunk(buttons, 4) {
			reply.Rows = append(reply.Rows, Row{Buttons: row})
		}
		return reply, nil
	}
	rests, err := readingNotes(ctx, b, s, answer)
	if err != nil {
		return Reply{}, err
	}
	lines := words.Plainly(append([]string{lead}, planLead(voice, placing)...))
	lines = append(lines, words.Cautions(len(answer.Session.Shots), false)...)
	reply.Text = noted(words.Lines(lines...), append(notes, rests...)...)
	i := answer.MainOf(placing.Card.Club)
	if reply.Rows, err = b.sessionWays(ctx, s, answer, i); err != nil {
		return Reply{}, err
	}
	reply.Rows[0].Buttons[0] = Button{Path: path("figures", s.ID, fmt.Sprint(i)), Label: "Figures", Style: Main}
	rows := planRows(r, placing.Plan, voice)
	if placing.Runs() {
		rows = []Row{{Buttons: []Button{{Path: path("plan", placing.ID), Label: "The plan"}, {Path: path("misplaced", s.ID), Label: "Not hit like that"}}}}
	}
	reply.Rows = append(reply.Rows, rows...)
	if placing.Trial != nil && !placing.Runs() {
		b.illustrate(ctx, &reply, "plan.png", planTrialPicture(voice, placing.Plan, student.Name))
	} else {
		b.illustrate(ctx, &reply, "plan.png", planPicture(voice, placing.Plan))
	}
	return reply, nil
}

// pressPlace places a session's balls as somebody says they were hit.
func pressPlace(ctx context.Context, b *Bot, r Call) (Reply, error) {
	answer, err := b.records.Reread(ctx, r.Session)
	if err != nil {
		return Reply{}, err
	}
	s := r.Session
	if _, err := b.records.TakeReading(ctx, &s, &answer, r.Args[1]); err != nil {
		return Reply{}, err
	}
	return first(ctx, b, r, s, answer, answer.Main(), "")
}

// pressMisplaced asks how a session's balls were hit, as somebody says that it was
// not as they were taken.
func pressMisplaced(ctx context.Context, b *Bot, r Call) (Reply, error) {
	answer, err := b.records.Reread(ctx, r.Session)
	if err != nil {
		return Reply{}, err
	}
	s := r.Session
	placing, err := b.records.Misplaced(ctx, &s, &answer)
	if err != nil {
		return Reply{}, err
	}
	student, err := b.db.Student(ctx, s.Server, s.Student)
	if err != nil {
		return Reply{}, err
	}
	if placing == nil || len(placing.Likely) == 0 {
		return first(ctx, b, r, s, answer, answer.Main(), "")
	}
	return planned(ctx, b, r, s, answer, student, *placing, "", nil)
}

// planLead is what a reply to a session says of the plan it was hit for, before
// all else.
func planLead(voice words.Voice, p record.Placing) []string {
	lines := voice.PlanStands(p.Card, p.Result, p.Next())
	if p.New && len(p.Reading.Parts) > 0 {
		lines = append(lines, words.PlanTaken(p.Reading))
	}
	if !p.Runs() {
		lines = append(lines, planFound(voice, p.Plan)...)
		lines = append(lines, claimLines(voice, p.Plan)...)
	}
	return lines
}

// plansTold says of a timeline how the plans with its clubs ended, the last of them
// first, and what became of their claims.
func plansTold(ctx context.Context, b *Bot, r Call, voice words.Voice, results []timeline.Result) (lines []string, err error) {
	const most = 2
	all, err := b.records.SettledPlans(ctx, r.Server, r.Student, clubsOf(results))
	if err != nil {
		return nil, err
	}
	for _, settled := range slices.Backward(all[max(0, len(all)-most):]) {
		p, err := b.records.Plan(ctx, settled.Plan)
		if err != nil {
			return nil, err
		}
		line := words.Sentence(voice.PlanSettled(plan.Status(p.Status), p.Found)) + ", " + r.day(p.Settled) + "."
		if answered := claimLines(voice, p); len(answered) > 0 {
			line += " " + answered[0]
		}
		lines = append(lines, line)
	}
	return lines, nil
}
