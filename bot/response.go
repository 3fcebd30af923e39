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
func runResponse(ctx context.Context, b *Bot, r Call) (Reply, error) {
	with, err := clubAsked(r.Options["club"])
	if err != nil {
		return Reply{}, err
	}
	taught, err := b.db.Taught(ctx, r.Server, r.Student, analysis.Club{})
	if err != nil {
		return Reply{}, err
	}
	if with.Unknown() && len(taught) > 0 {
		with = taught[len(taught)-1].Club
	}
	_, voice, err := spokenTo(ctx, b, r.Server, r.Student)
	if err != nil {
		return Reply{}, err
	}
	name := "No club yet"
	if !with.Unknown() {
		name = voice.SetName(with, "")
	}
	lines := voice.Response(name, report.Responses(taught, nil, with, voice.Hand))
	return Reply{about: r.Student, Text: words.Clip(strings.Join(words.Plainly(lines), "\n"), MaxText)}, nil
}
