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
		return Reply{}, analysis.Refuse("Delete one with `/season drop`, option `template`.", "%d templates are kept already.", mostTemplates)
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
	template, err := templateAsked(ctx, b, r)
	if err != nil {
		return Reply{}, err
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
		all = append(all, store.Scheduled{Day: d, Name: template.Name, Days: open, Terms: template.Terms})
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
	text := fmt.Sprintf("%s: %s%s for %s from midnight on the clock of %s.", words.Escape(template.Name), words.SeasonDays(days), each, words.Count(open, "day"), words.Escape(s.Zone.String()))
	stood := slices.ContainsFunc(s.Parts, func(p record.Part) bool { return p.Day.Equal(today) && p.Name == template.Name })
	if days[0].Equal(today) && !stood {
		text += " Today's is open from now on: what was hit before does not count."
	}
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

// dropTemplate is /season drop with a template.
func dropTemplate(ctx context.Context, b *Bot, r Call) (Reply, error) {
	t, err := templateAsked(ctx, b, r)
	if err != nil {
		return Reply{}, err
	}
	if err := b.db.DropTemplate(ctx, r.Server, t.Name); err != nil && !errors.Is(err, store.ErrNotFound) {
		return Reply{}, err // or somebody was as fast
	}
	return private(words.Escape(t.Name) + " is no longer a template. Challenges that were planned or held from it stay as they are."), nil
}

// templateAsked is the template an option names.
func templateAsked(ctx context.Context, b *Bot, r Call) (store.Template, error) {
	all, err := b.db.Templates(ctx, r.Server)
	if err != nil {
		return store.Template{}, err
	}
	at := slices.IndexFunc(all, func(t store.Template) bool {
		return strings.EqualFold(t.Name, strings.TrimSpace(r.Options["template"]))
	})
	if at < 0 {
		return store.Template{}, analysis.Refuse("Choose one from what is offered, or make it with `/season template`.", "I do not know that template.")
	}
	return all[at], nil
}

// runSeasonDrop is /season drop.
func runSeasonDrop(ctx context.Context, b *Bot, r Call) (Reply, error) {
	switch challenge, template := r.Options["challenge"], r.Options["template"]; {
	case (challenge == "") == (template == ""):
		return Reply{}, analysis.Refuse("Name one with the option `challenge`, or with `template`.", "One thing is dropped at a time: a planned challenge or a template.")
	case template != "":
		return dropTemplate(ctx, b, r)
	}
	s, err := chosenSeason(ctx, b, r, true)
	if err != nil {
		return Reply{}, err
	}
	var planned []string
	for _, p := range s.Parts {
		if named := []string{partKey(p), record.Held(p.Scheduled)}; !slices.Contains(named, strings.TrimSpace(r.Options["challenge"])) {
			if p.Challenge == "" && !p.Missed {
				planned = append(planned, partKey(p))
			}
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
	if len(planned) == 0 {
		return Reply{}, analysis.Refuse("`/season add` puts some on days.", "Nothing is planned.")
	}
	return Reply{}, analysis.Refuse("Choose one from what is offered while you type, as "+planned[0]+".", "Nothing of that day and name is planned.")
}

// partKey names a challenge of a season, as its option's value.
func partKey(p record.Part) string { return p.Day.Format(time.DateOnly) + " " + p.Name }
