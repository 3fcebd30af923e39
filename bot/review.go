package bot

import (
	"context"
	"fmt"
	"strconv"
	"strings"

	"rangepost/bot/words"
	"rangepost/store"
)

// everybody is the scope of a review of all students; else it is one's id.
const everybody = "all"

// runReview is /review: what was found in the posts the coach has not looked at,
// several on a page. Opening it marks nothing.
func runReview(ctx context.Context, b *Bot, r Call) (Reply, error) {
	scope := everybody
	if r.Options["student"] != "" {
		scope = r.Student
	}
	return openReview(ctx, b, r, scope)
}

// pressReview is the button that begins one.
func pressReview(ctx context.Context, b *Bot, r Call) (Reply, error) {
	return openReview(ctx, b, r, r.Args[0])
}

// pressNext shows the next post after another, which stays as it was.
func pressNext(ctx context.Context, b *Bot, r Call) (Reply, error) {
	return reviewNext(ctx, b, r, r.Args[0], r.Args[1], "")
}

// pressLooked marks a post as looked at and shows the next.
func pressLooked(ctx context.Context, b *Bot, r Call) (Reply, error) {
	if err := b.db.LookedAt(ctx, r.Server, r.Asker.ID, r.Session.ID); err != nil {
		return Reply{}, err
	}
	return reviewNext(ctx, b, r, r.Args[0], r.Session.ID, "Marked as looked at.")
}

// pressComment opens the form of a comment.
func pressComment(_ context.Context, _ *Bot, r Call) (Reply, error) {
	return Reply{Modal: &Modal{
		Path: path("commented", r.Args[0], r.Session.ID), Title: words.Cut("On the session of "+r.day(r.Session.At), 45),
		Fields: []Field{{ID: "text", Label: "Your comment, posted in their thread", Long: true, Required: true, Max: maxComment}},
	}}, nil
}

// submitComment posts the comment in the student's thread, tells them, and
// marks the post as looked at.
func submitComment(ctx context.Context, b *Bot, r Call) (Reply, error) {
	sent, err := comment(ctx, b, r, []store.Gisted{{SessionInfo: r.Session.SessionInfo}})
	if err != nil {
		return Reply{}, err
	}
	reply, err := reviewNext(ctx, b, r, r.Args[0], r.Session.ID, fmt.Sprintf("Posted in <#%s>, and marked as looked at.", sent[0].Channel))
	reply.Also = sent
	return reply, err
}

// quotation is somebody's lines, each escaped and marked as theirs.
func quotation(text string) string {
	var lines []string
	for line := range strings.Lines(text) {
		if line = words.Escape(line); line != "" {
			lines = append(lines, "> "+line)
		}
	}
	return strings.Join(lines, "\n")
}

// reviewNext is the next unread post of a scope after another, "" or "0" for
// the first. lead says what was just done.
func reviewNext(ctx context.Context, b *Bot, r Call, scope, after, lead string) (Reply, error) {
	next, more, err := unread(ctx, b, r, scope, after)
	if err != nil {
		return Reply{}, err
	}
	if next != nil {
		return reviewReply(ctx, b, r, *next, scope, more, lead)
	}
	// Nothing is left after the last post; some may have been passed over.
	passed, more, err := unread(ctx, b, r, scope, "")
	if err != nil {
		return Reply{}, err
	}
	if passed == nil {
		return Reply{Text: joined(lead, "Nothing left to look at.")}, nil
	}
	waits := "1 that is"
	if more > 0 {
		waits = upTo(more+1) + " that are"
	}
	return Reply{
		Text: joined(lead, fmt.Sprintf("That was the last; you went past %s still to look at.", waits)),
		Rows: []Row{{Buttons: []Button{{Path: path("again", scope), Label: "From the first", Style: Main}}}},
	}, nil
}

// unread is the first post of a scope that the asker has not looked at, and
// how many there are after it.
func unread(ctx context.Context, b *Bot, r Call, scope, after string) (*store.SessionInfo, int, error) {
	filter := store.UnreadFilter{After: after}
	if scope != everybody {
		filter.Student = scope
	}
	return b.db.Unread(ctx, r.Server, r.Asker.ID, filter)
}

// upTo says how many posts are unread, which are not counted without end.
func upTo(n int) string {
	if n >= store.MostUnread {
		return fmt.Sprintf("%d or more", store.MostUnread)
	}
	return strconv.Itoa(n)
}

func joined(lead, text string) string {
	return strings.TrimSpace(lead + " " + text)
}

// reviewReply is one post as its coach reviews it: whose it is, why the balls
// finished there, the brief, what changed since the session before, and what
// to do with it.
func reviewReply(ctx context.Context, b *Bot, r Call, info store.SessionInfo, scope string, more int, lead string) (Reply, error) {
	s, answer, err := b.records.Reading(ctx, info.Server, info.ID)
	if err != nil {
		return Reply{}, err
	}
	student, err := b.records.Golfer(ctx, s.Server, s.Student)
	if err != nil {
		return Reply{}, err
	}
	i := answer.Usual()
	reply, err := sessionReply(ctx, b, s, answer, i, "")
	if err != nil {
		return Reply{}, err
	}
	head := joined(lead, fmt.Sprintf("**%s**, %s, %s.", nameOf(student.Student), r.day(s.At), words.Count(s.Balls, "ball")))
	if more > 0 {
		head += fmt.Sprintf(" %s more after this.", upTo(more))
	}
	buttons := Row{Buttons: []Button{
		{Path: path("looked", scope, s.ID), Label: "Looked at", Style: Main},
		{Path: path("comment", scope, s.ID), Label: "Comment"},
		{Path: path("brief", s.Student), Label: "Brief"},
		{Path: path("next", scope, s.ID), Label: "Next"},
	}}
	if len(answer.Reading.Questions) > 0 {
		reply.Text = words.Clip(head+"\n"+reply.Text, MaxText)
		reply.Rows = append(reply.Rows[:min(len(reply.Rows), maxMenus-1)], buttons)
		return reply, nil
	}
	if club := answer.Sets[i].Club; !club.Unknown() {
		number, ok, err := b.records.UpTo(ctx, s, club, r.Zone)
		if err != nil {
			return Reply{}, err
		}
		if ok {
			head = strings.TrimSpace(head + "\n" + voiceOf(student).SinceLast(number))
		}
	}
	if g := answer.Gist(); g != nil && g.Trial != nil {
		head += "\n" + words.Sentence(voiceOf(student).TrialFound(*g.Trial)) + "."
	}
	room := MaxText - len([]rune(head)) - 1
	text, err := sessionText(ctx, b, s, answer, i, room)
	if err != nil {
		return Reply{}, err
	}
	reply.Text = head + "\n" + text
	buttons.Buttons = append(buttons.Buttons, Button{Path: path("cause", s.ID, fmt.Sprint(i)), Label: "Why, in full"})
	reply.Rows = []Row{buttons}
	return reply, nil
}
