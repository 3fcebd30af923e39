package bot

import (
	"context"
	"encoding/json"
	"fmt"
	"slices"
	"strings"
	"time"

	"rangepost/analysis/challenge"
	"rangepost/bot/pictures"
	"rangepost/bot/report"
	"rangepost/bot/words"
	"rangepost/store"
)

// A table is the standings of one challenge, as everybody may see them: names
// and scores, never a ball or a delivery.
type table struct {
	store.Challenge
	terms   challenge.Terms
	voice   words.Voice // the clubhouse's units
	zone    *time.Location
	entries []scored
	names   []string // by entry, as shown; untrusted
	challenge.Standings
}

// table works out the standings of a challenge: by its entries' balls while it
// is open, as they were kept once it is closed.
func (b *Bot) table(ctx context.Context, c store.Challenge) (t table, err error) {
	t.Challenge = c
	if t.terms, err = decodeTerms(c.Terms); err != nil {
		return t, err
	}
	house, err := b.db.Clubhouse(ctx, c.Server)
	if err != nil {
		return t, err
	}
	t.voice = words.Voice{Units: house.Units}
	t.zone = zoneOf(house)
	kept, err := b.db.Entries(ctx, c.ID)
	if err != nil {
		return t, err
	}
	for _, e := range kept {
		one, err := decodeEntry(e)
		if err != nil {
			return t, err
		}
		name, err := b.shownName(ctx, house, e.Player)
		if err != nil {
			return t, err
		}
		t.entries, t.names = append(t.entries, one), append(t.names, name)
	}
	if !c.Closed.IsZero() {
		return t, t.settled()
	}
	scores := make([]challenge.Score, len(t.entries))
	for i, e := range t.entries {
		scores[i] = t.terms.Score(e.stretch, e.past)
	}
	t.Standings = t.terms.Stand(scores)
	return t, nil
}

// settled reads the standings as they were at the end.
func (t *table) settled() error {
	for i, e := range t.entries {
		var f final
		if err := json.Unmarshal(e.Final, &f); err != nil {
			return err
		}
		t.Rows = append(t.Rows, f.standing(i))
		t.Best = f.Best
	}
	slices.SortStableFunc(t.Rows, func(a, b challenge.Standing) int { return a.Place - b.Place })
	return nil
}

// What players are called who cannot be named in the channel.
const (
	formerMember = "A former member"
	someJunior   = "A junior"
	someMember   = "A member"
)

// midSentence is a shown name where it does not begin a sentence.
func midSentence(name string) string {
	switch name {
	case formerMember, someJunior, someMember:
		return "a" + name[1:]
	}
	return name
}

// shownName is how a player is named in the channel. A junior's name is not
// shown while the clubhouse keeps juniors private.
func (b *Bot) shownName(ctx context.Context, house store.Clubhouse, player string) (string, error) {
	if player == "" {
		return formerMember, nil
	}
	s, err := b.db.Student(ctx, house.Server, player)
	switch {
	case err != nil:
		return "", err
	case s.Junior && house.JuniorsPrivate:
		return someJunior, nil
	case s.Name == "":
		return someMember, nil
	}
	return s.Name, nil
}

// zoneOf is the clubhouse's time zone, UTC if it has none.
func zoneOf(house store.Clubhouse) *time.Location {
	zone, err := time.LoadLocation(house.TimeZone)
	if err != nil {
		return time.UTC
	}
	return zone
}

// when says an instant on the clubhouse's clock.
func when(t time.Time, zone *time.Location) string {
	return t.In(zone).Format("Monday 2 January 2006, 15:04 MST")
}

// rowOf is the standing of a player, if they are in it.
func (t table) rowOf(player string) (challenge.Standing, bool) {
	for _, r := range t.Rows {
		if t.entries[r.Entry].Player == player {
			return r, true
		}
	}
	return challenge.Standing{}, false
}

// line is one line of the standings.
func (t table) line(r challenge.Standing) string {
	text := fmt.Sprintf("%d. %s: %s", r.Place, escape(t.names[r.Entry]), t.voice.ChallengeScore(t.terms, r.Score))
	if !t.entries[r.Entry].Rescored.IsZero() {
		text += ", scored anew after its file was read again"
	}
	return text
}

// head says what the challenge is: its name, how it is scored, until when.
func (t table) head() []string {
	lines := []string{"**" + escape(t.Name) + "**", t.voice.ChallengeRule(t.terms)}
	switch {
	case !t.Closed.IsZero():
		return append(lines, "Closed "+when(t.Closed, t.zone)+". These are the final standings.")
	case !t.Until.IsZero():
		lines = append(lines, "One entry each: your first session posted since the opening that has the balls. Open until "+when(t.Until, t.zone)+".")
	default:
		lines = append(lines, "One entry each: your first session posted since the opening that has the balls. Open until it is closed by hand.")
	}
	if why := words.ChallengeWhy(t.terms); why != "" && len(t.Rows) < 5 {
		lines = append(lines, why)
	}
	return lines
}

// text is the standings, the best first, in at most room characters; after is
// said last and always.
func (t table) text(room int, after ...string) string {
	lines := t.head()
	var tail []string
	if len(t.Rows) == 0 {
		tail = append(tail, "Nobody has entered yet.")
	}
	if apart := words.ChallengeApart(t.Standings); apart != "" {
		tail = append(tail, apart)
	}
	tail = append(tail, after...)
	room -= len([]rune(strings.Join(append(slices.Clone(lines), tail...), "\n"))) + len("\nAnd 1000 more.") + 1
	for i, r := range t.Rows {
		line := t.line(r)
		if room -= len([]rune(line)) + 1; room < 0 || i == 10 {
			lines = append(lines, fmt.Sprintf("And %d more.", len(t.Rows)-i))
			break
		}
		lines = append(lines, line)
	}
	return strings.Join(append(lines, tail...), "\n")
}

// picture draws the standings.
func (t table) picture(ctx context.Context) (report.Picture, error) {
	plain := t.voice
	plain.Plain = true
	scale := plain.ChallengeScale(t.terms)
	in := pictures.BarsInput{Axis: plain.ChallengeAxis(t.terms), Below: t.Name}
	var names []string
	leader := ""
	for i, r := range t.Rows {
		name := t.names[r.Entry]
		if i == 0 {
			leader = name
		}
		names = append(names, name)
		in.Rows = append(in.Rows, pictures.Bar{
			Name: fmt.Sprintf("%d. %s", r.Place, name), Value: r.Score.Value / scale, Low: r.Score.Low / scale, High: r.Score.High / scale,
			OK: r.Score.OK, Says: plain.ChallengeBar(t.terms, r.Score), Tie: r.Tie,
		})
	}
	in.Title = plain.ChallengeTitle(t.terms, t.Standings, leader, !t.Closed.IsZero())
	png, err := pictures.Bars(ctx, in)
	return report.Picture{PNG: png, Alt: plain.AltChallenge(t.terms, t.Standings, names, in.Title)}, err
}

// board is the message the standings stand in.
func (b *Bot) board(ctx context.Context, t table) Reply {
	reply := Reply{Text: t.text(MaxText)}
	if len(t.Rows) > 0 {
		b.illustrate(ctx, &reply, "standings.png", t.picture)
	}
	buttons := []Button{{Path: path("standings", t.ID), Label: "My place"}}
	if t.Closed.IsZero() {
		buttons = append([]Button{{Path: path("enter", t.ID), Label: "Enter my session", Style: Main}}, buttons...)
	}
	reply.Rows = []Row{{Buttons: buttons}}
	return reply
}

// certificate is the message that says who won.
func (b *Bot) certificate(ctx context.Context, t table) Reply {
	var winners, said []string
	for _, r := range t.Rows {
		if r.Place == 1 {
			winners = append(winners, t.names[r.Entry])
			said = append(said, escape(midSentence(t.names[r.Entry])))
		}
	}
	if len(winners) == 0 {
		return Reply{Text: fmt.Sprintf("**%s** is over. Nobody had entered.", escape(t.Name))}
	}
	plain := t.voice
	plain.Plain = true
	score := plain.ChallengeScore(t.terms, t.Rows[0].Score)
	won := "won by " + said[0]
	if len(said) > 1 {
		won = fmt.Sprintf("shared by %s and %s", strings.Join(said[:len(said)-1], ", "), said[len(said)-1])
		if len(said) > 6 {
			won = fmt.Sprintf("shared by %s and %d more", strings.Join(said[:5], ", "), len(said)-5)
		}
	}
	reply := Reply{Text: strings.TrimSpace(fmt.Sprintf("**%s** is over, %s: %s.\n%s", escape(t.Name), won, score, words.ChallengeApart(t.Standings)))}
	b.illustrate(ctx, &reply, "certificate.png", func(ctx context.Context) (report.Picture, error) {
		entries := fmt.Sprintf("%d entries", len(t.Rows))
		if len(t.Rows) == 1 {
			entries = "1 entry"
		}
		png, err := pictures.Certificate(ctx, pictures.CertificateInput{
			Challenge: t.Name, Winners: winners, Score: score, Rule: plain.ChallengeRule(t.terms),
			Over: fmt.Sprintf("Of %s, %s", entries, day(t.Closed.In(t.zone))),
		})
		return report.Picture{PNG: png, Alt: words.Cut(fmt.Sprintf("A certificate: %s, won by %s with %s, of %s.", t.Name, midSentence(strings.Join(winners, ", ")), score, entries), 1024)}, err
	})
	return reply
}
