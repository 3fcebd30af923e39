package bot

import (
	"context"
	"errors"
	"strings"

	"rangepost/analysis"
	"rangepost/bot/words"
	"rangepost/store"
)

// taskReply says what a student is to do, and how far they are.
func taskReply(ctx context.Context, b *Bot, r Call) (Reply, error) {
	_, voice, err := spokenTo(ctx, b, r.Server, r.Student)
	if err != nil {
		return Reply{}, err
	}
	set, err := b.records.LastBrief(ctx, r.Server, r.Student)
	if err != nil {
		return Reply{}, err
	}
	if set == nil {
		return Reply{about: r.Student, Text: "No task is set. A coach sets one in a line with `/brief`; until then every post is welcome."}, nil
	}
	lines := []string{
		"The task since " + r.day(set.At) + ": " + voice.Wanted(set.Kept.Brief) + ".",
		words.Sentence(voice.Stands(set.Kept, set.Standing)) + ".",
	}
	return Reply{about: r.Student, Text: strings.Join(words.Plainly(lines), "\n")}, nil
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
