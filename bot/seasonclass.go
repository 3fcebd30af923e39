package bot

import (
	"context"
	"fmt"
	"regexp"
	"strconv"
	"strings"

	"rangepost/analysis"
	"rangepost/analysis/season"
	"rangepost/bot/record"
	"rangepost/bot/words"
	"rangepost/store"
)

// A handicap in /season handicap: "@Wren 12.4", "@Odell none".
var handicapped = regexp.MustCompile(`<@!?([0-9]+)>\s*:?\s*([+-]?[0-9]+(?:[.,][0-9]+)?|none)`)

// runSeasonHandicap is /season handicap: those of several members in one line.
func runSeasonHandicap(ctx context.Context, b *Bot, r Call) (Reply, error) {
	s, err := chosenSeason(ctx, b, r, true)
	if err != nil {
		return Reply{}, err
	}
	text := r.Options["members"]
	if rest := strings.Trim(handicapped.ReplaceAllString(text, ""), " ,;\n"); rest != "" || text == "" {
		return Reply{}, analysis.Refuse("Write each member with an @ and their handicap: @Wren 12.4 @Odell +2, or none to take it back.", "I cannot tell whose handicap is what.").In(rest).Of("members")
	}
	var all []store.Handicap
	var lines []string
	for _, m := range handicapped.FindAllStringSubmatch(text, -1) {
		h, says := store.Handicap{Student: m[1]}, "no handicap"
		if m[2] != "none" {
			v, err := season.ParseHandicap(m[2])
			if err != nil {
				return Reply{}, of("members", err)
			}
			h.Handicap, says = &v, words.Handicap(v)
		}
		if class, ok := s.Classes.Of(h.Handicap, false); ok {
			says += ", class " + words.SeasonClass(s.Classes, class)
		}
		all, lines = append(all, h), append(lines, fmt.Sprintf("<@%s>: %s", h.Student, says))
	}
	if err := b.records.SetHandicaps(ctx, s, all); err != nil {
		return Reply{}, seasonOver(s.Season, err)
	}
	if n := len(lines) - 15; n > 0 {
		lines = append(lines[:15], fmt.Sprintf("And %d more.", n))
	}
	after := "Noted for " + words.Escape(s.Name) + ", and for the seasons opened after it. The table shows the class, not the handicap."
	if len(s.Classes.Upper) == 0 {
		after = words.Escape(s.Name) + " has no classes by handicap, so nothing changes in it; a season opened after it may have some."
	}
	return private(words.Lines(append(lines, after)...)), nil
}

func classNames(c season.Classes) []string {
	names := make([]string, c.Num())
	for i := range names {
		names[i] = words.SeasonClass(c, i)
	}
	return names
}

// everyClass is the value of the choice of all members.
const everyClass = "all"

func classChoices(c season.Classes) []Choice {
	choices := []Choice{{Value: everyClass, Text: "everybody"}}
	for i, name := range classNames(c) {
		choices = append(choices, Choice{Value: strconv.Itoa(i), Text: name})
	}
	return choices
}

// classAsked is the class a choice names.
func classAsked(c season.Classes, value string) (int, error) {
	if value == "" || value == everyClass {
		return record.NoClass, nil
	}
	class, err := strconv.Atoi(value)
	if err != nil || class < 0 || class >= c.Num() {
		return record.NoClass, analysis.Refuse("Choose one from what is offered while you type.", "The season has no such class.")
	}
	return class, nil
}
