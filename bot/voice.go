package bot

import (
	"context"
	"fmt"

	"rangepost/bot/record"
	"rangepost/bot/words"
	"rangepost/store"
)

// spokenTo is a student and how they are spoken to.
func spokenTo(ctx context.Context, b *Bot, server, id string) (record.Golfer, words.Voice, error) {
	g, err := b.records.Golfer(ctx, server, id)
	return g, voiceOf(g), err
}

func voiceOf(g record.Golfer) words.Voice {
	v := words.Voice{Units: g.Shown}
	if g.Hand != nil {
		v.Hand = *g.Hand
	}
	return v
}

// nameOf is how a reply names a student.
func nameOf(s store.Student) string {
	if s.Name == "" {
		return fmt.Sprintf("<@%s>", s.ID)
	}
	return words.Escape(s.Name)
}

// titleName names a student where nothing is marked up or mentioned.
func titleName(s store.Student) string {
	if s.Name == "" {
		return "this student"
	}
	return words.Clean(s.Name)
}
