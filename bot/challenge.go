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
	"rangepost/analysis/brief"
	"rangepost/analysis/challenge"
	"rangepost/bot/record"
	"rangepost/bot/report"
	"rangepost/bot/words"
	"rangepost/store"
)

// runOpenChallenge is /challenge open: the terms are checked, written down, and
// posted in the challenge channel with how it is scored.
func runOpenChallenge(ctx context.Context, b *Bot, r Call) (Reply, error) {
	house, channel, err := challengeChannel(ctx, b, r)
	if err != nil {
		return Reply{}, err
	}
	name := words.Cut(words.Clean(r.Options["name"]), 60)
	if name == "" {
		return Reply{}, analysis.Refuse("Give it one the members will know it by.", "A challenge needs a name.")
	}
	open, err := b.db.Challenges(ctx, r.Server, true, 0)
	if err != nil {
		return Reply{}, err
	}
	if slices.ContainsFunc(open, func(c store.Challenge) bool { return strings.EqualFold(c.Name, name) }) {
		return Reply{}, analysis.Refuse("Give this one another name, so that members can tell them apart, or close that one first.", "A challenge called %s is open.", words.Escape(name))
	}
	terms, err := termsAsked(r, house, b.now())
	if err != nil {
		return Reply{}, err
	}
	until, err := deadline(r.Options["until"], record.Zone(house.TimeZone), b.now())
	if err != nil {
		return Reply{}, err
	}
	opened, err := b.records.OpenChallenge(ctx, store.Challenge{Server: r.Server, Name: name, Channel: channel, Until: until}, terms)
	if err != nil {
		return Reply{}, err
	}
	return private(strings.Join(append(append(placesOf(opened).head(), zoneless(house, b.now())...), fmt.Sprintf("It is posted in <#%s> within a minute. Nothing of this can be changed; `/challenge close` ends it, and `/challenge void` calls it off if something is wrong.", channel)), "\n")), nil
}

// zoneless says, where nobody set a clubhouse's time zone, by which clock its
// challenges end.
func zoneless(house store.Clubhouse, now time.Time) []string {
	if house.TimeZone != "" {
		return nil
	}
	return []string{fmt.Sprintf("Nobody has set this server's time zone, so I take UTC, where it is %s now. Is it another time at your club? Then a server manager sets it with `/clubhouse setup`, and this challenge is closed and opened anew.", now.UTC().Format("15:04"))}
}

// termsAsked reads the options of /challenge open.
func termsAsked(r Call, house store.Clubhouse, now time.Time) (t challenge.Terms, err error) {
	t.Rule, t.Ball = challenge.Rule(r.Options["rule"]), analysis.Ball(r.Options["ball"])
	if t.Ball == "" {
		t.Ball = analysis.RangeBall
	}
	if t.Club, err = clubAsked(r.Options["club"]); err != nil {
		return t, err
	}
	if t.Balls, err = strconv.Atoi(r.Options["balls"]); err != nil {
		return t, analysis.Refuse("Say a whole number.", "that is no number.").Of("balls")
	}
	t.Inferred = r.Options["figures"] == figuresBoth
	t.Drawn = r.Options["counts"] == countsDrawn
	t.Announced = t.Drawn || r.Options["counts"] == countsAnnounced
	if text := r.Options["minutes"]; text != "" {
		if t.Minutes, err = strconv.Atoi(text); err != nil || t.Minutes < 1 {
			return t, analysis.Refuse("Say a whole number.", "that is no number of minutes.").Of("minutes")
		}
	}
	t.Look = r.Options["look"] != "no"
	if text := r.Options["fewest"]; text != "" {
		if t.Fewest, err = strconv.Atoi(text); err != nil || t.Fewest < 1 {
			return t, analysis.Refuse("Say a whole number.", "that is no number of entries.").Of("fewest")
		}
	}
	for _, option := range []string{"target", "wide", "deep", "limits", "least", "shots"} {
		if r.Options[option] != "" && !slices.Contains(ofRule[option], t.Rule) {
			return t, analysis.Refuse("Leave it out, or choose another rule.", "Option '%s' is none of the rule %s.", option, words.Cut(string(t.Rule), 20))
		}
	}
	t.Step = house.Units.Scale(analysis.Length) / 10
	for _, d := range []struct {
		option string
		to     *float64
	}{{"target", &t.Target}, {"wide", &t.Wide}, {"deep", &t.Deep}, {"least", &t.Least}} {
		if text := r.Options[d.option]; text != "" {
			if *d.to, err = report.ParseDistance(text, house.Units); err != nil {
				return t, of(d.option, err)
			}
		}
	}
	if text := r.Options["shots"]; text != "" {
		if t.Shots, err = report.ShotsAsked(text, house.Units); err != nil {
			return t, of("shots", err)
		}
		t.Number = analysis.AskedDone
	}
	if text := r.Options["limits"]; text != "" {
		asked, err := brief.Parse(text, brief.Options{Units: house.Units, Now: now})
		if err != nil {
			return t, of("limits", err)
		}
		if !asked.Club.Unknown() || asked.Balls > 0 || !asked.Until.IsZero() {
			return t, analysis.Refuse("Club, balls and end are options of their own.", "Option 'limits' takes one number and its limits.")
		}
		t.Number, t.Low, t.High = asked.Number, asked.Low, asked.High
	}
	return t, nil
}

// ofRule are the options of /challenge open that only some rules have.
var ofRule = map[string][]challenge.Rule{
	"target": {challenge.Nearest, challenge.Zone}, "wide": {challenge.Zone}, "deep": {challenge.Zone}, "limits": {challenge.Brief}, "shots": {challenge.OnRequest},
	"least": {challenge.Narrow, challenge.Progress},
}

// What options of /challenge open say that are chosen from a list.
const (
	figuresBoth     = "both"
	countsAnnounced = "announced"
	countsDrawn     = "drawn"
)

// deadlineForm is how the end of a challenge is written. Without a time
// it is the end of that day.
const deadlineForm = "2006-01-02 15:04"

// deadline reads when a challenge ends, on the clubhouse's clock; the zero time
// if nothing was said. A time that a clock skips is the one an hour on; of one
// that comes twice the first counts.
func deadline(text string, zone *time.Location, now time.Time) (time.Time, error) {
	text = strings.TrimSpace(text)
	if text == "" {
		return time.Time{}, nil
	}
	wall, err := time.Parse(deadlineForm, text)
	if err != nil {
		if wall, err = time.Parse(time.DateOnly, text); err != nil {
			return wall, analysis.Refuse("Write it as 2026-09-30, for the end of that day, or 2026-09-30 18:00.", "that is neither a day nor a time.").Of("until")
		}
		wall = wall.AddDate(0, 0, 1)
	}
	t := onClock(wall, zone)
	switch {
	case !t.After(now):
		return t, analysis.Refuse("Give it a time to come.", "%s is past.", when(t, zone)).Of("until")
	case t.After(now.AddDate(1, 0, 0)):
		return t, analysis.Refuse("Give it a time within a year.", "that is very far off.").Of("until")
	}
	return t, nil
}

// onClock is the instant at which a clock in a zone shows what wall shows in
// UTC: the first, where the clock is put back and shows it twice; as the clock
// went before, where it is put forward and never shows it.
func onClock(wall time.Time, zone *time.Location) time.Time {
	as := func(when time.Time) time.Time {
		_, offset := when.In(zone).Zone()
		return wall.Add(-time.Duration(offset) * time.Second)
	}
	shows := func(t time.Time) bool {
		return t.In(zone).Format(time.DateTime) == wall.Format(time.DateTime)
	}
	before, after := as(wall.Add(-24*time.Hour)), as(wall.Add(24*time.Hour))
	if !shows(before) && shows(after) {
		return after
	}
	return before
}

// chosenChallenge is the challenge an option names, or the only one there is to
// mean.
func chosenChallenge(ctx context.Context, b *Bot, r Call, open bool) (store.Challenge, error) {
	if id := r.Options["challenge"]; id != "" {
		c, err := b.db.Challenge(ctx, r.Server, id)
		if errors.Is(err, store.ErrNotFound) {
			return c, analysis.Refuse("Choose one from what is offered while you type.", "I do not know that challenge.")
		}
		return c, err
	}
	all, err := b.db.Challenges(ctx, r.Server, true, 0)
	if err != nil {
		return store.Challenge{}, err
	}
	if len(all) == 0 && !open {
		if all, err = b.db.Challenges(ctx, r.Server, false, 1); err != nil {
			return store.Challenge{}, err
		}
	}
	switch len(all) {
	case 0:
		return store.Challenge{}, analysis.Refuse("A coach or manager opens one with `/challenge open`.", "No challenge is open.")
	case 1:
		return all[0], nil
	}
	return store.Challenge{}, analysis.Refuse("Choose one with the option `challenge`.", "%d challenges are open.", len(all))
}

// runStandings is /challenge standings.
func runStandings(ctx context.Context, b *Bot, r Call) (Reply, error) {
	c, err := chosenChallenge(ctx, b, r, false)
	if err != nil {
		return Reply{}, err
	}
	return standings(ctx, b, r, c)
}

func pressStandings(ctx context.Context, b *Bot, r Call) (Reply, error) {
	c, err := b.db.Challenge(ctx, r.Server, r.Args[0])
	if err != nil {
		return Reply{}, err
	}
	return standings(ctx, b, r, c)
}

// standings are shown to whoever asks, with their own place if they have one.
func standings(ctx context.Context, b *Bot, r Call, c store.Challenge) (Reply, error) {
	s, err := b.records.Standings(ctx, c)
	if err != nil {
		return Reply{}, err
	}
	p, err := placesFor(ctx, b, r, s)
	if err != nil {
		return Reply{}, err
	}
	var mine []string
	if look, ok := s.LookOf(r.Asker.ID); ok {
		mine = append(mine, yourLook(look))
	}
	if row, ok := s.Of(r.Asker.ID); ok {
		mine = append(mine, strings.TrimSpace(fmt.Sprintf("You: %s of %d, %s. %s %s", words.Ordinal(row.Place), len(s.Rows),
			p.voice.ChallengeScore(s.Terms, row.Score), p.voice.ChallengeBehind(s.Terms, row), words.ChallengeRanks(row, len(s.Rows)))))
	}
	mine = append(mine, words.ChallengeDevices)
	reply := Reply{Text: p.text(MaxText, mine...), Private: true}
	if len(s.Rows) > 0 {
		b.illustrate(ctx, &reply, "standings.png", p.picture)
	}
	return reply, nil
}

// runCloseChallenge is /challenge close.
func runCloseChallenge(ctx context.Context, b *Bot, r Call) (Reply, error) {
	c, err := chosenChallenge(ctx, b, r, true)
	if err != nil {
		return Reply{}, err
	}
	if err := b.records.Rescore(ctx, c); err != nil {
		return Reply{}, err
	}
	s, err := b.records.Standings(ctx, c)
	if err != nil {
		return Reply{}, err
	}
	if n := s.Waiting(); n > 0 {
		return Reply{}, analysis.Refuse("`/challenge look` shows them: accept them or take them out, then close it.", "%s", words.ChallengeWaits(n))
	}
	closed, err := b.records.CloseChallenge(ctx, c)
	if errors.Is(err, store.ErrExpired) {
		return Reply{}, record.Over(c)
	}
	if err != nil {
		return Reply{}, err
	}
	return private(fmt.Sprintf("%s is closed. The final standings and who won follow in <#%s> within a minute.", words.Escape(closed.Name), closed.Channel)), nil
}

// completeChallenge offers challenges and, for an entry, the asker's sessions.
func completeChallenge(ctx context.Context, b *Bot, r Call) ([]Choice, error) {
	if r.Focused == "session" {
		return completeSession(ctx, b, r)
	}
	openOnly := !slices.Contains([]string{"challenge standings", "challenge look", "challenge void"}, r.Command)
	all, err := b.db.Challenges(ctx, r.Server, openOnly, 25)
	if err != nil {
		return nil, err
	}
	var choices []Choice
	for _, c := range all {
		text := words.Clean(c.Name)
		if c.Over(b.now()) {
			text += " (over)"
		}
		choices = append(choices, Choice{Value: c.ID, Text: words.Cut(text, 100)})
	}
	return choices, nil
}

// pressLeave takes the asker out of the club's challenges, and their name off
// those that are over.
func pressLeave(ctx context.Context, b *Bot, r Call) (Reply, error) {
	return leave(ctx, b, r, false, "Done: you are out of every open challenge, and your name is off the closed ones and the tables of seasons. Their messages follow within minutes.")
}

// pressLeaveOpen takes the asker out of what is open. What is over stays as it
// is, with their name.
func pressLeaveOpen(ctx context.Context, b *Bot, r Call) (Reply, error) {
	return leave(ctx, b, r, true, "Done: you are out of every open challenge. What is over stays as it is, with your name; `/mine consent` takes that off too.")
}

func leave(ctx context.Context, b *Bot, r Call, nameStays bool, done string) (Reply, error) {
	n, err := b.db.LeaveChallenges(ctx, r.Server, r.Asker.ID, nameStays)
	switch {
	case err != nil:
		return Reply{}, err
	case n == 0 && nameStays:
		return Reply{Text: "You are in no open challenge here."}, nil
	case n == 0:
		return Reply{Text: "You are in no challenge here."}, nil
	}
	return Reply{Text: done}, nil
}
