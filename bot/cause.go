package bot

import (
	"context"
	"errors"
	"fmt"
	"strings"

	"rangepost/analysis"
	"rangepost/analysis/integrity"
	"rangepost/analysis/timeline"
	"rangepost/bot/report"
	"rangepost/bot/words"
	"rangepost/store"
)

// sessionReply is the reply to a session, about set i first: the questions
// that are open, or the cause, the picture and where to go from there.
func sessionReply(ctx context.Context, b *Bot, s store.Session, answer report.Report, i int, lead string) (Reply, error) {
	reply := Reply{about: s.Student}
	if len(answer.Reading.Questions) > 0 {
		return askQuestions(s, answer.Reading.Questions, reply), nil
	}
	if i < 0 || i >= len(answer.Sets) {
		return Reply{}, analysis.Refuse("Check that it has one row a ball.", "That file has no ball in it.")
	}
	if lead != "" {
		lead += "\n"
	}
	text, err := sessionText(ctx, b, s, answer, i, MaxText-len([]rune(lead)))
	if err != nil {
		return Reply{}, err
	}
	notes, err := readingNotes(ctx, b, s, answer)
	if err != nil {
		return Reply{}, err
	}
	reply.Text = noted(lead+text, notes...)
	b.illustrate(ctx, &reply, "post.png", func(ctx context.Context) (report.Picture, error) {
		return answer.Picture(ctx, i, shownName(ctx, b, s))
	})
	reply.Rows, err = b.sessionWays(ctx, s, answer, i)
	return reply, err
}

// readingNotes say what a reading rests on that nobody here said: others' answers,
// and custom.
func readingNotes(ctx context.Context, b *Bot, s store.Session, answer report.Report) (notes []string, err error) {
	if note := borrowedNote(answer.Borrowed); note != "" {
		notes = append(notes, note)
	}
	said, err := saysCustomary(ctx, b, s, answer)
	if said {
		notes = append(notes, customary(answer.Reading.Customary.Only))
	}
	return append(notes, fileTells(answer)...), err
}

// mostTold is how much of what a file tells of itself is said with a post.
const mostTold = 2

// fileTells says what a file itself tells: rows missing, figures that do not
// hang together.
func fileTells(answer report.Report) []string {
	lines := answer.Voice.Caveats(integrity.Of(answer.Reading.Written, answer.Session))
	return lines[:min(len(lines), mostTold)]
}

// noted is a text with notes that are not cut below it.
func noted(text string, notes ...string) string {
	if len(notes) == 0 {
		return text
	}
	note := strings.Join(notes, "\n")
	return words.Clip(text, MaxText-len([]rune(note))-1) + "\n" + note
}

// customaryNote is said where custom alone decided which side is plus.
const customaryNote = "Plus is taken for right of target, as is usual: nothing in the file says so."

// customary says that custom alone decided which side is plus, of all or only of
// a number that nothing ties to those that were answered.
func customary(only string) string {
	if only == "" {
		return customaryNote
	}
	return fmt.Sprintf("The %s is taken to count to the same side as the rest: nothing in the file says so.", only)
}

// saysCustomary reports whether a reply says so: with the first file of its kind
// alone. The button that turns it round stays with all of them.
func saysCustomary(ctx context.Context, b *Bot, s store.Session, answer report.Report) (bool, error) {
	if q := answer.Reading.Customary; q == nil || q.Answered {
		return false, nil
	}
	return b.db.FirstWithHeader(ctx, s)
}

// sessionText is what a reply says of set i of a session in so many characters,
// and how far the brief is with it.
func sessionText(ctx context.Context, b *Bot, s store.Session, answer report.Report, i, room int) (string, error) {
	soFar := ""
	if answer.Sets[i].Brief != nil {
		brief, err := b.records.LastBrief(ctx, s.Server, s.Student)
		if err != nil {
			return "", err
		}
		// Only the latest session of the brief says how far it is: an older one
		// looked at again would say what came after it.
		if brief != nil && brief.Kept.Of > 0 && s.At.Equal(brief.Last) {
			soFar = answer.Voice.SoFar(brief.Kept, brief.Standing, brief.Sessions)
		}
	}
	if soFar == "" {
		return answer.Text(i, room), nil
	}
	return answer.Text(i, room-len([]rune(soFar))-1) + "\n" + soFar, nil
}

// sessionWays are the ways on from a session's reply. Where sets were compared and
// the brief does not say which it is about, that is asked.
func (b *Bot) sessionWays(ctx context.Context, s store.Session, answer report.Report, i int) ([]Row, error) {
	rows := sessionRows(s, answer, i)
	t := answer.TrialOf(i)
	if t == nil || t.Sets[0].Club != answer.Trials[0].Sets[0].Club || len(t.Sets) < 3 {
		return rows, nil // the one that was tried
	}
	brief, err := b.records.LastBrief(ctx, s.Server, s.Student)
	if err != nil || brief == nil || brief.Standing != timeline.Running || brief.Label != "" || brief.At.After(s.Posted) {
		return rows, err
	}
	menu := &Menu{Path: path("about", s.ID), Placeholder: "Which set is the brief about?"}
	for j, side := range t.Sets {
		if j < 25 && side.Label != "" {
			menu.Choices = append(menu.Choices, choice(fmt.Sprint(j), words.Clean(side.Label)))
		}
	}
	if len(menu.Choices) > 0 {
		rows = append(rows, Row{Menu: menu})
	}
	return rows, nil
}

// sessionRows are the ways on from a session's reply.
func sessionRows(s store.Session, answer report.Report, i int) []Row {
	buttons := []Button{
		{Path: path("cause", s.ID, fmt.Sprint(i)), Label: "Why, in full", Style: Main},
		{Path: path("sets", s.ID), Label: "Name the sets"},
	}
	if len(answer.Trials) > 0 {
		buttons = append(buttons, Button{Path: path("trial", s.ID), Label: "Compare the sets"})
	}
	buttons = append(buttons, Button{Path: path("share", "post", s.ID), Label: "Share here"})
	if len(answer.Borrowed) > 0 {
		buttons = append(buttons, Button{Path: path("turn", s.ID), Label: "Not so for mine"})
	} else if q := answer.Reading.Customary; q != nil {
		label := "Turn left and right round"
		if q.Only != "" {
			label = "Turn the " + q.Only + " round"
		}
		buttons = append(buttons, Button{Path: path("mirror", s.ID), Label: label})
	}
	rows := []Row{{Buttons: buttons}}
	if len(answer.Sets) > 1 {
		menu := &Menu{Path: path("set", s.ID), Placeholder: "Show another set"}
		for j, set := range answer.Sets {
			if j == 25 {
				break
			}
			menu.Choices = append(menu.Choices, choice(fmt.Sprint(j), setTitle(set)))
		}
		rows = append(rows, Row{Menu: menu})
	}
	next := postButton(s.Student, "Post the next one")
	next.Style = Plain
	return append(rows, Row{Buttons: []Button{next}})
}

// setTitle names a set in a menu, which shows text as it is.
func setTitle(s report.Set) string {
	title := s.Club.String()
	if s.Club.Unknown() {
		title = "no club named"
	}
	if s.Label != "" {
		title += ", " + words.Clean(s.Label)
	}
	return fmt.Sprintf("%s (%d balls)", strings.ToUpper(title[:1])+title[1:], len(s.Shots))
}

// chooseSet shows another set of the same session in the same message.
func chooseSet(ctx context.Context, b *Bot, r Call) (Reply, error) {
	answer, err := b.records.Reread(ctx, r.Session)
	if err != nil {
		return Reply{}, err
	}
	i, err := index(r.Values, len(answer.Sets))
	if err != nil {
		return Reply{}, err
	}
	return sessionReply(ctx, b, r.Session, answer, i, "")
}

// runCause is /cause: the whole explanation.
func runCause(ctx context.Context, b *Bot, r Call) (Reply, error) {
	want, err := clubAsked(r.Options["club"])
	if err != nil {
		return Reply{}, err
	}
	answer, err := b.records.Reread(ctx, r.Session)
	if err != nil {
		return Reply{}, err
	}
	i := answer.Main()
	if !want.Unknown() {
		if i = answer.MainOf(want); i < 0 {
			return Reply{}, analysis.Refuse("Leave the option out to see the club with the most balls.", "That session has no ball with the %s.", want)
		}
	}
	return causeReply(ctx, b, r.Session, answer, i)
}

// pressCause is the button that asks for it.
func pressCause(ctx context.Context, b *Bot, r Call) (Reply, error) {
	answer, i, err := pressedSet(ctx, b, r)
	if err != nil {
		return Reply{}, err
	}
	return causeReply(ctx, b, r.Session, answer, i)
}

// pressedSet is the answer to the session of a button, and which set it is about.
func pressedSet(ctx context.Context, b *Bot, r Call) (answer report.Report, i int, err error) {
	if answer, err = b.records.Reread(ctx, r.Session); err != nil {
		return answer, 0, err
	}
	i, err = index(r.Args[1:], len(answer.Sets))
	return answer, i, err
}

func causeReply(ctx context.Context, b *Bot, s store.Session, answer report.Report, i int) (Reply, error) {
	if len(answer.Reading.Questions) > 0 {
		return askQuestions(s, answer.Reading.Questions, Reply{about: s.Student}), nil
	}
	if i < 0 {
		return Reply{}, errors.New("bot: a kept session without a ball")
	}
	reply, err := sessionReply(ctx, b, s, answer, i, "")
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

// shownName is a student's name as last seen, for the picture.
func shownName(ctx context.Context, b *Bot, s store.Session) string {
	student, err := b.db.Student(ctx, s.Server, s.Student)
	if err != nil {
		return ""
	}
	return student.Name
}
