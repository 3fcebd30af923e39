package bot

import (
	"context"
	"fmt"
	"slices"
	"strings"

	"rangepost/analysis"
	"rangepost/analysis/trial"
	"rangepost/bot/record"
	"rangepost/bot/report"
	"rangepost/bot/words"
)

// runResponse is /response: which setup tool moves which number for this
// student, from their trials; or for all students of a coach together.
func runResponse(ctx context.Context, b *Bot, r Call) (Reply, error) {
	with, err := clubAsked(r.Options["club"])
	if err != nil {
		return Reply{}, err
	}
	if r.Options["students"] != "" {
		return responseOfAll(ctx, b, r, with)
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
	pooled, err := b.records.Pooled(ctx, r.Server, r.Student)
	if err != nil {
		return Reply{}, err
	}
	lines := voice.Response(name, report.Responses(taught, pooled, with, voice.Hand))
	return Reply{about: r.Student, Text: words.Clip(strings.Join(words.Plainly(lines), "\n"), MaxText)}, nil
}

// responseOfAll is what each tool does to the asker's students, all together: for
// the asker alone, without names, and not told if that changes until it is shown.
func responseOfAll(ctx context.Context, b *Bot, r Call, with analysis.Club) (Reply, error) {
	told, short, err := b.records.Pool(ctx, r.Server, r.Asker.ID)
	if err != nil {
		return Reply{}, err
	}
	if !with.Unknown() {
		told = slices.DeleteFunc(told, func(p analysis.Pooled) bool { return p.Club != with })
		short = slices.DeleteFunc(short, func(p record.Pooling) bool { return p.Club != with })
	}
	_, voice, err := spokenTo(ctx, b, r.Server, r.Asker.ID)
	if err != nil {
		return Reply{}, err
	}
	if len(told) == 0 {
		return Reply{}, notPooled(voice, short)
	}
	lines := voice.Pooled(told)
	if len(short) > 0 {
		lines = append(lines, "Not of "+poolingLine(voice, nearest(short))+".")
	}
	reply := private(words.Clip(strings.Join(words.Plainly(lines), "\n"), MaxText))
	reply.Still = func(ctx context.Context) bool {
		now, err := b.db.Pooled(ctx, r.Server, r.Asker.ID, "")
		return err == nil && !slices.ContainsFunc(told, func(p analysis.Pooled) bool { return !slices.Contains(now, p) })
	}
	return reply, nil
}

// notPooled says why there is nothing to be told over students, and how many are
// missing.
func notPooled(voice words.Voice, short []record.Pooling) error {
	why := fmt.Sprintf("That takes %s who tried the same change with the same club, so that it is about nobody in particular.", words.Count(trial.FewestGolfers, "student"))
	if len(short) == 0 {
		return analysis.Refuse(fmt.Sprintf("%d are missing: none has tried one yet.", trial.FewestGolfers), "%s", why)
	}
	return analysis.Refuse("Nearest is "+poolingLine(voice, nearest(short))+".", "%s", why)
}

func nearest(short []record.Pooling) record.Pooling {
	return slices.MinFunc(short, func(a, b record.Pooling) int { return a.Missing - b.Missing })
}

func poolingLine(voice words.Voice, p record.Pooling) string {
	text := words.ToolPhrase(p.Tool) + " with the " + voice.SetName(p.Club, "")
	if p.Held {
		return fmt.Sprintf("%s, held back since somebody it rested on is gone: %s more must come to it, or hit it again", text, words.Count(p.Missing, "student"))
	}
	return fmt.Sprintf("%s, which %s tried: %s missing", text, words.Count(p.Tried, "student"), isAre(p.Missing))
}

func isAre(n int) string {
	if n == 1 {
		return "1 is"
	}
	return fmt.Sprintf("%d are", n)
}
