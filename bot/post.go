package bot

import (
	"context"
	"fmt"
	"slices"
	"strings"

	"rangepost/analysis"
	"rangepost/bot/record"
	"rangepost/bot/report"
	"rangepost/bot/words"
	"rangepost/store"
)

// readThis is the command used on a message that has a session file.
const readThis = "Read this session"

// runPost is /post: the file of a session in, its picture and cause out.
func runPost(ctx context.Context, b *Bot, r Call) (Reply, error) {
	said, err := saidBeside(ctx, b, r)
	if err != nil {
		return Reply{}, err
	}
	if withoutFile(r.Request) {
		return postForm(ctx, b, r, said)
	}
	file, ok := r.Files[r.Options["file"]]
	if !ok {
		return Reply{}, analysis.Refuse("Attach it to the command's `file` option.", "There is no file.")
	}
	return postFile(ctx, b, r, file, said)
}

// runRead posts the file of a message: "Read this session" on somebody's
// message, or a message that mentions the bot.
func runRead(ctx context.Context, b *Bot, r Call) (Reply, error) {
	if r.Message != nil && len(r.Message.Files) == 0 && HasRows(r.Message.Text) {
		return postRows(ctx, b, r, rowsOf(r.Message.Text), store.Said{})
	}
	if r.Message == nil || len(r.Message.Files) == 0 {
		return Reply{}, analysis.Refuse("Use this on a message that has a session file or rows of numbers, or use `/post`.", "That message has no file.")
	}
	if len(r.Message.Files) > 1 {
		return Reply{}, analysis.Refuse("Post them one at a time, so that each is a session of its own.", "That message has %d files.", len(r.Message.Files))
	}
	return postFile(ctx, b, r, r.Message.Files[0], store.Said{})
}

// saidBeside is what was said beside the file of a /post.
func saidBeside(ctx context.Context, b *Bot, r Call) (store.Said, error) {
	said := store.Said{Sets: r.Options["sets"], Note: words.Cut(r.Options["note"], 500)}
	var err error
	if said.Club, err = clubAsked(r.Options["club"]); err != nil {
		return said, err
	}
	switch ball := analysis.Ball(r.Options["ball"]); ball {
	case "", analysis.UnknownBall, analysis.NewBall, analysis.RangeBall:
		said.Ball = ball
	default:
		return said, analysis.Refuse("It is new, range or unknown.", "I do not know that kind of ball.")
	}
	if shot := r.Options["shot"]; shot != "" {
		if said.Sets, err = asShot(ctx, b, r, said.Sets, shot); err != nil {
			return said, err
		}
	}
	if target := r.Options["target"]; target != "" {
		asker, err := b.records.Golfer(ctx, r.Server, r.Asker.ID)
		if err != nil {
			return said, err
		}
		if said.Targets, err = report.ParseTargets(target, asker.Shown); err != nil {
			return said, of("target", err)
		}
	}
	return said, nil
}

func postFile(ctx context.Context, b *Bot, r Call, file Attachment, said store.Said) (Reply, error) {
	s, answer, fresh, err := takeFile(ctx, b, r, file, said)
	if err != nil {
		return Reply{}, err
	}
	return posted(ctx, b, r, s, answer, fresh)
}

// posted is the reply to a session that was handed over.
func posted(ctx context.Context, b *Bot, r Call, s store.Session, answer report.Report, fresh bool) (Reply, error) {
	lead := ""
	if !fresh {
		lead = fmt.Sprintf("I have had these balls since %s; they stay one session.", r.day(s.Posted)) + renamedNote(s)
	}
	if !fresh {
		return first(ctx, b, r, s, answer, answer.Main(), lead)
	}
	student, err := b.db.Student(ctx, s.Server, s.Student)
	if err != nil {
		return Reply{}, err
	}
	var notes []string
	for _, presumed := range []func(context.Context, *Bot, store.Session, store.Student) (string, error){presumedHand, presumedZone} {
		note, err := presumed(ctx, b, s, student)
		if err != nil {
			return Reply{}, err
		}
		if note != "" {
			notes = append(notes, note)
		}
	}
	return first(ctx, b, r, s, answer, answer.Main(), lead, notes...)
}

// renamedNote says what a session's clubs were called before they were renamed,
// "" if they were not.
func renamedNote(s store.Session) string {
	var names []string
	for _, was := range s.Was {
		if name := was.String(); !was.Unknown() && !slices.Contains(names, name) {
			names = append(names, name)
		}
	}
	if len(names) == 0 {
		return ""
	}
	return fmt.Sprintf(" Posted as %s and renamed since: a brief or challenge that counted it as that still does.", strings.Join(names, ", "))
}

// takeFile fetches a file and posts it as the student's the call is about.
func takeFile(ctx context.Context, b *Bot, r Call, file Attachment, said store.Said) (s store.Session, answer report.Report, fresh bool, err error) {
	if err := b.quota.take(ctx, r.Asker.ID, b.now()); err != nil {
		return s, answer, false, err
	}
	raw, err := b.fetch(ctx, file)
	if err != nil {
		if ctx.Err() != nil {
			return s, answer, false, ctx.Err()
		}
		return s, answer, false, analysis.Refuse("", "%s", err)
	}
	return takeBytes(ctx, b, r, file.Name, raw, said)
}

// takeBytes posts what was handed over as the student's the call is about.
func takeBytes(ctx context.Context, b *Bot, r Call, name string, raw []byte, said store.Said) (s store.Session, answer report.Report, fresh bool, err error) {
	if r.Student == r.Asker.ID {
		if err := named(ctx, b, r.Server, r.Asker); err != nil {
			return s, answer, false, err
		}
	}
	return b.records.Post(ctx, record.Post{
		Server: r.Server, Student: r.Student, PostedBy: r.Asker.ID, Channel: r.Channel, Request: r.ID, Name: name, Raw: raw, Said: said,
	})
}

// named keeps how somebody is called.
func named(ctx context.Context, b *Bot, server string, p Person) error {
	if p.Name == "" {
		return nil
	}
	return b.db.SetName(ctx, server, p.ID, words.Cut(words.Clean(p.Name), 40))
}

// presumedHand is said under a student's first post, if they never said which
// hand they play from: a left-hander's open is a right-hander's closed.
func presumedHand(ctx context.Context, b *Bot, s store.Session, student store.Student) (string, error) {
	if student.Hand != nil {
		return "", nil
	}
	before, err := b.db.Sessions(ctx, s.Server, s.Student, store.SessionFilter{Limit: 2})
	if err != nil || len(before) > 1 {
		return "", err
	}
	return "Read as right-handed; `/mine hand` changes that.", nil
}

// presumedZone is said under a student's first post with a time on a clock, if
// they never said their time zone, and whenever that clock cannot be the
// clubhouse's.
func presumedZone(ctx context.Context, b *Bot, s store.Session, student store.Student) (string, error) {
	if student.TimeZone != "" {
		return "", nil
	}
	zone, err := b.records.Zone(ctx, s.Server, s.Student)
	if err != nil {
		return "", err
	}
	switch s.Dated {
	case analysis.ByPosting:
		return fmt.Sprintf("By the clock of %s this was hit after you posted it; `/mine zone` says which clock is yours.", zone), nil
	case analysis.ByClock, analysis.ByDay:
	default:
		return "", nil
	}
	all, err := b.db.Sessions(ctx, s.Server, s.Student, store.SessionFilter{})
	for _, other := range all {
		if other.ID != s.ID && other.Dated != analysis.Undated {
			return "", err
		}
	}
	return fmt.Sprintf("Its time is on the clock of %s; `/mine zone` changes that.", zone), err
}

// pressShare shows a reply again, to everybody in the channel.
func pressShare(ctx context.Context, b *Bot, r Call) (Reply, error) {
	answer, err := b.records.Reread(ctx, r.Session)
	if err != nil {
		return Reply{}, err
	}
	var reply Reply
	switch r.Args[0] {
	case "trial":
		reply, err = trialReply(ctx, b, r.Session, answer, 0)
	case "post":
		reply, err = first(ctx, b, r, r.Session, answer, answer.Main(), "")
	default:
		err = errOldButton
	}
	reply.Rows, reply.shared = nil, true
	return reply, err
}

// completeSession offers the sessions of whoever the command is about.
func completeSession(ctx context.Context, b *Bot, r Call) ([]Choice, error) {
	sessions, err := b.db.Sessions(ctx, r.Server, r.Student, store.SessionFilter{Limit: 25})
	if err != nil {
		return nil, err
	}
	var choices []Choice
	for _, s := range sessions {
		choices = append(choices, choice(s.ID, fmt.Sprintf("%s: %s, %d balls", r.day(s.At), words.Clean(s.Name), s.Balls)))
	}
	return choices, nil
}

// clubAsked reads a club as it is typed; the zero club of nothing.
func clubAsked(text string) (analysis.Club, error) {
	c, err := analysis.ParseClub(text)
	if err != nil {
		return c, analysis.Refuse("Write it as driver, 3w, 4h, 7i, pw or 56.", "\"%s\" is not a club I know.", words.Cut(text, 40))
	}
	return c, nil
}
