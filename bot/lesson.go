package bot

import (
	"context"
	"errors"
	"fmt"
	"strings"
	"time"

	"rangepost/analysis"
	"rangepost/bot/record"
	"rangepost/bot/words"
	"rangepost/store"
)

// runLesson is /lesson: a mark on the timeline. Before and after are compared
// from then on.
func runLesson(ctx context.Context, b *Bot, r Call) (Reply, error) {
	at, said := b.now(), strings.TrimSpace(r.Options["date"])
	if said != "" {
		var err error
		if at, err = record.PastDay(said, r.Zone, b.now()); err != nil {
			return Reply{}, of("date", err)
		}
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
			lessonDay(lesson.At.In(r.Zone)), words.Escape(lesson.Note)),
		Rows: []Row{{Buttons: []Button{{Path: path("unmark", r.Student, lesson.ID), Label: "Take it back"}}}},
	}, nil
}

// lessonDay says when a lesson was. One marked with a day alone is where that
// day begins, so what was hit that day counts as after it.
func lessonDay(at time.Time) string {
	if y, m, d := at.Date(); at.Equal(time.Date(y, m, d, 0, 0, 0, 0, at.Location())) {
		return day(at) + " (sessions of that day count as after it; if some were before, mark it with its time, as in 2026-09-30 18:00)"
	}
	return at.Format("2 January 2006, 15:04 MST")
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
