package bot

import (
	"context"
	"fmt"
	"slices"
	"strings"
	"time"

	"rangepost/analysis/challenge"
	"rangepost/bot/pictures"
	"rangepost/bot/record"
	"rangepost/bot/report"
	"rangepost/bot/words"
)

// places are standings as the channel reads them.
type places struct {
	record.Standings
	voice words.Voice // the clubhouse's units
}

func placesOf(s record.Standings) places { return places{s, words.Voice{Units: s.Units}} }

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

// playerName is how a player is named in the channel. A junior's name is not
// shown while the clubhouse keeps juniors private.
func playerName(p record.Player) string {
	switch {
	case p.ID == "":
		return formerMember
	case p.Junior:
		return someJunior
	case p.Name == "":
		return someMember
	}
	return p.Name
}

// when says an instant on the clubhouse's clock.
func when(t time.Time, zone *time.Location) string {
	return t.In(zone).Format("Monday 2 January 2006, 15:04 MST")
}

// name is how the channel names whose row it is; untrusted.
func (p places) name(r challenge.Standing) string { return playerName(p.Players[r.Entry]) }

// line is one line of the standings.
func (p places) line(r challenge.Standing) string {
	text := fmt.Sprintf("%d. %s: %s", r.Place, words.Escape(p.name(r)), p.voice.ChallengeScore(p.Terms, r.Score))
	if p.Players[r.Entry].Rescored {
		text += ", scored anew after its file was read again"
	}
	return text
}

// head says what the challenge is: its name, how it is scored, until when.
func (p places) head() []string {
	lines := []string{"**" + words.Escape(p.Name) + "**", p.voice.ChallengeRule(p.Terms)}
	switch {
	case !p.Closed.IsZero():
		return append(lines, "Closed "+when(p.Closed, p.Zone)+". These are the final standings.")
	case !p.Until.IsZero():
		lines = append(lines, "One entry each: your first session posted since the opening that has the balls. Open until "+when(p.Until, p.Zone)+".")
	default:
		lines = append(lines, "One entry each: your first session posted since the opening that has the balls. Open until it is closed by hand.")
	}
	if why := words.ChallengeWhy(p.Terms); why != "" && len(p.Rows) < 5 {
		lines = append(lines, why)
	}
	return lines
}

// text is the standings, the best first, in at most room characters; after is
// said last and always.
func (p places) text(room int, after ...string) string {
	lines := p.head()
	var tail []string
	if len(p.Rows) == 0 {
		tail = append(tail, "Nobody has entered yet.")
	}
	if apart := words.ChallengeApart(p.Standings.Standings); apart != "" {
		tail = append(tail, apart)
	}
	tail = append(tail, after...)
	room -= len([]rune(strings.Join(append(slices.Clone(lines), tail...), "\n"))) + len("\nAnd 1000 more.") + 1
	for i, r := range p.Rows {
		line := p.line(r)
		if room -= len([]rune(line)) + 1; room < 0 || i == 10 {
			lines = append(lines, fmt.Sprintf("And %d more.", len(p.Rows)-i))
			break
		}
		lines = append(lines, line)
	}
	return strings.Join(append(lines, tail...), "\n")
}

// picture draws the standings.
func (p places) picture(ctx context.Context) (report.Picture, error) {
	plain := p.voice
	plain.Plain = true
	scale := plain.ChallengeScale(p.Terms)
	in := pictures.BarsInput{Axis: plain.ChallengeAxis(p.Terms), Below: p.Name}
	var names []string
	leader := ""
	for i, r := range p.Rows {
		name := p.name(r)
		if i == 0 {
			leader = name
		}
		names = append(names, name)
		in.Rows = append(in.Rows, pictures.Bar{
			Name: fmt.Sprintf("%d. %s", r.Place, name), Value: r.Score.Value / scale, Low: r.Score.Low / scale, High: r.Score.High / scale,
			OK: r.Score.OK, Says: plain.ChallengeBar(p.Terms, r.Score), Tie: r.Tie,
		})
	}
	in.Title = plain.ChallengeTitle(p.Terms, p.Standings.Standings, leader, !p.Closed.IsZero())
	png, err := pictures.Bars(ctx, in)
	return report.Picture{PNG: png, Alt: plain.AltChallenge(p.Terms, p.Standings.Standings, names, in.Title)}, err
}

// standingsMessage is the message the standings stand in.
func standingsMessage(ctx context.Context, b *Bot, s record.Standings) Reply {
	p := placesOf(s)
	reply := Reply{Text: p.text(MaxText)}
	if len(p.Rows) > 0 {
		b.illustrate(ctx, &reply, "standings.png", p.picture)
	}
	buttons := []Button{{Path: path("standings", p.ID), Label: "My place"}}
	if p.Closed.IsZero() {
		buttons = append([]Button{{Path: path("enter", p.ID), Label: "Enter my session", Style: Main}}, buttons...)
	}
	reply.Rows = []Row{{Buttons: buttons}}
	return reply
}

// certificate is the message that says who won.
func certificate(ctx context.Context, b *Bot, s record.Standings) Reply {
	p := placesOf(s)
	var winners, said []string
	for _, r := range p.Rows {
		if r.Place == 1 {
			winners = append(winners, p.name(r))
			said = append(said, words.Escape(midSentence(p.name(r))))
		}
	}
	if len(winners) == 0 {
		return Reply{Text: fmt.Sprintf("**%s** is over. Nobody had entered.", words.Escape(p.Name))}
	}
	plain := p.voice
	plain.Plain = true
	score := plain.ChallengeScore(p.Terms, p.Rows[0].Score)
	won := "won by " + said[0]
	if len(said) > 1 {
		won = fmt.Sprintf("shared by %s and %s", strings.Join(said[:len(said)-1], ", "), said[len(said)-1])
		if len(said) > 6 {
			won = fmt.Sprintf("shared by %s and %d more", strings.Join(said[:5], ", "), len(said)-5)
		}
	}
	reply := Reply{Text: strings.TrimSpace(fmt.Sprintf("**%s** is over, %s: %s.\n%s", words.Escape(p.Name), won, score, words.ChallengeApart(p.Standings.Standings)))}
	b.illustrate(ctx, &reply, "certificate.png", func(ctx context.Context) (report.Picture, error) {
		entries := fmt.Sprintf("%d entries", len(p.Rows))
		if len(p.Rows) == 1 {
			entries = "1 entry"
		}
		png, err := pictures.Certificate(ctx, pictures.CertificateInput{
			Challenge: p.Name, Winners: winners, Score: score, Rule: plain.ChallengeRule(p.Terms),
			Over: fmt.Sprintf("Of %s, %s", entries, day(p.Closed.In(p.Zone))),
		})
		return report.Picture{PNG: png, Alt: words.Cut(fmt.Sprintf("A certificate: %s, won by %s with %s, of %s.", p.Name, midSentence(strings.Join(winners, ", ")), score, entries), 1024)}, err
	})
	return reply
}
