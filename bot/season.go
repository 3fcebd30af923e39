package bot

import (
	"context"
	"errors"
	"fmt"
	"slices"
	"strconv"
	"strings"
	"time"

	"rangepost/analysis"
	"rangepost/analysis/season"
	"rangepost/bot/record"
	"rangepost/bot/words"
	"rangepost/store"
)

// runOpenSeason is /season open.
func runOpenSeason(ctx context.Context, b *Bot, r Call) (Reply, error) {
	house, channel, err := challengeChannel(ctx, b, r)
	if err != nil {
		return Reply{}, err
	}
	s := store.Season{Server: r.Server, Name: words.Cut(words.Clean(r.Options["name"]), 40), Club: words.Cut(words.Clean(r.Options["clubname"]), 60), Channel: channel}
	if s.Name == "" {
		return Reply{}, analysis.Refuse("Give it one the members will know it by.", "A season needs a name.")
	}
	before, err := b.db.Seasons(ctx, r.Server, false)
	if err != nil {
		return Reply{}, err
	}
	if slices.ContainsFunc(before, func(other store.Season) bool { return strings.EqualFold(other.Name, s.Name) }) {
		return Reply{}, analysis.Refuse("Give this one another name, with its year perhaps: the history is by names.", "There is a season called %s.", words.Escape(s.Name))
	}
	if s.Club == "" {
		if len(before) == 0 {
			return Reply{}, analysis.Refuse("Say it with the option `clubname`, as in Saltmarsh Links; later seasons take it from this one.", "Certificates carry the club's name, and I do not know it yet.")
		}
		s.Club = before[0].Club
	}
	if s.First, s.Last, err = seasonSpan(r, season.Day(b.now(), record.Zone(house.TimeZone))); err != nil {
		return Reply{}, err
	}
	var terms record.SeasonTerms
	if text := r.Options["best"]; text != "" {
		if terms.Best, err = strconv.Atoi(text); err != nil || terms.Best < 1 {
			return Reply{}, analysis.Refuse("Say a whole number, or leave it out for all of them.", "that is no number of challenges.").Of("best")
		}
	}
	if terms.Classes, err = season.ParseClasses(r.Options["classes"]); err != nil {
		return Reply{}, err
	}
	kept, err := b.records.OpenSeason(ctx, s, terms)
	if err != nil {
		return Reply{}, err
	}
	t, err := b.records.Season(ctx, kept)
	if err != nil {
		return Reply{}, err
	}
	lines := append(seasonHead(t), words.SeasonPoints)
	if terms.Classes.Num() > 0 {
		lines = append(lines, "Classes: "+strings.Join(classNames(terms.Classes), "; ")+".")
	}
	if len(terms.Classes.Upper) > 0 {
		lines = append(lines, "`/season handicap` says who has which.")
	}
	return private(words.Lines(append(lines, "Now `/season template` keeps a kind of challenge, and `/season add` puts it on days. The table stands in <#"+channel+"> once something is planned.")...)), nil
}

// seasonSpan reads from when to when a season runs.
func seasonSpan(r Call, today time.Time) (first, last time.Time, err error) {
	read := func(option string) (time.Time, error) {
		day, err := time.Parse(time.DateOnly, strings.TrimSpace(r.Options[option]))
		if err != nil {
			return day, analysis.Refuse("Write it as 2026-09-30.", "that is no day.").Of(option)
		}
		return day, nil
	}
	first = today
	if r.Options["from"] != "" {
		if first, err = read("from"); err != nil {
			return first, last, err
		}
	}
	if last, err = read("until"); err != nil {
		return first, last, err
	}
	switch {
	case last.Before(today):
		return first, last, analysis.Refuse("Give it a day to come.", "that day is past.").Of("until")
	case last.Before(first):
		return first, last, analysis.Refuse("Swap the two.", "A season ends after it begins.")
	case last.After(first.AddDate(1, 0, 0)):
		return first, last, analysis.Refuse("Open one for each year.", "A season is a year at most.")
	}
	return first, last, nil
}

// runCloseSeason is /season close.
func runCloseSeason(ctx context.Context, b *Bot, r Call) (Reply, error) {
	s, err := chosenSeason(ctx, b, r, true)
	if err != nil {
		return Reply{}, err
	}
	if err := b.db.EndSeason(ctx, r.Server, s.ID, season.Day(b.now(), s.Zone)); err != nil {
		return Reply{}, seasonOver(s.Season, err)
	}
	b.hurry()
	return private(fmt.Sprintf("%s takes no more challenges. The final table and who won follow in <#%s> once what is open of it is over.", words.Escape(s.Name), s.Channel)), nil
}

// seasonOver is why something cannot be done to a season that has ended.
func seasonOver(s store.Season, err error) error {
	if errors.Is(err, store.ErrExpired) {
		return analysis.Refuse("`/season open` opens the next.", "%s is over.", s.Name)
	}
	return err
}

// chosenSeason is the season an option names, or the only one there is to mean:
// the one that runs or, unless it has to run, the last.
func chosenSeason(ctx context.Context, b *Bot, r Call, running bool) (record.Season, error) {
	if id := r.Options["season"]; id != "" {
		s, err := b.db.Season(ctx, r.Server, id)
		switch {
		case errors.Is(err, store.ErrNotFound):
			return record.Season{}, analysis.Refuse("Choose one from what is offered while you type.", "I do not know that season.")
		case err != nil:
			return record.Season{}, err
		case running && !s.Closed.IsZero():
			return record.Season{}, seasonOver(s, store.ErrExpired)
		}
		return b.records.Season(ctx, s)
	}
	all, err := b.db.Seasons(ctx, r.Server, true)
	if err != nil {
		return record.Season{}, err
	}
	if len(all) == 0 && !running {
		if all, err = b.db.Seasons(ctx, r.Server, false); err != nil {
			return record.Season{}, err
		}
		all = all[:min(1, len(all))]
	}
	switch len(all) {
	case 0:
		return record.Season{}, analysis.Refuse("A coach or manager opens one with `/season open`.", "No season runs here.")
	case 1:
		return b.records.Season(ctx, all[0])
	}
	return record.Season{}, analysis.Refuse("Choose one with the option `season`.", "%d seasons run here.", len(all))
}

// completeSeason offers seasons, templates, classes, and what can be taken out.
func completeSeason(ctx context.Context, b *Bot, r Call) (choices []Choice, err error) {
	switch r.Focused {
	case "season":
		all, err := b.db.Seasons(ctx, r.Server, r.Command != "season table")
		for _, s := range all {
			text := words.Clean(s.Name)
			if !s.Closed.IsZero() {
				text += ", ended " + day(s.LastDay())
			}
			choices = append(choices, Choice{Value: s.ID, Text: words.Cut(text, 100)})
		}
		return choices[:min(25, len(choices))], err
	case "template":
		all, err := b.db.Templates(ctx, r.Server)
		for _, t := range all {
			choices = append(choices, Choice{Value: t.Name, Text: words.Clean(t.Name)})
		}
		return choices, err
	}
	s, err := chosenSeason(ctx, b, r, r.Focused == "challenge")
	var none *analysis.Refusal
	if errors.As(err, &none) {
		return nil, nil // nothing to choose from yet
	}
	if err != nil {
		return nil, err
	}
	if r.Focused == "class" {
		return classChoices(s.Classes), nil
	}
	for _, p := range s.Parts {
		if p.Held.ID == "" && !p.Missed && len(choices) < 25 {
			choices = append(choices, Choice{Value: partKey(p), Text: words.Cut(words.Clean(p.Name)+", "+day(p.Day), 100)})
		}
	}
	return choices, nil
}

// challengeChannel is where a challenge opened by a request is to stand: in the
// channel at hand if it is for challenges, else in the first that is.
func challengeChannel(ctx context.Context, b *Bot, r Call) (store.Clubhouse, string, error) {
	house, err := b.db.Clubhouse(ctx, r.Server)
	if err != nil {
		return house, "", err
	}
	if len(house.ChallengeChannels) == 0 {
		return house, "", analysis.Refuse("A server manager names one by using `/clubhouse channel` in it.", "No channel is for challenges yet.")
	}
	if slices.Contains(house.ChallengeChannels, r.Channel) {
		return house, r.Channel, nil
	}
	return house, house.ChallengeChannels[0], nil
}
