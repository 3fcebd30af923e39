package bot

import (
	"context"
	"slices"
	"strings"

	"rangepost/analysis/plan"
	"rangepost/bot/pictures"
	"rangepost/bot/record"
	"rangepost/bot/report"
	"rangepost/bot/words"
	"rangepost/store"
)

// runPlan is /plan: a trial laid out before a ball is hit, by a coach for a
// student or by students for themselves; without anything to try, the one there
// is.
func runPlan(ctx context.Context, b *Bot, r Call) (Reply, error) {
	against := strings.TrimSpace(r.Options["against"])
	switch {
	case against == "":
		return lastPlan(ctx, b, r)
	case slices.Contains(noBrief, strings.ToLower(against)):
		if err := ignore(b.db.EndPlan(ctx, r.Server, r.Student), store.ErrNotFound); err != nil {
			return Reply{}, err
		}
		return Reply{about: r.Student, Text: "There is no plan under way any more."}, nil
	}
	asked, err := planAsked(ctx, b, r, pieces(against))
	if err != nil {
		return Reply{}, err
	}
	p, err := b.records.SetPlan(ctx, r.Server, r.Student, asked)
	if err != nil {
		return Reply{}, err
	}
	return planReply(ctx, b, r, p)
}

// lastPlan shows the plan a student was set last.
func lastPlan(ctx context.Context, b *Bot, r Call) (Reply, error) {
	p, err := b.records.LastPlan(ctx, r.Server, r.Student)
	if err != nil {
		return Reply{}, err
	}
	if p == nil || !p.Runs() && p.Status == "" {
		return Reply{about: r.Student, Text: "No plan is under way. Lay one out with what you want to try: `/plan against:stronger grip`; it says how many balls it takes, and when enough are hit."}, nil
	}
	return planReply(ctx, b, r, *p)
}

// pressPlan is the button "The plan" under a post.
func pressPlan(ctx context.Context, b *Bot, r Call) (Reply, error) {
	p, err := planOf(ctx, b, r)
	if err != nil {
		return Reply{}, err
	}
	return planReply(ctx, b, r, p)
}

func planOf(ctx context.Context, b *Bot, r Call) (record.Plan, error) {
	kept, err := b.db.Plan(ctx, r.Server, r.Args[0])
	if err != nil {
		return record.Plan{}, err
	}
	return b.records.Plan(ctx, kept)
}

// planReply is a plan with its card and how it stands.
func planReply(ctx context.Context, b *Bot, r Call, p record.Plan) (Reply, error) {
	student, voice, err := spokenTo(ctx, b, r.Server, p.Student)
	if err != nil {
		return Reply{}, err
	}
	next := p.Next()
	lines := []string{words.Sentence(voice.PlanAbout(p.Card)) + "."}
	if next == 0 && p.Runs() {
		lines = append(append(lines, voice.PlanShows(p.Card), words.PlanRules()), voice.PlanCautions(p.Card)...)
	} else {
		lines = append(lines, voice.PlanStands(p.Card, p.Result, next)...)
	}
	if !p.Runs() {
		lines = append(lines, planFound(voice, p)...)
	}
	lines = append(lines, claimLines(voice, p)...)
	reply := Reply{about: p.Student, Rows: planRows(r, p, voice)}
	if turns := voice.PlanTurns(p.Card, next); p.Runs() && len(turns) > 0 {
		if len(turns) > 1 {
			lines = append(lines, turns[0]+" The other visits are in plan.txt, and all of them in the picture.")
			reply.Files = []File{{Name: "plan.txt", Bytes: []byte(strings.Join(append(lines[:len(lines)-1:len(lines)-1], turns...), "\n") + "\n")}}
		} else {
			lines = append(lines, turns[0])
		}
	}
	reply.Text = words.Clip(strings.Join(words.Plainly(lines), "\n"), MaxText)
	if p.Trial != nil && !p.Runs() {
		b.illustrate(ctx, &reply, "plan.png", planTrialPicture(voice, p, student.Name))
	} else {
		b.illustrate(ctx, &reply, "plan.png", planPicture(voice, p))
	}
	return reply, nil
}

func planPicture(voice words.Voice, p record.Plan) func(context.Context) (report.Picture, error) {
	return func(ctx context.Context) (report.Picture, error) {
		voice.Plain = true
		title, next := voice.PlanTitle(p.Card, p.Result, p.Next()), p.Next()
		png, err := pictures.Plan(ctx, pictures.PlanInput{
			Title: title, Below: strings.Join([]string{words.Sentence(p.Card.Club.String()), p.Card.Number.Short(), words.Count(p.Card.BallsASet, "ball") + " of each"}, " · "), Card: p.Card, Next: next,
		})
		alt := words.Cut(title+". "+strings.Join(voice.PlanTurns(p.Card, next), " "), 1000)
		return report.Picture{PNG: png, Alt: alt}, err
	}
}

func planTrialPicture(voice words.Voice, p record.Plan, who string) func(context.Context) (report.Picture, error) {
	return func(ctx context.Context) (report.Picture, error) {
		voice.Plain = true
		png, err := pictures.Trial(ctx, pictures.TrialInput{Voice: voice, Title: voice.TrialTitle(*p.Trial), Who: who, Result: *p.Trial})
		return report.Picture{PNG: png, Alt: voice.AltTrial(*p.Trial)}, err
	}
}

// planFound is what a plan that is over is worth: what else moved, what the path
// did about the face, where the balls finish, and what to keep.
func planFound(voice words.Voice, p record.Plan) []string {
	if p.Trial == nil {
		return nil
	}
	return voice.PlanFound(p.Card, p.Result.Status, *p.Trial, report.Misses(p.Card, p.Placed))
}

func planRows(r Call, p record.Plan, voice words.Voice) []Row {
	var buttons []Button
	if p.Runs() {
		buttons = append(buttons, postButton(p.Student, "Post balls for it"))
	} else if p.Status == string(plan.Moved) {
		if r.Asker.ID != p.Student {
			buttons = append(buttons, Button{Path: path("planbrief", p.ID), Label: "Set a brief from it", Style: Main})
		}
		buttons = append(buttons, Button{Path: path("plankept", p.ID), Label: "Mark it as kept"})
	}
	rows := []Row{}
	if len(buttons) > 0 {
		rows = append(rows, Row{Buttons: buttons})
	}
	return append(rows, claimRows(p, voice)...)
}
