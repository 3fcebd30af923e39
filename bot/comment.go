package bot

import (
	"context"
	"errors"
	"fmt"
	"hash/fnv"
	"slices"
	"strconv"
	"strings"

	"rangepost/analysis"
	"rangepost/bot/words"
	"rangepost/store"
)

// A comment goes to the students of one post or of several, each in their own
// thread. What a coach sent is kept, and offered to be sent again.

const maxComment = 800

// choosePick asks what to say of the posts that were picked on a page: anew, or
// what was said before.
func choosePick(ctx context.Context, b *Bot, r Call) (Reply, error) {
	picked, err := pickedOf(ctx, b, r, r.Values)
	if err != nil {
		return Reply{}, err
	}
	kept, err := b.db.Comments(ctx, r.Server, r.Asker.ID)
	if err != nil {
		return Reply{}, err
	}
	names, _, err := namesOf(ctx, b, picked)
	if err != nil {
		return Reply{}, err
	}
	posts, err := postsOf(r)
	if err != nil {
		return Reply{}, err
	}
	var at []string
	for _, p := range picked {
		at = append(at, strconv.Itoa(slices.Index(posts, p.ID)))
	}
	marks := strings.Join(at, ".")
	reply := Reply{
		Text: fmt.Sprintf("A comment for %s, each in their own thread:", words.List(names)),
		Rows: []Row{{Buttons: []Button{{Path: path("write", r.View.ID, marks), Label: "Write one", Style: Main}}}},
	}
	if len(kept) > 0 {
		menu := &Menu{Path: path("reuse", r.View.ID, marks), Placeholder: "One you sent before"}
		drop := &Menu{Path: path("drop"), Placeholder: "Forget one"}
		for _, text := range kept {
			menu.Choices = append(menu.Choices, choice(commentKey(text), text))
			drop.Choices = append(drop.Choices, choice(commentKey(text), text))
		}
		reply.Rows = append(reply.Rows, Row{Menu: menu}, Row{Menu: drop})
	}
	return reply, nil
}

// commentKey stands for a comment in a menu, whose values are short.
func commentKey(text string) string {
	h := fnv.New64a()
	h.Write([]byte(text))
	return strconv.FormatUint(h.Sum64(), 36)
}

// reused is the kept comment that was chosen.
func reused(ctx context.Context, b *Bot, r Call) (string, error) {
	kept, err := b.db.Comments(ctx, r.Server, r.Asker.ID)
	if err != nil {
		return "", err
	}
	for _, text := range kept {
		if slices.Contains(r.Values, commentKey(text)) {
			return text, nil
		}
	}
	return "", analysis.Refuse("Write it anew.", "That comment is not kept any more.")
}

// namesOf are the students of some posts, each once.
func namesOf(ctx context.Context, b *Bot, posts []store.Gisted) (names, ids []string, err error) {
	for _, p := range posts {
		if slices.Contains(ids, p.Student) {
			continue
		}
		student, err := b.db.Student(ctx, p.Server, p.Student)
		if err != nil {
			return nil, nil, err
		}
		names, ids = append(names, nameOf(student)), append(ids, p.Student)
	}
	return names, ids, nil
}

// pressWrite opens the form of a comment on the posts that were picked.
func pressWrite(ctx context.Context, b *Bot, r Call) (Reply, error) {
	return commentForm(ctx, b, r, "")
}

// chooseReuse opens it with a comment that was sent before, to be sent as it is
// or changed.
func chooseReuse(ctx context.Context, b *Bot, r Call) (Reply, error) {
	if _, err := pickedOf(ctx, b, r, strings.Split(r.Args[1], ".")); err != nil {
		return Reply{}, err
	}
	text, err := reused(ctx, b, r)
	if err != nil {
		return Reply{}, err
	}
	return commentForm(ctx, b, r, text)
}

func commentForm(ctx context.Context, b *Bot, r Call, text string) (Reply, error) {
	if _, err := pickedOf(ctx, b, r, strings.Split(r.Args[1], ".")); err != nil {
		return Reply{}, err
	}
	return Reply{Modal: &Modal{
		Path: path("written", r.View.ID, r.Args[1]), Title: "A comment, in each one's thread",
		Fields: []Field{{ID: "text", Label: "Your comment", Value: text, Long: true, Required: true, Max: maxComment}},
	}}, nil
}

// chooseDrop forgets a comment that was kept.
func chooseDrop(ctx context.Context, b *Bot, r Call) (Reply, error) {
	text, err := reused(ctx, b, r)
	if err != nil {
		return Reply{}, err
	}
	if err := b.db.DropComment(ctx, r.Server, r.Asker.ID, text); err != nil {
		return Reply{}, err
	}
	return Reply{Text: "Forgotten. What was sent stays where it was posted."}, nil
}

// submitWritten posts a comment to the students of the posts that were picked,
// and marks these as looked at.
func submitWritten(ctx context.Context, b *Bot, r Call) (Reply, error) {
	picked, err := pickedOf(ctx, b, r, strings.Split(r.Args[1], "."))
	if err != nil {
		return Reply{}, err
	}
	sent, err := comment(ctx, b, r, picked)
	if err != nil {
		return Reply{}, err
	}
	names, _, err := namesOf(ctx, b, picked)
	if err != nil {
		return Reply{}, err
	}
	return Reply{Text: fmt.Sprintf("Posted to %s, and marked as looked at.", words.List(names)), Also: sent}, nil
}

// comment makes what the form says a notice in the thread of each student of
// some posts, keeps it for reuse, and marks the posts as looked at: who comments
// has looked.
func comment(ctx context.Context, b *Bot, r Call, posts []store.Gisted) (sent []Notice, err error) {
	text := words.Cut(r.Fields["text"], maxComment)
	quoted := quotation(text)
	if quoted == "" {
		return nil, analysis.Refuse("Write something, or press Looked at.", "That comment is empty.")
	}
	_, students, err := namesOf(ctx, b, posts)
	if err != nil {
		return nil, err
	}
	for _, student := range students {
		binding, err := b.db.StudentBinding(ctx, r.Server, student)
		if errors.Is(err, store.ErrNotFound) {
			return nil, errNotYours
		}
		if err != nil {
			return nil, err
		}
		theirs, err := b.records.Zone(ctx, r.Server, student)
		if err != nil {
			return nil, err
		}
		var days []string
		for _, p := range posts {
			if p.Student == student {
				days = append(days, day(p.At.In(theirs)))
			}
		}
		slices.Reverse(days) // a page has the latest first
		sessions := "session of "
		if len(days) > 1 {
			sessions = "sessions of "
		}
		sent = append(sent, Notice{Channel: binding.Thread, Reply: Reply{
			Text:   fmt.Sprintf("<@%s>, <@%s> on your %s%s:\n%s", student, r.Asker.ID, sessions, strings.Join(days, ", "), quoted),
			Notify: []string{student},
		}})
	}
	if err := b.db.LookedAt(ctx, r.Server, r.Asker.ID, idsOf(posts)...); err != nil {
		return nil, err
	}
	return sent, b.db.KeepComment(ctx, r.Server, r.Asker.ID, strings.TrimSpace(text))
}
