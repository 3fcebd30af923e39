package bot

import (
	"context"
	"hash/fnv"
	"slices"
	"strconv"
	"strings"

	"rangepost/analysis"
	"rangepost/analysis/trial"
	"rangepost/bot/record"
	"rangepost/bot/report"
	"rangepost/bot/words"
)

// planAsked reads what a plan is asked for.
func planAsked(ctx context.Context, b *Bot, r Call, against []string) (asked record.PlanAsked, err error) {
	asked = record.PlanAsked{Setter: r.Asker.ID, Against: against, Claim: words.Cut(words.Clean(r.Options["claim"]), 200), Seed: seedOf(r.ID)}
	if asked.Club, err = clubAsked(r.Options["club"]); err != nil {
		return asked, of("club", err)
	}
	if asked.Club.Unknown() {
		if asked.Club, err = b.records.UsualClub(ctx, r.Server, r.Student); err != nil {
			return asked, err
		}
	}
	numbers, err := numbersAsked(r.Options["number"])
	switch {
	case err != nil:
		return asked, err
	case len(numbers) > 1:
		return asked, analysis.Refuse("Name the one that matters most; the others are compared as well.", "A plan is about one number.").Of("number")
	case len(numbers) == 1:
		asked.Number = numbers[0]
	default:
		if asked.Number, err = numberOf(ctx, b, r, against[0]); err != nil {
			return asked, err
		}
	}
	_, voice, err := spokenTo(ctx, b, r.Server, r.Student)
	if err != nil {
		return asked, err
	}
	asked.Change, err = changeAsked(r.Options["change"], asked.Number, voice)
	return asked, err
}

// seedOf draws a plan's order: the same for the same request, taken up again.
func seedOf(request string) uint64 {
	h := fnv.New64a()
	h.Write([]byte(request))
	return h.Sum64()
}

// numberOf is the number of interest where none is named: what a setup tool moves
// first, else what the student works on, else where the face points.
func numberOf(ctx context.Context, b *Bot, r Call, label string) (analysis.Number, error) {
	tool := trial.ToolOf(label)
	for _, n := range []analysis.Number{analysis.Face, analysis.Path, analysis.DynamicLoft} {
		if tool != "" && tool.Usual(n, analysis.RightHanded) != 0 {
			return n, nil
		}
	}
	usual, err := b.records.UsualNumber(ctx, r.Server, r.Student)
	if err != nil || slices.Contains(trial.DefaultNumbers(), usual) {
		return usual, err
	}
	return analysis.Face, nil
}

// changeAsked reads how small a change matters, in the golfer's units: "1", "1.5°",
// "5 yd"; 0 of nothing.
func changeAsked(text string, n analysis.Number, voice words.Voice) (float64, error) {
	figure := strings.TrimSpace(text)
	if figure == "" {
		return 0, nil
	}
	if n.Info().Kind == analysis.Length {
		d, err := report.ParseDistance(figure, voice.Units)
		return d, of("change", err)
	}
	end := strings.IndexFunc(figure, func(c rune) bool { return (c < '0' || c > '9') && c != '.' })
	if end < 0 {
		end = len(figure)
	}
	x, err := strconv.ParseFloat(figure[:end], 64)
	if err != nil || x <= 0 {
		return 0, analysis.Refuse("Write a figure, as 1.5.", "\"%s\" is no change of a number.", words.Cut(text, 40)).Of("change")
	}
	return x * voice.Scale(n.Info().Kind), nil
}
