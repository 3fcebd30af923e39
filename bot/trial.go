package bot

import (
	"context"
	"fmt"

	"rangepost/analysis"
	"rangepost/bot/report"
	"rangepost/bot/words"
	"rangepost/store"
)

// runSets is /sets: which balls were which, then the trial.
func runSets(ctx context.Context, b *Bot, r Call) (Reply, error) {
	return nameSets(ctx, b, r, r.Options["text"])
}

// pressSets opens the form that names sets.
func pressSets(_ context.Context, _ *Bot, r Call) (Reply, error) {
	return Reply{Modal: &Modal{
		Path: path("label", r.Session.ID), Title: "Which balls were which?",
		Fields: []Field{{
			ID: "text", Label: fmt.Sprintf("Balls 1 to %d of this session", r.Session.Balls), Value: r.Session.Said.Sets,
			Placeholder: "1-10 normal, 11-20 strong grip; 3 was a shank", Long: true, Required: true, Max: 1000,
		}},
	}}, nil
}

// submitSets is that form filled in.
func submitSets(ctx context.Context, b *Bot, r Call) (Reply, error) {
	return nameSets(ctx, b, r, r.Fields["text"])
}

func nameSets(ctx context.Context, b *Bot, r Call, text string) (Reply, error) {
	said := r.Session.Said
	said.Sets = words.Cut(text, 1000)
	s, answer, err := b.records.Say(ctx, r.Session, said)
	if err != nil {
		return Reply{}, err
	}
	i := answer.Main()
	if len(answer.Trials) > 0 {
		i = answer.MainOf(answer.Trials[0].Sets[0].Club)
	}
	student, err := b.db.Student(ctx, s.Server, s.Student)
	if err != nil {
		return Reply{}, err
	}
	if len(answer.Trials) > 0 && !answer.Asks(i) && len(answer.Reading.Questions) == 0 && figuresAtOnce(r, student) {
		return trialReply(ctx, b, s, answer, 0)
	}
	return first(ctx, b, r, s, answer, i, "")
}

// runTrial is /trial: the sets of a session compared.
func runTrial(ctx context.Context, b *Bot, r Call) (Reply, error) {
	answer, err := b.records.Reread(ctx, r.Session)
	if err != nil {
		return Reply{}, err
	}
	if answer, err = answer.Against(r.Options["baseline"]); err != nil {
		return Reply{}, err
	}
	return trialReply(ctx, b, r.Session, answer, 0)
}

// pressTrial is the button that asks for it.
func pressTrial(ctx context.Context, b *Bot, r Call) (Reply, error) {
	answer, err := b.records.Reread(ctx, r.Session)
	if err != nil {
		return Reply{}, err
	}
	return trialReply(ctx, b, r.Session, answer, 0)
}

// chooseTrial shows the trial of another club in the same message.
func chooseTrial(ctx context.Context, b *Bot, r Call) (Reply, error) {
	answer, err := b.records.Reread(ctx, r.Session)
	if err != nil {
		return Reply{}, err
	}
	k, err := index(r.Values, len(answer.Trials))
	if err != nil {
		return Reply{}, err
	}
	return trialReply(ctx, b, r.Session, answer, k)
}

// trialReply shows the k-th trial of a session.
func trialReply(ctx context.Context, b *Bot, s store.Session, answer report.Report, k int) (Reply, error) {
	if len(answer.Trials) == 0 {
		return Reply{}, analysis.Refuse("Say which balls were which with `/sets`: 1-10 normal, 11-20 strong grip.", "This session has no two sets of one club to compare.")
	}
	t := answer.Trials[k]
	reply := Reply{about: s.Student, Text: answer.TrialText(t, MaxText)}
	b.illustrate(ctx, &reply, "trial.png", func(ctx context.Context) (report.Picture, error) {
		return answer.TrialPicture(ctx, t, shownName(ctx, b, s))
	})
	buttons := []Button{{Path: path("sets", s.ID), Label: "Name the sets"}}
	if k == 0 {
		buttons = append(buttons, Button{Path: path("share", "trial", s.ID), Label: "Share here"})
	}
	reply.Rows = []Row{{Buttons: buttons}}
	if len(answer.Trials) > 1 {
		menu := &Menu{Path: path("compared", s.ID), Placeholder: "Compare another club's sets"}
		for j, other := range answer.Trials[:min(25, len(answer.Trials))] {
			menu.Choices = append(menu.Choices, choice(fmt.Sprint(j), answer.Voice.SetName(other.Sets[0].Club, "")))
		}
		reply.Rows = append(reply.Rows, Row{Menu: menu})
	}
	return reply, nil
}
