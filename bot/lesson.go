package bot

import (
	"context"
	"errors"
	"fmt"
	"time"

	"rangepost/analysis"
	"rangepost/bot/words"
	"rangepost/store"
)

// runLesson is /lesson: a mark on the timeline. Before and after are compared
// from then on.
func runLesson(ctx context.Context, b *Bot, r Call) (Reply, error) {
	at, err := date(r, "date")
	if err != nil {
		return Reply{}, err
	}
	if at.After(b.now().Add(24 * time.Hour)) {
		return Reply{}, analysis.Refuse("Mark it once it has been given.", "That day is still to come.")
	}
	lesson, err := b.db.AddLesson(ctx, store.Lesson{
		Server: r.Server, Student: r.Student, Coach: r.Asker.ID,
		Lesson: analysis.Lesson{At: at, Note: words.Cut(words.Clean(r.Options["note"]), 200)},
	})
	if err != nil {
		return Reply{}, err
	}
	return Reply{
		about: r.Student,
		Text: fmt.Sprintf("Lesson marked on %s: \"%s\"\nFrom here on `/timeline` compares before and after. It takes three sessions on each side to say anything.",
			day(lesson.At), words.Escape(lesson.Note)),
		Rows: []Row{{Buttons: []Button{{Path: path("unmark", r.Student, lesson.ID), Label: "Take it back"}}}},
	}, nil
}

// pressUnmark takes a lesson off the timeline again.
func pressUnmark(ctx context.Context, b *Bot, r Call) (Reply, error) {
	switch err := b.db.DeleteLesson(ctx, r.Server, r.Student, r.Args[1]); {
	case errors.Is(err, store.ErrNotFound):
		return Reply{}, analysis.Refuse("Nothing is left to do.", "That lesson is not on the timeline any more.")
	case err != nil:
		return Reply{}, err
	}
	return Reply{about: r.Student, Text: "Taken back: that lesson is off the timeline."}, nil
}
