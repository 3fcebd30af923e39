package bot

import (
	"context"
	"fmt"
	"strings"

	"rangepost/analysis"
	"rangepost/bot/words"
)

// pressPlanBrief opens the form of a brief that keeps what a plan moved.
func pressPlanBrief(ctx context.Context, b *Bot, r Call) (Reply, error) {
	p, err := planOf(ctx, b, r)
	if err != nil {
		return Reply{}, err
	}
	wanted, ok := p.Brief()
	if !ok {
		return Reply{}, analysis.Refuse("`/brief` sets one in a line.", "There is nothing in that plan to make a brief of.")
	}
	student, voice, err := spokenTo(ctx, b, r.Server, p.Student)
	if err != nil {
		return Reply{}, err
	}
	voice.Plain = true
	return Reply{Modal: &Modal{Path: path("briefed", p.Student), Title: words.Cut("Brief for "+titleName(student.Student), 45), Fields: []Field{{
		ID: "text", Label: "One number, limits, club, balls, until when", Required: true, Max: 300, Value: words.Cut(voice.Wanted(wanted), 300),
	}}}}, nil
}

// pressPlanKept marks on the timeline that what a plan moved is kept from now on:
// whether it lasts is then watched like what a lesson changed.
func pressPlanKept(ctx context.Context, b *Bot, r Call) (Reply, error) {
	p, err := planOf(ctx, b, r)
	if err != nil {
		return Reply{}, err
	}
	note := "kept from a plan: " + strings.Join(p.Card.Labels[1:], ", ")
	if err := b.records.KeepPlan(ctx, p, r.Asker.ID, note); err != nil {
		return Reply{}, err
	}
	return Reply{about: p.Student, Text: fmt.Sprintf("Marked on the timeline: \"%s\". From now on `/timeline` says whether it is kept, fading or gone.", words.Escape(note))}, nil
}
