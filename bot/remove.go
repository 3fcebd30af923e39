package bot

import (
	"context"
	"errors"
	"fmt"

	"rangepost/analysis"
	"rangepost/bot/words"
	"rangepost/store"
)

// runRemove is /mine remove: it asks before one session is deleted.
func runRemove(_ context.Context, _ *Bot, r Call) (Reply, error) {
	if r.Session.ID == "" {
		return Reply{}, analysis.Refuse("Name it; the option lists yours.", "Which session?").Of("session")
	}
	return Reply{
		about: r.Student,
		Text: fmt.Sprintf("This deletes your session of %s, %s, with its file. An entry in an open challenge goes with it, and entering that one anew waits for a host; in a closed one it stays. Your coach sees that one was deleted, and nothing of it. It cannot be undone.",
			r.day(r.Session.At), words.Count(r.Session.Balls, "ball")),
		Rows: []Row{{Buttons: []Button{{Path: path("remove", r.Session.ID), Label: "Delete this session", Style: Danger}}}},
	}, nil
}

// pressRemove is the button under that question.
func pressRemove(ctx context.Context, b *Bot, r Call) (Reply, error) {
	err := b.records.Remove(ctx, r.Session)
	if errors.Is(err, store.ErrNotFound) {
		return Reply{}, analysis.Refuse("`/sets` lists what there is.", "That session is not there any more.")
	}
	if err != nil {
		return Reply{}, err
	}
	return Reply{about: r.Student, Text: fmt.Sprintf("Your session of %s is deleted. Replies about it that stand in a channel are the platform's: delete those yourself.", r.day(r.Session.At))}, nil
}
