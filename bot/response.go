package bot

import (
	"context"
	"strings"

	"rangepost/analysis"
	"rangepost/analysis/trial"
	"rangepost/bot/report"
	"rangepost/bot/words"
	"rangepost/store"
)

// runResponse is /response: which setup tool moves which number for this
// student, from their trials.
func runResponse(ctx context.Context, b *Bot, r Request) (Reply, error) {
	id, err := b.subject(ctx, r)
	if err != nil {
		return Reply{}, err
	}
	with, err := club(r)
	if err != nil {
		return Reply{}, err
	}
	taught, err := b.taught(ctx, r.Server, id)
	if err != nil {
		return Reply{}, err
	}
	if with.Unknown() && len(taught) > 0 {
		with = taught[len(taught)-1].Club
	}
	_, voice, err := b.spokenTo(ctx, r.Server, id)
	if err != nil {
		return Reply{}, err
	}
	name := "No club yet"
	if !with.Unknown() {
		name = voice.SetName(with, "")
	}
	lines := voice.Response(name, report.Responses(taught, with, voice.Hand))
	return Reply{about: id, Text: clip(strings.Join(words.Plainly(lines), "\n"), MaxText)}, nil
}

// taught is what a student's kept trials taught, as the report speaks of it.
func (b *Bot) taught(ctx context.Context, server, student string) ([]report.Taught, error) {
	kept, err := b.db.Taught(ctx, server, student, analysis.Club{})
	if err != nil {
		return nil, err
	}
	var all []report.Taught
	for _, k := range kept {
		all = append(all, report.Taught{Club: k.Club, Observation: trial.Observation{
			Tool: k.Tool, Number: k.Number, Difference: k.Difference, SE: k.Error, Balls: k.Balls,
		}})
	}
	return all, nil
}

// keepTaught is what a report's own trial taught, as the store keeps it.
func keepTaught(r report.Report) []store.Taught {
	var all []store.Taught
	for _, t := range r.Teaches() {
		all = append(all, store.Taught{
			Club: t.Club, Tool: t.Tool, Number: t.Number, Difference: t.Difference, Error: t.SE, Balls: t.Balls,
		})
	}
	return all
}
