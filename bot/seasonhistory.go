package bot

import (
	"context"
	"fmt"
	"slices"
	"strconv"

	"rangepost/analysis"
	"rangepost/bot/record"
	"rangepost/bot/words"
	"rangepost/store"
)

// mostHistory is how many seasons one reply adds up.
const mostHistory = 12

// runSeasonHistory is /season history: the seasons by the year they ended in.
func runSeasonHistory(ctx context.Context, b *Bot, r Call) (Reply, error) {
	all, err := b.db.Seasons(ctx, r.Server, false)
	if err != nil {
		return Reply{}, err
	}
	if text := r.Options["year"]; text != "" {
		year, err := strconv.Atoi(text)
		if err != nil {
			return Reply{}, analysis.Refuse("Write it as 2026.", "that is no year.").Of("year")
		}
		all = slices.DeleteFunc(all, func(s store.Season) bool { return s.LastDay().Year() != year })
	}
	if len(all) == 0 {
		return private("There was no season."), nil
	}
	slices.SortStableFunc(all, func(x, y store.Season) int { return y.LastDay().Compare(x.LastDay()) })
	var lines []string
	year := 0
	for _, kept := range all[:min(mostHistory, len(all))] {
		s, err := b.records.Season(ctx, kept)
		if err != nil {
			return Reply{}, err
		}
		if y := s.LastDay().Year(); y != year {
			year = y
			lines = append(lines, fmt.Sprintf("**%d**", year))
		}
		lines = append(lines, seasonLine(s, r.Asker.ID))
	}
	if n := len(all) - mostHistory; n > 0 {
		lines = append(lines, fmt.Sprintf("And %d before; name a year for those.", n))
	}
	return private(words.Clip(words.Lines(append(lines, "`/season table` has each whole.")...), MaxText)), nil
}

// seasonLine is a season in one line, with where somebody stands in it.
func seasonLine(s record.Season, who string) string {
	from := "2 January"
	if s.First.Year() != s.LastDay().Year() { // it stands under the year of its end
		from = "2 January 2006"
	}
	span := s.First.Format(from) + " to " + s.LastDay().Format("2 January")
	text := fmt.Sprintf("%s, %s: ", words.Escape(s.Name), span)
	switch {
	case len(record.Top(s.Rows)) == 0 && s.Closed.IsZero():
		return text + "nobody has points yet."
	case len(record.Top(s.Rows)) == 0:
		return text + "nobody had points."
	}
	verb := "won by"
	switch {
	case s.Closed.IsZero():
		verb = "running, led by"
	case len(record.Top(s.Rows)) > 1:
		verb = "shared by"
	}
	text += fmt.Sprintf("%s %s with %s, of %s in %s.", verb, words.Escape(words.List(firsts(s, s.Rows, true))), words.Points(s.Rows[0].Total), words.Count(len(s.Rows), "member"), words.Count(len(s.Over), "challenge"))
	if s.Classes.Num() > 0 {
		text += " " + words.Escape(classWinners(s))
	}
	if row, ok := s.Of(s.Rows, who); ok {
		text += fmt.Sprintf(" You: %s.", words.Ordinal(row.Place))
	}
	return text
}
