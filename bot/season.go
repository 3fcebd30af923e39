package bot

import (
	"context"
	"errors"
	"fmt"
	"regexp"
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
	if s.Club == "" {
		before, err := b.db.Seasons(ctx, r.Server, false)
		if err != nil {
			return Reply{}, err
		}
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

// mostTemplates is how many a server has: as many as are offered while somebody
// types.
const mostTemplates = 25

// runSeasonTemplate is /season template.
func runSeasonTemplate(ctx context.Context, b *Bot, r Call) (Reply, error) {
	house, err := b.db.Clubhouse(ctx, r.Server)
	if err != nil {
		return Reply{}, err
	}
	name := words.Cut(words.Clean(r.Options["name"]), 40)
	if name == "" {
		return Reply{}, analysis.Refuse("Give it one the members will know it by.", "A template needs a name.")
	}
	terms, err := termsAsked(r, house, b.now())
	if err != nil {
		return Reply{}, err
	}
	err = b.records.KeepTemplate(ctx, r.Server, name, terms, mostTemplates)
	if errors.Is(err, store.ErrTaken) {
		return Reply{}, analysis.Refuse("Use the name of one you no longer need: it is replaced.", "%d templates are kept already.", mostTemplates)
	}
	if err != nil {
		return Reply{}, err
	}
	return private(words.Lines("Kept as "+words.Escape(name)+".", words.Voice{Units: house.Units}.ChallengeRule(terms),
		"`/season add` puts it on days. What is planned already stays as it was.")), nil
}

// runSeasonAdd is /season add: a template on the days of a schedule.
func runSeasonAdd(ctx context.Context, b *Bot, r Call) (Reply, error) {
	s, err := chosenSeason(ctx, b, r, true)
	if err != nil {
		return Reply{}, err
	}
	templates, err := b.db.Templates(ctx, r.Server)
	if err != nil {
		return Reply{}, err
	}
	at := slices.IndexFunc(templates, func(t store.Template) bool {
		return strings.EqualFold(t.Name, strings.TrimSpace(r.Options["template"]))
	})
	if at < 0 {
		return Reply{}, analysis.Refuse("Choose one from what is offered, or make it with `/season template`.", "I do not know that template.")
	}
	open := 7
	if text := r.Options["days"]; text != "" {
		if open, err = strconv.Atoi(text); err != nil || open < 1 || open > mostOpen {
			return Reply{}, analysis.Refuse(fmt.Sprintf("Say a whole number from 1 to %d.", mostOpen), "that is no number of days.").Of("days")
		}
	}
	days, err := season.Days(r.Options["when"], s.First, s.Last)
	if err != nil {
		return Reply{}, err
	}
	today := season.Day(b.now(), s.Zone)
	days = slices.DeleteFunc(days, func(d time.Time) bool { return d.Before(today) })
	if len(days) == 0 {
		return Reply{}, analysis.Refuse("Name a day to come.", "those days are past.").Of("when")
	}
	var all []store.Scheduled
	for _, d := range days {
		all = append(all, store.Scheduled{Day: d, Name: templates[at].Name, Days: open, Terms: templates[at].Terms})
	}
	added, err := b.db.Schedule(ctx, r.Server, s.ID, all, season.MostChallenges)
	switch {
	case errors.Is(err, store.ErrTaken):
		return Reply{}, analysis.Refuse("Take some out with `/season drop`, or add fewer.", "A season has %d challenges at most.", season.MostChallenges)
	case err != nil:
		return Reply{}, seasonOver(s.Season, err)
	}
	b.hurry()
	each := ", open"
	if len(days) > 1 {
		each = ", each open"
	}
	text := fmt.Sprintf("%s: %s%s for %s from midnight on the clock of %s.", words.Escape(templates[at].Name), words.SeasonDays(days), each, words.Count(open, "day"), words.Escape(s.Zone.String()))
	if added < len(all) {
		text += fmt.Sprintf(" Of these %d stood on the schedule already.", len(all)-added)
	}
	for i := 1; i < len(days); i++ {
		if days[i].Before(days[i-1].AddDate(0, 0, open)) {
			text += " Some are open side by side: a member enters each."
			break
		}
	}
	return private(words.Lines(text, fmt.Sprintf("%s now has %s. %s", words.Escape(s.Name), words.Count(len(s.Parts)+added, "challenge"), words.SeasonBest(s.Best, len(s.Parts)+added)))), nil
}

// mostOpen is for how many days a challenge of a season may be open.
const mostOpen = 31

// runSeasonDrop is /season drop.
func runSeasonDrop(ctx context.Context, b *Bot, r Call) (Reply, error) {
	s, err := chosenSeason(ctx, b, r, true)
	if err != nil {
		return Reply{}, err
	}
	for _, p := range s.Parts {
		if partKey(p) != r.Options["challenge"] {
			continue
		}
		err := b.db.Unschedule(ctx, p.Scheduled)
		if errors.Is(err, store.ErrNotFound) {
			return Reply{}, analysis.Refuse("`/challenge close` ends one that is open.", "That one is open, or over, or was not held: it stays.")
		}
		if err != nil {
			return Reply{}, err
		}
		return private(fmt.Sprintf("%s of %s is off the schedule. %s has %s left.", words.Escape(p.Name), day(p.Day), words.Escape(s.Name), words.Count(len(s.Parts)-1, "challenge"))), nil
	}
	return Reply{}, analysis.Refuse("Choose one from what is offered while you type.", "Nothing of that day and name is planned.")
}

// partKey names a challenge of a season, as its option's value.
func partKey(p record.Part) string { return p.Day.Format(time.DateOnly) + " " + p.Name }

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
				text += ", ended " + day(s.Last)
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
