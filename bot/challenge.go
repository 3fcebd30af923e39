package bot

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"
	"time"

	"rangepost/analysis"
	"rangepost/analysis/brief"
	"rangepost/analysis/challenge"
	"rangepost/bot/report"
	"rangepost/bot/words"
	"rangepost/store"
)

// runOpenChallenge is /challenge open: the terms are checked, written down, and
// posted in the challenge channel with how it is scored.
func runOpenChallenge(ctx context.Context, b *Bot, r Request) (Reply, error) {
	house, err := b.db.Clubhouse(ctx, r.Server)
	if err != nil {
		return Reply{}, err
	}
	if len(house.ChallengeChannels) == 0 {
		return Reply{}, problemf("A server manager names one by using `/clubhouse channel` in it.", "No channel is for challenges yet.")
	}
	channel := house.ChallengeChannels[0]
	if slices.Contains(house.ChallengeChannels, r.Channel) {
		channel = r.Channel
	}
	name := words.Cut(words.Clean(r.Options["name"]), 60)
	if name == "" {
		return Reply{}, problemf("Give it one the members will know it by.", "A challenge needs a name.")
	}
	terms, err := termsAsked(r, house, b.now())
	if err != nil {
		return Reply{}, err
	}
	until, err := deadline(r.Options["until"], zoneOf(house), b.now())
	if err != nil {
		return Reply{}, err
	}
	data, err := encodeTerms(terms)
	if err != nil {
		return Reply{}, err
	}
	c, err := b.db.OpenChallenge(ctx, store.Challenge{Server: r.Server, Name: name, Channel: channel, Until: until, Terms: data})
	if err != nil {
		return Reply{}, err
	}
	t, err := b.table(ctx, c)
	if err != nil {
		return Reply{}, err
	}
	return private(strings.Join(append(t.head(), fmt.Sprintf("It is posted in <#%s> within a minute. Nothing of this can be changed; `/challenge close` ends it.", channel)), "\n")), nil
}

// termsAsked reads the options of /challenge open.
func termsAsked(r Request, house store.Clubhouse, now time.Time) (t challenge.Terms, err error) {
	t.Rule, t.Ball = challenge.Rule(r.Options["rule"]), analysis.Ball(r.Options["ball"])
	if t.Ball == "" {
		t.Ball = analysis.RangeBall
	}
	if t.Club, err = club(r); err != nil {
		return t, err
	}
	if t.Balls, err = strconv.Atoi(r.Options["balls"]); err != nil {
		return t, problemf("Say a whole number.", "Option 'balls': that is no number.")
	}
	for _, option := range []string{"target", "wide", "deep", "limits"} {
		if r.Options[option] != "" && !slices.Contains(ofRule[option], t.Rule) {
			return t, problemf("Leave it out, or choose another rule.", "Option '%s' is none of the rule %s.", option, escape(words.Cut(string(t.Rule), 20)))
		}
	}
	metres := house.Distance == store.Metres
	t.Step = words.Voice{Metres: metres}.Scale(analysis.Length) / 10
	for _, d := range []struct {
		option string
		to     *float64
	}{{"target", &t.Target}, {"wide", &t.Wide}, {"deep", &t.Deep}} {
		if text := r.Options[d.option]; text != "" {
			if *d.to, err = report.ParseDistance(text, metres); err != nil {
				return t, problemf("", "Option '%s': %s.", d.option, escape(err.Error()))
			}
		}
	}
	if text := r.Options["limits"]; text != "" {
		asked, err := brief.Parse(text, brief.Options{Metres: metres, MPS: house.Speed == store.MetresPerSecond, Now: now})
		if err != nil {
			return t, problemf("", "Option 'limits': %s", escape(err.Error()))
		}
		if !asked.Club.Unknown() || asked.Balls > 0 || !asked.Until.IsZero() {
			return t, problemf("Club, balls and end are options of their own.", "Option 'limits' takes one number and its limits.")
		}
		t.Number, t.Low, t.High = asked.Number, asked.Low, asked.High
	}
	return t, termsProblem(t.Check())
}

// ofRule are the options of /challenge open that only some rules have.
var ofRule = map[string][]challenge.Rule{
	"target": {challenge.Nearest, challenge.Zone}, "wide": {challenge.Zone}, "deep": {challenge.Zone}, "limits": {challenge.Brief},
}

// termsProblem makes an error about a challenge one for people.
func termsProblem(err error) error {
	var e *challenge.Error
	if errors.As(err, &e) {
		return problemf(e.Hint, "%s", escape(e.Problem))
	}
	return err
}

// deadlineForms are how the end of a challenge may be written. Without a time
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
		if wall, err = time.Parse(dateForm, text); err != nil {
			return wall, problemf("Write it as 2026-09-30, for the end of that day, or 2026-09-30 18:00.", "Option 'until': that is neither a day nor a time.")
		}
		wall = wall.AddDate(0, 0, 1)
	}
	t := onClock(wall, zone)
	switch {
	case !t.After(now):
		return t, problemf("Give it a time to come.", "Option 'until': %s is past.", when(t, zone))
	case t.After(now.AddDate(1, 0, 0)):
		return t, problemf("Give it a time within a year.", "Option 'until': that is very far off.")
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
func (b *Bot) chosenChallenge(ctx context.Context, r Request, open bool) (store.Challenge, error) {
	if id := r.Options["challenge"]; id != "" {
		c, err := b.db.Challenge(ctx, r.Server, id)
		if errors.Is(err, store.ErrNotFound) {
			return c, problemf("Choose one from what is offered while you type.", "I do not know that challenge.")
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
		return store.Challenge{}, problemf("A coach or manager opens one with `/challenge open`.", "No challenge is open.")
	case 1:
		return all[0], nil
	}
	return store.Challenge{}, problemf("Choose one with the option `challenge`.", "%d challenges are open.", len(all))
}

// runEnter is /challenge enter: a session that is posted, or a file right here.
func runEnter(ctx context.Context, b *Bot, r Request) (Reply, error) {
	c, err := b.chosenChallenge(ctx, r, true)
	if err != nil {
		return Reply{}, err
	}
	said, err := b.saidBeside(ctx, r)
	if err != nil {
		return Reply{}, err
	}
	want := r.Options["session"]
	if file, ok := r.Files[r.Options["file"]]; ok {
		if c.Over(b.now()) {
			return Reply{}, errOver(c)
		}
		kept, answer, _, err := b.keepFile(ctx, r, r.Asker.ID, file, said)
		if err != nil {
			return Reply{}, err
		}
		if questions := answer.Reading.Questions; len(questions) > 0 {
			asked := askQuestions(kept, questions, Reply{about: r.Asker.ID, Private: true})
			asked.Text = clip(asked.Text+"\nOnce that is answered, enter it again.", MaxText)
			return asked, nil
		}
		want = kept.ID
	} else if want != "" && (said.Ball != "" || !said.Club.Unknown()) {
		s, err := b.db.Session(ctx, r.Server, want)
		if err != nil {
			return Reply{}, err
		}
		if s.Student != r.Asker.ID {
			return Reply{}, errNotYours
		}
		s.Said = mergeSaid(s.Said, said)
		answer, err := b.reread(ctx, s)
		if err != nil {
			return Reply{}, err
		}
		if _, err := b.db.ReplaceReading(ctx, s.Server, s.ID, keepReading(answer), s.Said); err != nil {
			return Reply{}, err
		}
	}
	return b.enter(ctx, r, c, want)
}

// pressEnter is the button under the standings.
func pressEnter(ctx context.Context, b *Bot, r Request, args []string) (Reply, error) {
	c, err := b.db.Challenge(ctx, r.Server, args[0])
	if err != nil {
		return Reply{}, err
	}
	return b.enter(ctx, r, c, "")
}

func errOver(c store.Challenge) error {
	return problemf("`/challenge standings` shows how it ended.", "%s is over.", escape(c.Name))
}

// enter enters a player's first session that counts; want is the one they
// mean, "" for whichever it is.
func (b *Bot) enter(ctx context.Context, r Request, c store.Challenge, want string) (Reply, error) {
	if c.Over(b.now()) {
		return Reply{}, errOver(c)
	}
	terms, err := decodeTerms(c.Terms)
	if err != nil {
		return Reply{}, err
	}
	s, stretch, err := b.counting(ctx, r, c, terms, want)
	if err != nil {
		return Reply{}, err
	}
	var past challenge.Past
	if terms.Rule == challenge.Progress {
		if past, err = b.past(ctx, r.Server, r.Asker.ID, c, terms); err != nil {
			return Reply{}, err
		}
	}
	entry := store.Entry{Challenge: c.ID, Server: r.Server, Player: r.Asker.ID, Session: s.ID, SHA256: s.SHA256}
	if entry.Stretch, err = json.Marshal(stretch); err != nil {
		return Reply{}, err
	}
	if entry.Past, err = json.Marshal(past); err != nil {
		return Reply{}, err
	}
	if r.Asker.Name != "" {
		if err := b.db.SetName(ctx, r.Server, r.Asker.ID, words.Cut(words.Clean(r.Asker.Name), 40)); err != nil {
			return Reply{}, err
		}
	}
	_, err = b.db.Enter(ctx, entry, func(others []store.Entry) error {
		for _, o := range others {
			other, err := decodeEntry(o)
			if err != nil {
				return err
			}
			if challenge.Same(stretch, other.stretch) {
				return problemf("Enter balls of your own.", "These balls are in the challenge already, from another file.")
			}
		}
		return nil
	})
	switch {
	case errors.Is(err, store.ErrTaken):
		return b.entered(ctx, r, c)
	case errors.Is(err, store.ErrExpired):
		return Reply{}, errOver(c)
	case err != nil:
		return Reply{}, err
	}
	return b.enteredReply(ctx, r, c, s, stretch)
}

// entered answers a second entry: a player has one, and a file counts once.
func (b *Bot) entered(ctx context.Context, r Request, c store.Challenge) (Reply, error) {
	t, err := b.table(ctx, c)
	if err != nil {
		return Reply{}, err
	}
	if _, in := t.rowOf(r.Asker.ID); !in {
		return Reply{}, problemf("Enter balls of your own.", "That file is in the challenge already.")
	}
	return Reply{}, problemf("`/challenge standings` shows your place.", "You are in, and one entry is all: the best of several would be luck.")
}

func (b *Bot) enteredReply(ctx context.Context, r Request, c store.Challenge, s store.Session, stretch challenge.Stretch) (Reply, error) {
	t, err := b.table(ctx, c)
	if err != nil {
		return Reply{}, err
	}
	row, ok := t.rowOf(r.Asker.ID)
	if !ok {
		return Reply{}, store.ErrNotFound
	}
	lines := []string{
		fmt.Sprintf("You are in %s with your session of %s: %s, %s of %d.", escape(c.Name), day(s.At),
			t.voice.ChallengeScore(t.terms, row.Score), words.Ordinal(row.Place), len(t.Rows)),
		counted(stretch),
		b.weighed(t.terms, row.Score),
		words.ChallengeRanks(row, len(t.Rows)),
		fmt.Sprintf("Your name and this score now show in <#%s>, and nothing else of yours. `/mine consent` takes you out again.", c.Channel),
	}
	return private(strings.Join(slices.DeleteFunc(lines, func(l string) bool { return l == "" }), "\n")), nil
}

// counted says which balls of a session count.
func counted(s challenge.Stretch) string {
	first, last := s.Balls[0].N, s.Balls[len(s.Balls)-1].N
	text := fmt.Sprintf("Counted: %d balls, number %d to %d of the file", len(s.Balls), first, last)
	if s.Mishits > 0 {
		text += fmt.Sprintf(", mishits too (%d)", s.Mishits)
	}
	if s.Passed > 0 {
		text += fmt.Sprintf("; passed over as misread or not measured: %d", s.Passed)
	}
	if s.Moved > 0 {
		text += fmt.Sprintf("; brought to still standard air by the flight model: %d", s.Moved)
	}
	if s.Inferred > 0 {
		text += fmt.Sprintf("; worked back from other numbers rather than measured: %d", s.Inferred)
	}
	return text + "."
}

// weighed says what became of a gain; "" for other rules.
func (b *Bot) weighed(t challenge.Terms, s challenge.Score) string {
	if t.Rule != challenge.Progress {
		return ""
	}
	way := "nearer"
	if s.Seen < 0 {
		way = "further"
	}
	return fmt.Sprintf("As hit they were %.0f %% %s; most of what so few balls gain or lose is luck, so %.0f %% of it counts.", 100*math.Abs(s.Seen), way, 100*s.Weight)
}

// counting is the session of a player that counts: the first posted since the
// opening, and hit since then as far as known, that can be scored. What might
// come first and is not settled yet has to be settled first, or whoever leaves
// a bad session unsettled would enter a better one.
func (b *Bot) counting(ctx context.Context, r Request, c store.Challenge, terms challenge.Terms, want string) (s store.Session, stretch challenge.Stretch, err error) {
	infos, err := b.db.Sessions(ctx, r.Server, r.Asker.ID, store.SessionFilter{PostedSince: c.Opened})
	if err != nil {
		return s, stretch, err
	}
	slices.SortStableFunc(infos, func(x, y store.SessionInfo) int { return x.Posted.Compare(y.Posted) })
	// A file may say the day of a session and not the hour.
	openingDay := c.Opened.Truncate(24 * time.Hour)
	var why error
	for _, info := range infos {
		if info.At.Before(openingDay) {
			if info.ID == want {
				return s, stretch, problemf("Enter one hit since then.", "That session was hit before the challenge opened.")
			}
			continue
		}
		if s, err = b.db.Session(ctx, r.Server, info.ID); err != nil {
			return s, stretch, err
		}
		if len(s.Reading.Questions) > 0 {
			return s, stretch, problemf("Answer it with `/post` of the same file, then enter.", "Your session of %s has an open question about its file, so it cannot be scored yet.", day(s.At))
		}
		taken, err := terms.Take(s.Reading.Session)
		if err == nil {
			if want != "" && want != s.ID {
				return s, stretch, problemf("Leave the option `session` out.", "The first session with the balls is the one that counts, and yours is that of %s. Choosing the best of several would be luck.", day(s.At))
			}
			return s, taken, nil
		}
		if unsaid(terms, s.Reading.Session) {
			return s, stretch, problemf("Say it with `/challenge enter`, options `session` and `ball`.", "I do not know what kind of balls your session of %s was hit with, and it may be the one that counts.", day(s.At))
		}
		why = termsProblem(err) // the latest is the one they will mean
		if info.ID == want {
			return s, stretch, why
		}
	}
	switch {
	case want != "":
		return s, stretch, problemf("Enter one posted since.", "That session is none of yours since the challenge opened.")
	case why != nil:
		return s, stretch, why
	}
	return s, stretch, problemf("Post one with `/post`, or hand the file over with `/challenge enter`.", "You have posted no session since %s opened.", escape(c.Name))
}

// unsaid reports whether a session could count but for its kind of ball, which
// nobody said.
func unsaid(t challenge.Terms, s analysis.Session) bool {
	if !t.OfTheBall() || s.Ball == analysis.NewBall || s.Ball == analysis.RangeBall {
		return false
	}
	s.Ball = t.Ball
	_, err := t.Take(s)
	return err == nil
}

// past is a player's window before the opening.
func (b *Bot) past(ctx context.Context, server, player string, c store.Challenge, terms challenge.Terms) (challenge.Past, error) {
	infos, err := b.db.Sessions(ctx, server, player, store.SessionFilter{})
	if err != nil {
		return challenge.Past{}, err
	}
	var sessions []analysis.Session
	var p challenge.Past
	for _, info := range infos {
		if !info.Posted.Before(c.Opened) || info.Open > 0 {
			continue
		}
		s, err := b.db.Session(ctx, server, info.ID)
		if err != nil {
			return p, err
		}
		sessions = append(sessions, s.Reading.Session)
		if p, err = terms.PastOf(sessions); err == nil {
			return p, nil
		}
	}
	_, err = terms.PastOf(sessions)
	return p, termsProblem(err)
}

// runStandings is /challenge standings.
func runStandings(ctx context.Context, b *Bot, r Request) (Reply, error) {
	c, err := b.chosenChallenge(ctx, r, false)
	if err != nil {
		return Reply{}, err
	}
	return b.standings(ctx, r, c)
}

func pressStandings(ctx context.Context, b *Bot, r Request, args []string) (Reply, error) {
	c, err := b.db.Challenge(ctx, r.Server, args[0])
	if err != nil {
		return Reply{}, err
	}
	return b.standings(ctx, r, c)
}

// standings are shown to whoever asks, with their own place if they have one.
func (b *Bot) standings(ctx context.Context, r Request, c store.Challenge) (Reply, error) {
	t, err := b.table(ctx, c)
	if err != nil {
		return Reply{}, err
	}
	var mine []string
	if row, ok := t.rowOf(r.Asker.ID); ok {
		mine = append(mine, strings.TrimSpace(fmt.Sprintf("You: %s of %d, %s. %s %s", words.Ordinal(row.Place), len(t.Rows),
			t.voice.ChallengeScore(t.terms, row.Score), t.voice.ChallengeBehind(t.terms, row), words.ChallengeRanks(row, len(t.Rows)))))
	}
	mine = append(mine, words.ChallengeDevices)
	reply := Reply{Text: t.text(MaxText, mine...), Private: true}
	if len(t.Rows) > 0 {
		b.illustrate(ctx, &reply, "standings.png", t.picture)
	}
	return reply, nil
}

// runCloseChallenge is /challenge close.
func runCloseChallenge(ctx context.Context, b *Bot, r Request) (Reply, error) {
	c, err := b.chosenChallenge(ctx, r, true)
	if err != nil {
		return Reply{}, err
	}
	if err := b.rescore(ctx, c); err != nil {
		return Reply{}, err
	}
	closed, err := b.closeChallenge(ctx, c)
	if errors.Is(err, store.ErrExpired) {
		return Reply{}, errOver(c)
	}
	if err != nil {
		return Reply{}, err
	}
	return private(fmt.Sprintf("%s is closed. The final standings and who won follow in <#%s> within a minute.", escape(closed.Name), closed.Channel)), nil
}

// completeChallenge offers challenges and, for an entry, the asker's sessions.
func completeChallenge(ctx context.Context, b *Bot, r Request) ([]Choice, error) {
	if r.Focused == "session" {
		return completeSession(ctx, b, r)
	}
	all, err := b.db.Challenges(ctx, r.Server, r.Command != "challenge standings", 25)
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

// pressLeave takes the asker out of the club's challenges.
func pressLeave(ctx context.Context, b *Bot, r Request, _ []string) (Reply, error) {
	n, err := b.db.LeaveChallenges(ctx, r.Server, r.Asker.ID)
	if err != nil {
		return Reply{}, err
	}
	if n == 0 {
		return Reply{Text: "You are in no challenge here."}, nil
	}
	return Reply{Text: "Done: you are out of every open challenge, and your name is off the closed ones. Their messages follow within minutes."}, nil
}
