package bot

import (
	"context"
	"fmt"
	"hash/fnv"
	"slices"
	"strconv"
	"strings"

	"rangepost/analysis"
	"rangepost/analysis/plan"
	"rangepost/analysis/trial"
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

// planAsked reads what a plan is asked for.
func planAsked(ctx context.Context, b *Bot, r Call, against []string) (asked record.PlanAsked, err error) {
	asked = record.PlanAsked{Setter: r.Asker.ID, Against: against, Claim: words.Cut(words.Clean(r.Options["claim"]), 200), Seed: seedOf(r.ID)}
	if asked.Club, err = clubAsked(r.Options["club"]); err != nil {
		return asked, of("club", err)
	}
	if asked.Club.Unknown() {
		if asked.Club, err = b.records.UsualClub(ctx, r.Server, r.Student); err != nil {
			return asked, err
		}
	}
	numbers, err := numbersAsked(r.Options["number"])
	switch {
	case err != nil:
		return asked, err
	case len(numbers) > 1:
		return asked, analysis.Refuse("Name the one that matters most; the others are compared as well.", "A plan is about one number.").Of("number")
	case len(numbers) == 1:
		asked.Number = numbers[0]
	default:
		if asked.Number, err = numberOf(ctx, b, r, against[0]); err != nil {
			return asked, err
		}
	}
	_, voice, err := spokenTo(ctx, b, r.Server, r.Student)
	if err != nil {
		return asked, err
	}
	asked.Change, err = changeAsked(r.Options["change"], asked.Number, voice)
	return asked, err
}

// seedOf draws a plan's order: the same for the same request, taken up again.
func seedOf(request string) uint64 {
	h := fnv.New64a()
	h.Write([]byte(request))
	return h.Sum64()
}

// numberOf is the number of interest where none is named: what a setup tool moves
// first, else what the student works on, else where the face points.
func numberOf(ctx context.Context, b *Bot, r Call, label string) (analysis.Number, error) {
	tool := trial.ToolOf(label)
	for _, n := range []analysis.Number{analysis.Face, analysis.Path, analysis.DynamicLoft} {
		if tool != "" && tool.Usual(n, analysis.RightHanded) != 0 {
			return n, nil
		}
	}
	usual, err := b.records.UsualNumber(ctx, r.Server, r.Student)
	if err != nil || slices.Contains(trial.DefaultNumbers(), usual) {
		return usual, err
	}
	return analysis.Face, nil
}

// changeAsked reads how small a change matters, in the golfer's units: "1", "1.5°",
// "5 yd"; 0 of nothing.
func changeAsked(text string, n analysis.Number, voice words.Voice) (float64, error) {
	figure := strings.TrimSpace(text)
	if figure == "" {
		return 0, nil
	}
	if n.Info().Kind == analysis.Length {
		d, err := report.ParseDistance(figure, voice.Units)
		return d, of("change", err)
	}
	end := strings.IndexFunc(figure, func(c rune) bool { return (c < '0' || c > '9') && c != '.' })
	if end < 0 {
		end = len(figure)
	}
	x, err := strconv.ParseFloat(figure[:end], 64)
	if err != nil || x <= 0 {
		return 0, analysis.Refuse("Write a figure, as 1.5.", "\"%s\" is no change of a number.", words.Cut(text, 40)).Of("change")
	}
	return x * voice.Scale(n.Info().Kind), nil
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
		lines = append(lines, voice.PlanShows(p.Card), words.PlanRules())
	} else {
		lines = append(lines, voice.PlanStands(p.Card, p.Result, next)...)
	}
	if !p.Runs() {
		lines = append(lines, planFound(voice, p)...)
	}
	lines = append(lines, claimLines(voice, p)...)
	lines = append(lines, words.Cautions(ballsLeft(p), false)...)
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

// ballsLeft is how many balls the visit asks for that comes next, for the
// cautions.
func ballsLeft(p record.Plan) (balls int) {
	next := p.Next()
	if !p.Runs() || next >= len(p.Card.Turns) {
		return 0
	}
	for _, t := range p.Card.Turns[next:] {
		if t.Visit == p.Card.Turns[next].Visit {
			balls += t.Balls
		}
	}
	return balls
}

func planPicture(voice words.Voice, p record.Plan) func(context.Context) (report.Picture, error) {
	return func(ctx context.Context) (report.Picture, error) {
		voice.Plain = true
		title, next := voice.PlanTitle(p.Card, p.Result, p.Next()), p.Next()
		png, err := pictures.Plan(ctx, pictures.PlanInput{
			Title: title, Below: words.Sentence(voice.PlanAbout(p.Card)) + " · " + words.Count(p.Card.BallsASet, "ball") + " of each", Card: p.Card, Next: next,
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
		reply.Rows = []Row{{Buttons: buttons}}
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
		lines = append(lines, "Taken as: "+words.PlanReading(p.Reading)+".")
	}
	if !p.Runs() {
		lines = append(lines, planFound(voice, p.Plan)...)
		lines = append(lines, claimLines(voice, p.Plan)...)
	}
	return lines
}

// pressPlanBrief opens the form of a brief that keeps what a plan moved.
func pressPlanBrief(ctx context.Context, b *Bot, r Call) (Reply, error) {
	p, err := planOf(ctx, b, r)
	if err != nil {
		return Reply{}, err
	}
	wanted, ok := p.Brief()
	if !ok {
		return Reply{}, analysis.Refuse("`/brief` sets one in a line.", "There is nothing in that plan to make a brief of.")
	}
	student, voice, err := spokenTo(ctx, b, r.Server, p.Student)
	if err != nil {
		return Reply{}, err
	}
	voice.Plain = true
	return Reply{Modal: &Modal{Path: path("briefed", p.Student), Title: words.Cut("Brief for "+titleName(student.Student), 45), Fields: []Field{{
		ID: "text", Label: "One number, limits, club, balls, until when", Required: true, Max: 300, Value: words.Cut(voice.Wanted(wanted), 300),
	}}}}, nil
}

// pressPlanKept marks on the timeline that what a plan moved is kept from now on:
// whether it lasts is then watched like what a lesson changed.
func pressPlanKept(ctx context.Context, b *Bot, r Call) (Reply, error) {
	p, err := planOf(ctx, b, r)
	if err != nil {
		return Reply{}, err
	}
	note := "kept from a plan: " + strings.Join(p.Card.Labels[1:], ", ")
	if err := b.records.KeepPlan(ctx, p, r.Asker.ID, note); err != nil {
		return Reply{}, err
	}
	return Reply{about: p.Student, Text: fmt.Sprintf("Marked on the timeline: \"%s\". From now on `/timeline` says whether it is kept, fading or gone.", words.Escape(note))}, nil
}
