package bot

import (
	"context"
	"errors"
	"fmt"
	"strings"

	"rangepost/analysis"
	"rangepost/bot/words"
	"rangepost/store"
)

// taskReply is /task, and the button of the pinned message: what a student is to
// do, how far they are, what the lesson was about and what the last session
// asks for.
func taskReply(ctx context.Context, b *Bot, r Call) (Reply, error) {
	_, voice, err := spokenTo(ctx, b, r.Server, r.Student)
	if err != nil {
		return Reply{}, err
	}
	set, err := b.records.LastBrief(ctx, r.Server, r.Student)
	if err != nil {
		return Reply{}, err
	}
	lines := []string{"No task is set. A coach sets one in a line with `/brief`; until then every post is welcome."}
	if set != nil {
		lines = []string{
			"The task since " + r.day(set.At) + ": " + voice.Wanted(set.Kept.Brief) + ".",
			words.Sentence(voice.Stands(set.Kept, set.Standing)) + ".",
		}
	}
	lessons, err := b.db.Lessons(ctx, r.Server, r.Student)
	if err != nil {
		return Reply{}, err
	}
	if n := len(lessons); n > 0 {
		lines = append(lines, fmt.Sprintf("The lesson of %s: \"%s\".", r.day(lessons[n-1].At), words.Escape(lessons[n-1].Note)))
	}
	next, err := lastNext(ctx, b, r)
	if err != nil {
		return Reply{}, err
	}
	if next != "" {
		lines = append(lines, next)
	}
	return Reply{about: r.Student, Text: strings.Join(words.Plainly(lines), "\n"), Rows: []Row{{Buttons: []Button{postButton(r.Student, "Post the next one")}}}}, nil
}

// lastNext is the one thing to do next by a student's last session, "" if that
// says none.
func lastNext(ctx context.Context, b *Bot, r Call) (string, error) {
	s, err := b.db.LatestSession(ctx, r.Server, r.Student)
	if errors.Is(err, store.ErrNotFound) {
		return "", nil
	}
	if err != nil {
		return "", err
	}
	answer, err := b.records.Reread(ctx, s)
	if err != nil || answer.Main() < 0 || len(answer.Reading.Questions) > 0 {
		return "", err
	}
	past, err := b.records.Past(ctx, s, answer.Sets[answer.Main()])
	if err != nil {
		return "", err
	}
	must, _, _ := answer.First(answer.Main(), past)
	for _, line := range must {
		if next, ok := strings.CutPrefix(line, "Next: "); ok {
			return "By the session of " + r.day(s.At) + ": " + next, nil
		}
	}
	return "", nil
}

// pressDoing is the button "How am I doing": the timeline as it is without
// being asked for anything in particular.
func pressDoing(ctx context.Context, b *Bot, r Call) (Reply, error) {
	switch _, err := b.db.LatestSession(ctx, r.Server, r.Student); {
	case errors.Is(err, store.ErrNotFound):
		return Reply{}, analysis.Refuse("Post one with the button beside it.", "There is no session yet.")
	case err != nil:
		return Reply{}, err
	}
	return runTimeline(ctx, b, r)
}
