package bot

import (
	"context"
	"fmt"
	"strings"

	"rangepost/analysis"
	"rangepost/bot/report"
	"rangepost/bot/words"
	"rangepost/store"
)

// runPost is /post: the file of a session in, its picture and cause out.
func runPost(ctx context.Context, b *Bot, r Request) (Reply, error) {
	file, ok := r.Files[r.Options["file"]]
	if !ok {
		return Reply{}, analysis.Refuse("Attach it to the command's `file` option.", "There is no file.")
	}
	said, err := b.saidBeside(ctx, r)
	if err != nil {
		return Reply{}, err
	}
	student, err := b.subject(ctx, r)
	if err != nil {
		return Reply{}, err
	}
	return b.postFile(ctx, r, student, file, said)
}

// readMessage posts the file of a message: "Read this session" on somebody's
// message, or a message that mentions the bot. The session is the author's; a
// coach may do it for a student of theirs, and in a lesson thread what the
// coach hands over is the student's.
func readMessage(ctx context.Context, b *Bot, r Request) (Reply, error) {
	if r.Message == nil || len(r.Message.Files) == 0 {
		return Reply{}, analysis.Refuse("Use this on a message that has a session file, or use `/post`.", "That message has no file.")
	}
	if len(r.Message.Files) > 1 {
		return Reply{}, analysis.Refuse("Post them one at a time, so that each is a session of its own.", "That message has %d files.", len(r.Message.Files))
	}
	student := r.Message.Author.ID
	if student == r.Asker.ID {
		var err error
		if student, err = b.subject(ctx, r); err != nil {
			return Reply{}, err
		}
	} else if err := b.mayRead(ctx, r, student); err != nil {
		return Reply{}, analysis.Refuse("Only they, and the coach they agreed to, can have it read.", "That file is somebody else's.")
	}
	return b.postFile(ctx, r, student, r.Message.Files[0], store.Said{})
}

// saidBeside is what was said beside the file of a /post.
func (b *Bot) saidBeside(ctx context.Context, r Request) (store.Said, error) {
	said := store.Said{Sets: r.Options["sets"], Note: words.Cut(r.Options["note"], 500)}
	var err error
	if said.Club, err = club(r); err != nil {
		return said, err
	}
	switch ball := analysis.Ball(r.Options["ball"]); ball {
	case "", analysis.UnknownBall, analysis.NewBall, analysis.RangeBall:
		said.Ball = ball
	default:
		return said, analysis.Refuse("It is new, range or unknown.", "I do not know that kind of ball.")
	}
	if target := r.Options["target"]; target != "" {
		_, voice, err := b.spokenTo(ctx, r.Server, r.Asker.ID)
		if err != nil {
			return said, err
		}
		if said.Target, err = report.ParseDistance(target, voice.Units); err != nil {
			return said, of("target", err)
		}
	}
	return said, nil
}

func (b *Bot) postFile(ctx context.Context, r Request, student string, file Attachment, said store.Said) (Reply, error) {
	kept, answer, created, err := b.keepFile(ctx, r, student, file, said)
	if err != nil {
		return Reply{}, err
	}
	lead := ""
	if !created {
		lead = fmt.Sprintf("I have had this file since %s; it stays one session.", day(kept.Posted))
	}
	reply, err := b.sessionReply(ctx, kept, answer, answer.Main(), lead)
	if err != nil {
		return Reply{}, err
	}
	if !created {
		return reply, nil
	}
	return b.presumedHand(ctx, kept, reply)
}

// keepFile fetches, reads and keeps a file. One that was there before stays one
// session, with what is said of it now; created is false.
func (b *Bot) keepFile(ctx context.Context, r Request, student string, file Attachment, said store.Said) (kept store.Session, answer report.Report, created bool, err error) {
	if err := b.quota.take(r.Asker.ID, b.now()); err != nil {
		return kept, answer, false, err
	}
	raw, err := b.fetch(ctx, file)
	if err != nil {
		if ctx.Err() != nil {
			return kept, answer, false, ctx.Err()
		}
		return kept, answer, false, analysis.Refuse("", "%s", err)
	}
	if student == r.Asker.ID && r.Asker.Name != "" {
		if err := b.db.SetName(ctx, r.Server, student, words.Cut(words.Clean(r.Asker.Name), 40)); err != nil {
			return kept, answer, false, err
		}
	}
	answer, err = b.read(ctx, post{server: r.Server, student: student, name: file.Name, raw: raw, said: said})
	if err != nil {
		return kept, answer, false, err
	}
	kept, created, err = b.db.PostSession(ctx, store.NewSession{
		Server: r.Server, Student: student, PostedBy: r.Asker.ID, Channel: r.Channel,
		Name: file.Name, Raw: raw, Reading: keepReading(answer), Said: said,
	})
	if err != nil || created {
		return kept, answer, created, err
	}
	// What was said this time is said of the same session; what was said before
	// and not now still holds.
	merged := mergeSaid(kept.Said, said)
	if answer, err = b.read(ctx, post{server: r.Server, student: student, name: file.Name, raw: raw, said: merged}); err != nil {
		return kept, answer, false, err
	}
	kept, err = b.db.ReplaceReading(ctx, r.Server, kept.ID, keepReading(answer), merged)
	return kept, answer, false, err
}

// presumedHand adds to the reply to a student's first post that somebody who
// never said so is taken for right-handed: a left-hander's open is a
// right-hander's closed.
func (b *Bot) presumedHand(ctx context.Context, s store.Session, reply Reply) (Reply, error) {
	student, err := b.db.Student(ctx, s.Server, s.Student)
	if err != nil || student.Hand != nil {
		return reply, err
	}
	before, err := b.db.Sessions(ctx, s.Server, s.Student, store.SessionFilter{Limit: 2})
	if err != nil || len(before) > 1 {
		return reply, err
	}
	const note = "\nRead as a right-hander's; `/mine hand` says which hand it is."
	reply.Text = clip(reply.Text, MaxText-len(note)) + note
	return reply, nil
}

func mergeSaid(before, now store.Said) store.Said {
	if now.Club.Unknown() {
		now.Club = before.Club
	}
	if now.Ball == "" {
		now.Ball = before.Ball
	}
	if now.Target == 0 {
		now.Target = before.Target
	}
	if now.When.IsZero() {
		now.When = before.When
	}
	if now.Sets == "" {
		now.Sets = before.Sets
	}
	if now.Note == "" {
		now.Note = before.Note
	}
	if now.Answers == nil {
		now.Answers = before.Answers
	}
	return now
}

// sessionReply is the reply to a session, about set i first: the questions
// that are open, or the cause, the picture and where to go from there.
func (b *Bot) sessionReply(ctx context.Context, s store.Session, answer report.Report, i int, lead string) (Reply, error) {
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
	text, err := b.sessionText(ctx, s, answer, i, MaxText-len([]rune(lead)))
	if err != nil {
		return Reply{}, err
	}
	reply.Text = lead + text
	b.illustrate(ctx, &reply, "post.png", func(ctx context.Context) (report.Picture, error) {
		return answer.Picture(ctx, i, b.displayName(ctx, s))
	})
	reply.Rows = sessionRows(s, answer, i)
	return reply, nil
}

// sessionRows are the ways on from a session's reply.
func sessionRows(s store.Session, answer report.Report, i int) []Row {
	buttons := []Button{
		{Path: path("cause", s.ID, fmt.Sprint(i)), Label: "Why, in full", Style: Main},
		{Path: path("sets", s.ID), Label: "Name the sets"},
	}
	if answer.Trial != nil {
		buttons = append(buttons, Button{Path: path("trial", s.ID), Label: "Compare the sets"})
	}
	buttons = append(buttons, Button{Path: path("share", "post", s.ID), Label: "Share here"})
	rows := []Row{{Buttons: buttons}}
	if len(answer.Sets) > 1 {
		menu := &Menu{Path: path("set", s.ID), Placeholder: "Show another set"}
		for j, set := range answer.Sets {
			if j == 25 {
				break
			}
			menu.Choices = append(menu.Choices, Choice{Value: fmt.Sprint(j), Text: words.Cut(setTitle(set), 100)})
		}
		rows = append(rows, Row{Menu: menu})
	}
	return rows
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
func chooseSet(ctx context.Context, b *Bot, r Request, args []string) (Reply, error) {
	s, answer, err := b.opened(ctx, r, args[0])
	if err != nil {
		return Reply{}, err
	}
	i, err := index(r.Values, len(answer.Sets))
	if err != nil {
		return Reply{}, err
	}
	return b.sessionReply(ctx, s, answer, i, "")
}

// pressShare shows a reply again, to everybody in the channel. Only the one
// whose numbers they are can do that.
func pressShare(ctx context.Context, b *Bot, r Request, args []string) (Reply, error) {
	s, err := b.db.Session(ctx, r.Server, args[1])
	if err != nil {
		return Reply{}, err
	}
	if s.Student != r.Asker.ID {
		return Reply{}, analysis.Refuse("They can share it themselves.", "Only the one who hit these balls can share them.")
	}
	if b.known.junior(r.Server, s.Student) {
		return Reply{}, analysis.Refuse("They stay yours, your coach's and your guardian's.", "A junior's numbers cannot be shared here.")
	}
	answer, err := b.reread(ctx, s)
	if err != nil {
		return Reply{}, err
	}
	var reply Reply
	switch args[0] {
	case "trial":
		reply, err = b.trialReply(ctx, s, answer)
	case "post":
		reply, err = b.sessionReply(ctx, s, answer, answer.Main(), "")
	default:
		err = errOldButton
	}
	reply.Rows, reply.shared = nil, true
	return reply, err
}

// displayName is a student's name as last seen, for the picture.
func (b *Bot) displayName(ctx context.Context, s store.Session) string {
	student, err := b.db.Student(ctx, s.Server, s.Student)
	if err != nil {
		return ""
	}
	return student.Name
}
