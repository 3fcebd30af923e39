package bot

import (
	"context"
	"errors"
	"fmt"

	"rangepost/analysis"
	"rangepost/bot/report"
	"rangepost/bot/words"
	"rangepost/store"
)

// runSets is /sets: which balls were which, then the trial.
func runSets(ctx context.Context, b *Bot, r Request) (Reply, error) {
	s, err := b.chosen(ctx, r)
	if err != nil {
		return Reply{}, err
	}
	return b.nameSets(ctx, s, r.Options["text"])
}

// pressSets opens the form that names sets.
func pressSets(ctx context.Context, b *Bot, r Request, args []string) (Reply, error) {
	s, err := b.readable(ctx, r, args[0])
	if err != nil {
		return Reply{}, err
	}
	return Reply{Modal: &Modal{
		Path: path("label", s.ID), Title: "Which balls were which?",
		Fields: []Field{{
			ID: "text", Label: fmt.Sprintf("Balls 1 to %d of this session", s.Balls), Value: s.Said.Sets,
			Placeholder: "1-10 normal, 11-20 strong grip; 3 was a shank", Long: true, Required: true, Max: 1000,
		}},
	}}, nil
}

// submitSets is that form filled in.
func submitSets(ctx context.Context, b *Bot, r Request, args []string) (Reply, error) {
	s, err := b.readable(ctx, r, args[0])
	if err != nil {
		return Reply{}, err
	}
	return b.nameSets(ctx, s, r.Fields["text"])
}

func (b *Bot) nameSets(ctx context.Context, s store.Session, text string) (Reply, error) {
	said := s.Said
	said.Sets = words.Cut(text, 1000)
	s.Said = said
	answer, err := b.reread(ctx, s)
	if err != nil {
		return Reply{}, err
	}
	if s, err = b.db.ReplaceReading(ctx, s.Server, s.ID, keepReading(answer), said); err != nil {
		return Reply{}, err
	}
	if answer.Trial == nil || len(answer.Reading.Questions) > 0 {
		return b.sessionReply(ctx, s, answer, answer.Main(), "")
	}
	return b.trialReply(ctx, s, answer)
}

// runTrial is /trial: the sets of a session compared.
func runTrial(ctx context.Context, b *Bot, r Request) (Reply, error) {
	s, err := b.chosen(ctx, r)
	if err != nil {
		return Reply{}, err
	}
	answer, err := b.reread(ctx, s)
	if err != nil {
		return Reply{}, err
	}
	if answer, err = answer.Against(r.Options["baseline"]); err != nil {
		return Reply{}, err
	}
	return b.trialReply(ctx, s, answer)
}

func pressTrial(ctx context.Context, b *Bot, r Request, args []string) (Reply, error) {
	s, answer, err := b.opened(ctx, r, args[0])
	if err != nil {
		return Reply{}, err
	}
	return b.trialReply(ctx, s, answer)
}

func (b *Bot) trialReply(ctx context.Context, s store.Session, answer report.Report) (Reply, error) {
	if answer.Trial == nil {
		return Reply{}, analysis.Refuse("Say which balls were which with `/sets`: 1-10 normal, 11-20 strong grip.", "This session has no two sets of one club to compare.")
	}
	reply := Reply{about: s.Student, Text: answer.TrialText(MaxText)}
	b.illustrate(ctx, &reply, "trial.png", func(ctx context.Context) (report.Picture, error) {
		return answer.TrialPicture(ctx, b.displayName(ctx, s))
	})
	reply.Rows = []Row{{Buttons: []Button{
		{Path: path("sets", s.ID), Label: "Name the sets"},
		{Path: path("share", "trial", s.ID), Label: "Share here"},
	}}}
	return reply, nil
}

// runCause is /cause: the whole explanation.
func runCause(ctx context.Context, b *Bot, r Request) (Reply, error) {
	s, err := b.chosen(ctx, r)
	if err != nil {
		return Reply{}, err
	}
	want, err := club(r)
	if err != nil {
		return Reply{}, err
	}
	answer, err := b.reread(ctx, s)
	if err != nil {
		return Reply{}, err
	}
	i := answer.Main()
	if !want.Unknown() {
		if i = answer.MainOf(want); i < 0 {
			return Reply{}, analysis.Refuse("Leave the option out to see the club with the most balls.", "That session has no ball with the %s.", want)
		}
	}
	return b.causeReply(ctx, s, answer, i)
}

func pressCause(ctx context.Context, b *Bot, r Request, args []string) (Reply, error) {
	s, answer, err := b.opened(ctx, r, args[0])
	if err != nil {
		return Reply{}, err
	}
	i, err := index(args[1:], len(answer.Sets))
	if err != nil {
		return Reply{}, err
	}
	return b.causeReply(ctx, s, answer, i)
}

func (b *Bot) causeReply(ctx context.Context, s store.Session, answer report.Report, i int) (Reply, error) {
	if len(answer.Reading.Questions) > 0 {
		return askQuestions(s, answer.Reading.Questions, Reply{about: s.Student}), nil
	}
	if i < 0 {
		return Reply{}, errors.New("bot: a kept session without a ball")
	}
	reply, err := b.sessionReply(ctx, s, answer, i, "")
	if err != nil {
		return Reply{}, err
	}
	text, whole := answer.Explain(i, MaxText)
	reply.Text, reply.Rows = text, nil
	if whole != "" {
		reply.Files = []File{{Name: "why-in-full.txt", Bytes: []byte(whole)}}
	}
	return reply, nil
}

// completeSession offers the sessions of whoever the command is about.
func completeSession(ctx context.Context, b *Bot, r Request) ([]Choice, error) {
	student, err := b.subject(ctx, r)
	if err != nil {
		return nil, err
	}
	sessions, err := b.db.Sessions(ctx, r.Server, student, store.SessionFilter{Limit: 25})
	if err != nil {
		return nil, err
	}
	var choices []Choice
	for _, s := range sessions {
		choices = append(choices, Choice{Value: s.ID, Text: words.Cut(fmt.Sprintf("%s: %s, %d balls", day(s.At), words.Clean(s.Name), s.Balls), 100)})
	}
	return choices, nil
}
