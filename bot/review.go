package bot

import (
	"context"
	"fmt"
	"strings"

	"rangepost/analysis"
	"rangepost/bot/words"
	"rangepost/store"
)

// everybody is the scope of a review of all students; else it is one's id.
const everybody = "all"

// runReview is /review: the oldest post the coach has not looked at. Opening it
// marks nothing.
func runReview(ctx context.Context, b *Bot, r Request) (Reply, error) {
	scope := everybody
	if student := r.Options["student"]; student != "" {
		if err := b.coaches(ctx, r, student); err != nil {
			return Reply{}, err
		}
		scope = student
	}
	return b.reviewNext(ctx, r, scope, "", "")
}

// pressReview shows the next post after another, which stays as it was.
func pressReview(ctx context.Context, b *Bot, r Request, args []string) (Reply, error) {
	if err := b.inScope(ctx, r, args[0]); err != nil {
		return Reply{}, err
	}
	return b.reviewNext(ctx, r, args[0], args[1], "")
}

// pressLooked marks a post as looked at and shows the next.
func pressLooked(ctx context.Context, b *Bot, r Request, args []string) (Reply, error) {
	s, err := b.coachable(ctx, r, args[1])
	if err != nil {
		return Reply{}, err
	}
	if err := b.inScope(ctx, r, args[0]); err != nil {
		return Reply{}, err
	}
	if err := b.db.LookedAt(ctx, r.Server, r.Asker.ID, s.ID); err != nil {
		return Reply{}, err
	}
	return b.reviewNext(ctx, r, args[0], s.ID, "Marked as looked at.")
}

// pressComment opens the form of a comment.
func pressComment(ctx context.Context, b *Bot, r Request, args []string) (Reply, error) {
	s, err := b.coachable(ctx, r, args[1])
	if err != nil {
		return Reply{}, err
	}
	return Reply{Modal: &Modal{
		Path: path("commented", args[0], s.ID), Title: words.Cut("On the session of "+day(s.At), 45),
		Fields: []Field{{ID: "text", Label: "Your comment, posted in their thread", Long: true, Required: true, Max: maxComment}},
	}}, nil
}

const maxComment = 800

// submitComment posts the comment in the student's thread, tells them, and
// marks the post as looked at: who comments has looked.
func submitComment(ctx context.Context, b *Bot, r Request, args []string) (Reply, error) {
	s, err := b.coachable(ctx, r, args[1])
	if err != nil {
		return Reply{}, err
	}
	if err := b.inScope(ctx, r, args[0]); err != nil {
		return Reply{}, err
	}
	binding, err := b.db.StudentBinding(ctx, r.Server, s.Student)
	if err != nil {
		return Reply{}, err
	}
	text := quotation(words.Cut(r.Fields["text"], maxComment))
	if text == "" {
		return Reply{}, analysis.Refuse("Write something, or press Looked at.", "That comment is empty.")
	}
	if err := b.db.LookedAt(ctx, r.Server, r.Asker.ID, s.ID); err != nil {
		return Reply{}, err
	}
	reply, err := b.reviewNext(ctx, r, args[0], s.ID, fmt.Sprintf("Posted in <#%s>, and marked as looked at.", binding.Thread))
	if err != nil {
		return Reply{}, err
	}
	reply.Also = []Post{{Channel: binding.Thread, Reply: Reply{
		Text:   fmt.Sprintf("<@%s>, <@%s> on your session of %s:\n%s", s.Student, r.Asker.ID, day(s.At), text),
		Notify: []string{s.Student},
	}}}
	return reply, nil
}

// quotation is somebody's lines, each escaped and marked as theirs.
func quotation(text string) string {
	var lines []string
	for line := range strings.Lines(text) {
		if line = escape(line); line != "" {
			lines = append(lines, "> "+line)
		}
	}
	return strings.Join(lines, "\n")
}

// inScope is nil if the asker may review that scope.
func (b *Bot) inScope(ctx context.Context, r Request, scope string) error {
	if scope == everybody {
		return b.allowed(r, Coach)
	}
	return b.coaches(ctx, r, scope)
}

// reviewNext is the next unread post of a scope after another, "" or "0" for
// the first. lead says what was just done.
func (b *Bot) reviewNext(ctx context.Context, r Request, scope, after, lead string) (Reply, error) {
	filter := store.UnreadFilter{Limit: 1}
	if scope != everybody {
		filter.Student = scope
	}
	filter.After = after
	next, more, err := b.db.Unread(ctx, r.Server, r.Asker.ID, filter)
	if err != nil {
		return Reply{}, err
	}
	if len(next) == 0 {
		return b.reviewEnd(ctx, r, scope, lead)
	}
	s, err := b.db.Session(ctx, r.Server, next[0].ID)
	if err != nil {
		return Reply{}, err
	}
	return b.reviewReply(ctx, s, scope, more, lead)
}

// reviewEnd says that nothing is left after the last post, and how many were
// passed over.
func (b *Bot) reviewEnd(ctx context.Context, r Request, scope, lead string) (Reply, error) {
	filter := store.UnreadFilter{Limit: 1}
	if scope != everybody {
		filter.Student = scope
	}
	passed, more, err := b.db.Unread(ctx, r.Server, r.Asker.ID, filter)
	if err != nil {
		return Reply{}, err
	}
	if len(passed) == 0 {
		return Reply{Text: joined(lead, "Nothing left to look at.")}, nil
	}
	left := len(passed) + more
	return Reply{
		Text: joined(lead, fmt.Sprintf("That was the last; %s you went past still to look at.", waits(left))),
		Rows: []Row{{Buttons: []Button{{Path: path("next", scope, "0"), Label: "From the first", Style: Main}}}},
	}, nil
}

func waits(n int) string {
	if n == 1 {
		return "1 is"
	}
	return fmt.Sprintf("%d are", n)
}

func joined(lead, text string) string {
	return strings.TrimSpace(lead + " " + text)
}

// reviewReply is one post as its coach reviews it: whose it is, why the balls
// finished there, the brief, what changed since the session before, and what
// to do with it.
func (b *Bot) reviewReply(ctx context.Context, s store.Session, scope string, more int, lead string) (Reply, error) {
	student, err := b.db.Student(ctx, s.Server, s.Student)
	if err != nil {
		return Reply{}, err
	}
	answer, err := b.reread(ctx, s)
	if err != nil {
		return Reply{}, err
	}
	i := answer.Main()
	reply, err := b.sessionReply(ctx, s, answer, i, "")
	if err != nil {
		return Reply{}, err
	}
	head := joined(lead, fmt.Sprintf("**%s**, %s, %s.", nameOf(student), day(s.At), ballsOf(s.Balls)))
	if more > 0 {
		head += fmt.Sprintf(" %d more after this.", more)
	}
	buttons := Row{Buttons: []Button{
		{Path: path("looked", scope, s.ID), Label: "Looked at", Style: Main},
		{Path: path("comment", scope, s.ID), Label: "Comment"},
		{Path: path("brief", s.Student), Label: "Brief"},
		{Path: path("next", scope, s.ID), Label: "Next"},
	}}
	if len(answer.Reading.Questions) > 0 {
		reply.Text = clip(head+"\n"+reply.Text, MaxText)
		reply.Rows = append(reply.Rows[:min(len(reply.Rows), maxMenus-1)], buttons)
		return reply, nil
	}
	var changed string
	if club := answer.Sets[i].Club; !club.Unknown() {
		if changed, err = b.sinceLast(ctx, s, student, club); err != nil {
			return Reply{}, err
		}
	}
	if changed != "" {
		head += "\n" + changed
	}
	room := MaxText - len([]rune(head)) - 1
	text, err := b.sessionText(ctx, s, answer, i, room)
	if err != nil {
		return Reply{}, err
	}
	reply.Text = head + "\n" + text
	buttons.Buttons = append(buttons.Buttons, Button{Path: path("cause", s.ID, fmt.Sprint(i)), Label: "Why, in full"})
	reply.Rows = []Row{buttons}
	return reply, nil
}

// sinceLast says what the number a student works on did from the session before
// to this one.
func (b *Bot) sinceLast(ctx context.Context, s store.Session, student store.Student, club analysis.Club) (string, error) {
	number, err := b.usualNumber(ctx, s.Server, s.Student)
	if err != nil {
		return "", err
	}
	all, err := b.timelines(ctx, s.Server, s.Student, question{numbers: []analysis.Number{number}, clubs: []analysis.Club{club}, until: s.At})
	if err != nil || len(all) == 0 {
		return "", err
	}
	points := all[0].Points
	if n := len(points); n == 0 || points[n-1].Session != s.ID {
		return "", nil
	}
	voice, err := b.voice(ctx, student)
	return voice.SinceLast(all[0]), err
}
