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
	"rangepost/store"
)

// places are standings as they are read.
type places struct {
	record.Standings
	voice words.Voice
	alone bool // by one person, in their own units
}

// placesOf are standings as the channel reads them, in the clubhouse's units.
func placesOf(s record.Standings) places {
	return places{Standings: s, voice: words.Voice{Units: s.Units}}
}

// placesFor are standings as whoever asks reads them.
func placesFor(ctx context.Context, b *Bot, r Call, s record.Standings) (places, error) {
	_, voice, err := spokenTo(ctx, b, r.Server, r.Asker.ID)
	return places{Standings: s, voice: words.Voice{Units: voice.Units}, alone: true}, err
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
	if other := p.voice.ChallengeOther(p.Terms); other != "" && !p.alone {
		lines = append(lines, other)
	}
	switch {
	case p.Voided != "":
		return append(lines, "Called off "+when(p.Closed, p.Zone)+", so nobody has won: "+words.Escape(p.Voided))
	case !p.Closed.IsZero():
		return append(lines, "Closed "+when(p.Closed, p.Zone)+". These are the final standings.")
	}
	lines = append(lines, p.voice.ChallengeCounts(p.Terms))
	if p.Until.IsZero() {
		lines = append(lines, "Open until it is closed by hand.")
	} else {
		lines = append(lines, "Open until "+when(p.Until, p.Zone)+".")
	}
	if why := words.ChallengeWhy(p.Terms); why != "" && len(p.Rows) < 5 {
		lines = append(lines, why)
	}
	return lines
}

// ruled says what hosts did, and have to do.
func (p places) ruled() []string {
	count := map[store.RulingKind]int{}
	for _, r := range p.Rulings {
		count[r.What]++
	}
	var lines []string
	if n := p.Waiting(); n > 0 {
		lines = append(lines, words.ChallengeWaits(n))
	}
	if done := words.ChallengeRuled(count[store.Accepted], count[store.TakenOut], count[store.Extended] > 0); done != "" {
		lines = append(lines, done)
	}
	return lines
}

// text is the standings, the best first, in at most room characters; after is
// said last and always.
func (p places) text(room int, after ...string) string {
	lines := p.head()
	var tail []string
	if len(p.Rows) == 0 && p.Voided == "" {
		tail = append(tail, "Nobody has entered yet.")
	}
	if apart := words.ChallengeApart(p.Standings.Standings); apart != "" {
		tail = append(tail, apart)
	}
	tail = append(append(tail, p.ruled()...), after...)
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
	in.Title = plain.ChallengeTitle(p.Terms, p.Standings.Standings, leader, len(p.Won), !p.Closed.IsZero())
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
	var buttons []Button
	if p.Closed.IsZero() {
		buttons = append(buttons, Button{Path: path("enter", p.ID), Label: "Enter my session", Style: Main})
		if p.Terms.Announced {
			buttons = append(buttons, Button{Path: path("announce", p.ID), Label: "My next session counts"})
		}
	}
	buttons = append(buttons, Button{Path: path("standings", p.ID), Label: "My place"})
	if p.Closed.IsZero() && p.Waiting() > 0 {
		buttons = append(buttons, Button{Path: path("look", p.ID), Label: "For hosts: what waits"})
	}
	reply.Rows = []Row{{Buttons: buttons}}
	return reply
}

// certificate is the message that says how a challenge ended, with a
// certificate if somebody has won.
func certificate(ctx context.Context, b *Bot, s record.Standings) Reply {
	p := placesOf(s)
	name := "**" + words.Escape(p.Name) + "**"
	switch {
	case p.Voided != "":
		return Reply{Text: name + " was called off, so nobody has won: " + words.Escape(p.Voided)}
	case len(p.Rows) == 0:
		return Reply{Text: name + " is over. Nobody had entered."}
	case len(p.Won) == 0:
		return Reply{Text: fmt.Sprintf("%s is over without a winner: it takes %s, and there %s.", name, words.Entries(p.Terms.Fewest), words.ChallengeWere(len(p.Rows)))}
	}
	var winners, said []string
	for _, r := range p.Won {
		winners = append(winners, p.name(r))
		said = append(said, words.Escape(midSentence(p.name(r))))
	}
	plain := p.voice
	plain.Plain = true
	score := plain.ChallengeScore(p.Terms, p.Rows[0].Score)
	reply := Reply{}
	if len(said) == 1 {
		reply.Text = strings.TrimSpace(fmt.Sprintf("%s is over, won by %s: %s.\n%s", name, said[0], score, words.ChallengeApart(p.Standings.Standings)))
	} else {
		shown := fmt.Sprintf("%s and %s", strings.Join(said[:len(said)-1], ", "), said[len(said)-1])
		if len(said) > 6 {
			shown = fmt.Sprintf("%s and %d more", strings.Join(said[:5], ", "), len(said)-5)
		}
		reply.Text = fmt.Sprintf("%s is over, shared by %s: these %d are not really apart. The best score is %s, by %s.\nA host can have them play it off over twice the balls.",
			name, shown, len(said), score, words.Escape(midSentence(p.name(p.Rows[0]))))
		reply.Rows = []Row{{Buttons: []Button{{Path: path("playoff", p.ID), Label: "For hosts: play it off"}}}}
	}
	b.illustrate(ctx, &reply, "certificate.png", func(ctx context.Context) (report.Picture, error) {
		entries := words.Entries(len(p.Rows))
		best := score
		if len(winners) > 1 {
			best = "Best: " + score
		}
		png, err := pictures.Certificate(ctx, pictures.CertificateInput{
			Challenge: p.Name, Winners: winners, Score: best, Rule: plain.ChallengeRule(p.Terms),
			Over: fmt.Sprintf("Of %s, %s", entries, day(p.Closed.In(p.Zone))),
		})
		won := "won by " + midSentence(winners[0])
		if len(winners) > 1 {
			won = "shared by " + midSentence(words.List(winners))
		}
		return report.Picture{PNG: png, Alt: words.Cut(fmt.Sprintf("A certificate: %s, %s, %s, of %s.", p.Name, won, best, entries), 1024)}, err
	})
	return reply
}
