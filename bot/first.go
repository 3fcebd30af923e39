package bot

import (
	"context"
	"fmt"
	"slices"
	"strings"

	"rangepost/analysis"
	"rangepost/bot/report"
	"rangepost/bot/words"
	"rangepost/store"
)

// first is the reply to a session, about set i, in the layer that whoever asked
// reads: the golfer what happened and the one thing to do next, unless they
// chose the figures; a coach the figures at once. lead stands before it, notes
// are said in either.
func first(ctx context.Context, b *Bot, r Call, s store.Session, answer report.Report, i int, lead string, notes ...string) (Reply, error) {
	student, err := b.db.Student(ctx, s.Server, s.Student)
	if err != nil {
		return Reply{}, err
	}
	placing, err := b.records.ForPlan(ctx, &s, &answer)
	if err != nil {
		return Reply{}, err
	}
	if placing != nil {
		return planned(ctx, b, r, s, answer, student, *placing, lead, notes)
	}
	if figuresAtOnce(r, student) || len(answer.Reading.Questions) > 0 || i < 0 {
		reply, err := sessionReply(ctx, b, s, answer, i, lead)
		reply.Text = noted(reply.Text, notes...)
		return reply, err
	}
	rests, err := readingNotes(ctx, b, s, answer)
	if err != nil {
		return Reply{}, err
	}
	text, err := firstText(ctx, b, s, student, answer, i, lead, append(notes, rests...))
	if err != nil {
		return Reply{}, err
	}
	rows, err := b.sessionWays(ctx, s, answer, i)
	if err != nil {
		return Reply{}, err
	}
	reply := Reply{about: s.Student, Text: text, Rows: rows}
	reply.Rows[0].Buttons[0] = Button{Path: path("figures", s.ID, fmt.Sprint(i)), Label: "Figures", Style: Main}
	b.illustrate(ctx, &reply, "post.png", func(ctx context.Context) (report.Picture, error) {
		if t := answer.TrialOf(i); t != nil && !answer.Asks(i) {
			return answer.TrialPicture(ctx, *t, student.Name)
		}
		return answer.Picture(ctx, i, student.Name)
	})
	return reply, nil
}

// figuresAtOnce reports whether whoever asked reads the figures about a student
// first.
func figuresAtOnce(r Call, student store.Student) bool {
	return r.Asker.ID != student.ID || student.Detail == store.Figures
}

// firstText puts the first layer together. What has to be said stands before
// what there may be no words left for, and both in the order they are read in.
func firstText(ctx context.Context, b *Bot, s store.Session, student store.Student, answer report.Report, i int, lead string, notes []string) (string, error) {
	past, err := b.records.Past(ctx, s, answer.Sets[i])
	if err != nil {
		return "", err
	}
	must, may, tool := answer.First(i, past)
	_, says := words.Explained(append(must, may...), student.Explained)
	must = append([]string{lead}, must...)
	if soFar, err := briefLine(ctx, b, s, answer, i); err != nil {
		return "", err
	} else if soFar != "" {
		may = append([]string{soFar}, may...)
	}
	if tool != "" && !slices.Contains(student.Explained, string(tool)) {
		may = append(may, answer.Voice.SetupMeans(tool))
	}
	may = append(may, says...)
	must = append(must, words.Cautions(len(answer.Session.Shots), false)...)
	left := words.FirstWords - len(strings.Fields(strings.Join(notes, " ")))
	text := words.Within(left, append([]string{words.Lines(must...)}, may...)...)
	return noted(text, notes...), nil
}

// briefLine says in words alone how the brief stands with this session, "" for
// one that is about other balls.
func briefLine(ctx context.Context, b *Bot, s store.Session, answer report.Report, i int) (string, error) {
	for _, set := range answer.Sets {
		if set.Club != answer.Sets[i].Club || set.Brief == nil {
			continue
		}
		brief, err := b.records.LastBrief(ctx, s.Server, s.Student)
		if err != nil || brief == nil || brief.Kept.Of == 0 || !s.At.Equal(brief.Last) {
			return "", err
		}
		if brief.Settled != nil && brief.Settled.At.Before(s.Posted) {
			return "", nil // an earlier post was the last that counted, and said so
		}
		return answer.Voice.BriefFirst(brief.Kept, brief.Standing), nil
	}
	return "", nil
}

// pressFigures is the button that shows the layer of figures.
func pressFigures(ctx context.Context, b *Bot, r Call) (Reply, error) {
	answer, i, err := pressedSet(ctx, b, r)
	if err != nil {
		return Reply{}, err
	}
	return sessionReply(ctx, b, r.Session, answer, i, "")
}

// explainOnce takes out of a reply what its reader was told before, and keeps
// what it still explains. Coaches know the words.
func explainOnce(ctx context.Context, b *Bot, r Request, reply *Reply) error {
	if r.Asker.ID != reply.about {
		reply.Text = words.Bare(reply.Text)
		return nil
	}
	student, err := b.db.Student(ctx, r.Server, reply.about)
	if err != nil {
		return err
	}
	var fresh []string
	if reply.Text, fresh = words.Once(reply.Text, student.Explained); len(fresh) == 0 {
		return nil
	}
	return b.db.Explain(ctx, r.Server, reply.about, fresh...)
}

// runDetail is /mine detail.
func runDetail(ctx context.Context, b *Bot, r Call) (Reply, error) {
	detail := store.Detail(r.Options["detail"])
	said := "what happened and the one thing to do next; the figures are one press away"
	switch detail {
	case store.Figures:
		said = "every figure with its limits"
	case "short":
		detail = store.Short
	default:
		return Reply{}, analysis.Refuse("It is short or figures.", "I do not know that detail.").Of("detail")
	}
	if err := b.db.SetDetail(ctx, r.Server, r.Asker.ID, detail); err != nil {
		return Reply{}, err
	}
	return private("Noted: my replies to your posts say " + said + "."), nil
}
