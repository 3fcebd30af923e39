package bot

import (
	"context"
	"strings"

	"rangepost/analysis"
	"rangepost/bot/report"
	"rangepost/bot/words"
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
	taught, err := b.db.Taught(ctx, r.Server, id, analysis.Club{})
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
