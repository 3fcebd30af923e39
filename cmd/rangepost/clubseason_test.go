package main

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"rangepost/bot/standin"
)

// mondays opens a season of three Mondays in June 2026, the best two of which
// count, with classes.
func (p *play) mondays() {
	p.slash(p.coach, p.contests, "season open", standin.Options{
		"name": "Summer 2026", "until": "2026-06-28", "best": 2, "classes": "12, juniors", "clubname": "Saltmarsh Links",
	})
	p.slash(p.coach, p.contests, "season template", standin.Options{"name": "Straight seven", "rule": "narrow", "club": "7i", "balls": 10})
	p.slash(p.coach, p.contests, "season add", standin.Options{"template": "Straight seven", "when": "2026-06-08, 2026-06-15, 2026-06-22", "days": 5})
	p.slash(p.coach, p.contests, "season handicap", standin.Options{"members": fmt.Sprintf("<@%s> 8.4 <@%s> 21, <@%s> 30", p.wren.ID, p.tamsin.ID, p.odell.ID)})
}

// monday plays one challenge of it, from its first morning to the morning after
// its end, with everybody's scatter in metres.
func (p *play) monday(day int, scatter map[*standin.User]float64) {
	p.at(day, 9, 0)
	p.tick()
	for i, who := range []*standin.User{p.wren, p.tamsin, p.odell, p.priya} {
		if s := scatter[who]; s > 0 { // everybody's own balls: scaled ones of another are known again
			p.enters(who, ballsFile(fmt.Sprint(who.Name, day), 12, s, uint64(day)*10+[]uint64{4, 6, 5, 7}[i]))
		}
	}
	p.at(day+5, 9, 0)
	p.tick()
}

// A season from its opening to its certificate, with a member who is deleted in
// the middle of it.
func TestSeasonOfChallenges(t *testing.T) {
	p := clubbing(t, fortnightBegins)
	wants(t, p, "no season", p.slash(p.wren, p.contests, "season table", nil), "No season runs here")
	wants(t, p, "a member opens one", p.slash(p.wren, p.contests, "season open", standin.Options{"name": "x", "until": "2026-09-30"}), "Only coaches and server managers")
	wants(t, p, "whose season", p.slash(p.coach, p.contests, "season open", standin.Options{"name": "x", "until": "2026-09-30"}), "option `clubname`")
	wants(t, p, "past", p.slash(p.coach, p.contests, "season open", standin.Options{"name": "x", "until": "2026-05-30", "clubname": "x"}), "Option 'until': that day is past.")
	p.mondays()
	wants(t, p, "the same again", p.slash(p.coach, p.contests, "season add", standin.Options{"template": "straight seven", "when": "2026-06-15"}), "Of these 1 stood on the schedule already")
	wants(t, p, "no such template", p.slash(p.coach, p.contests, "season add", standin.Options{"template": "x", "when": "every Monday"}), "I do not know that template")
	wants(t, p, "no schedule", p.slash(p.coach, p.contests, "season add", standin.Options{"template": "Straight seven", "when": "often"}), "I cannot tell which days those are")
	wants(t, p, "no handicap", p.slash(p.coach, p.contests, "season handicap", standin.Options{"members": "Wren 12"}), "I cannot tell whose handicap is what")
	p.slash(p.coach, p.contests, "season add", standin.Options{"template": "Straight seven", "when": "every last Sunday"})
	p.slash(p.coach, p.contests, "season template", standin.Options{"name": "Wedges", "rule": "narrow", "club": "pw", "balls": 10})
	today := standin.Options{"template": "Wedges", "when": "2026-06-01"}
	wants(t, p, "today's", p.slash(p.coach, p.contests, "season add", today), "open from now on: what was hit before does not count")
	if again := p.slash(p.coach, p.contests, "season add", today); strings.Contains(again.Text, "from now on") {
		t.Errorf("today's again: %q", again.Text)
	}
	wants(t, p, "today's off", p.slash(p.coach, p.contests, "season drop", standin.Options{"challenge": "Wedges, 1 June"}), "is off the schedule")
	wants(t, p, "what to drop", p.slash(p.coach, p.contests, "season drop", nil), "One thing is dropped at a time")
	wants(t, p, "a template deleted", p.slash(p.coach, p.contests, "season drop", standin.Options{"template": "wedges"}), "Wedges is no longer a template.")
	wants(t, p, "again", p.slash(p.coach, p.contests, "season drop", standin.Options{"template": "Wedges"}), "I do not know that template")
	wants(t, p, "of what is gone", p.slash(p.coach, p.contests, "season add", standin.Options{"template": "Wedges", "when": "2026-06-15"}), "I do not know that template")
	planned := p.complete(p.coach, p.contests, "season drop", "challenge")
	if len(planned) != 4 {
		t.Fatalf("planned: %+v", planned)
	}
	wants(t, p, "what is not planned", p.slash(p.coach, p.contests, "season drop", standin.Options{"challenge": "Wedges"}), planned[0].Value)
	named := strings.TrimSuffix(planned[3].Text, " 2026") // as it is called once it is open
	wants(t, p, "off the schedule", p.slash(p.coach, p.contests, "season drop", standin.Options{"challenge": named}), "Summer 2026 has 3 challenges left")
	p.tick()
	p.must(t)
	if board := p.posted(p.contests, "**Summer 2026**"); len(board) != 1 || !strings.Contains(board[0].Text, "Next: Straight seven on 8 June 2026.") {
		t.Fatalf("announced: %+v", board)
	}

	p.slash(p.steward, p.practice, "clubhouse junior", standin.Options{"member": p.priya})
	p.monday(8, map[*standin.User]float64{p.wren: 3, p.tamsin: 6, p.odell: 12, p.priya: 9})
	p.monday(15, map[*standin.User]float64{p.wren: 4, p.tamsin: 2, p.odell: 12})
	p.must(t)
	if opened := p.posted(p.contests, "**Straight seven, 15 June**\n"); len(opened) != 1 {
		t.Errorf("the second challenge has %d messages", len(opened))
	}
	table := p.slash(p.tamsin, p.contests, "season table", nil)
	wants(t, p, "the table", table, "You: 2nd of 4, 52.7 points from 2 challenges. To the next place up it lacks 5.6 points.")
	if table.Picture() == nil {
		t.Error("a table without a picture")
	}
	wants(t, p, "by class", p.slash(p.tamsin, p.contests, "season table", standin.Options{"class": "2"}), "A junior:")
	board := &standin.Outcome{Message: p.posted(p.contests, "**Summer 2026**")[0]}
	wants(t, p, "pressed", p.press(p.odell, board, "My place in the season"), "You: 4th of 4, 19.3 points from 2 challenges.")
	wants(t, p, "a class chosen", p.choose(p.wren, board, "A class by itself", "handicap to 12"), "You: 1st of 1, 58.3 points from 2 challenges. Nobody is ahead.")
	wants(t, p, "another class", p.choose(p.wren, board, "A class by itself", "juniors"), "You are in another class")
	before := board.Text

	// Wren is deleted: her rows stay, as one, without her name.
	asked := p.slash(p.wren, p.practice, "mine forget", nil)
	p.press(p.wren, p.press(p.wren, asked, "Delete it all"), "Yes, delete it all")
	p.at(20, 9, 2)
	p.tick()
	p.must(t)
	after := p.posted(p.contests, "**Summer 2026**")[0].Text
	if strings.Contains(after, "Wren") || strings.Count(after, "A former member") != 1 {
		t.Errorf("after she was deleted: %s", after)
	}
	points := func(text, name string) string {
		_, line, _ := strings.Cut(text, ". "+name+": ")
		line, _, _ = strings.Cut(line, "\n")
		return line
	}
	if points(before, "Wren") != points(after, "A former member") || points(before, "Tamsin") != points(after, "Tamsin") {
		t.Errorf("points moved with the name:\n%s\n%s", before, after)
	}

	p.monday(22, map[*standin.User]float64{p.tamsin: 4, p.odell: 9, p.priya: 12})
	p.slash(p.odell, p.practice, "season history", nil)
	p.at(29, 9, 0)
	p.tick()
	p.tick()
	p.must(t)
	won := p.posted(p.contests, "**Summer 2026** is over, won by Tamsin")
	if len(won) != 1 || won[0].Files[0].Name != "certificate.png" || !strings.Contains(won[0].Files[0].Alt, "Saltmarsh Links") {
		t.Fatalf("the end is said %d times: %+v", len(won), won)
	}
	wants(t, p, "history", p.slash(p.odell, p.practice, "season history", standin.Options{"year": 2026}), "won by Tamsin")
	wants(t, p, "no season then", p.slash(p.odell, p.practice, "season history", standin.Options{"year": 2025}), "There was no season.")
	wants(t, p, "over", p.slash(p.coach, p.contests, "season add", standin.Options{"template": "Straight seven", "when": "every Monday"}), "No season runs here")

	// Who only leaves what is open keeps their name; who leaves it all does not.
	p.press(p.odell, p.slash(p.odell, p.practice, "mine consent", nil), "Leave the open ones, my name stays")
	p.tick()
	if !strings.Contains(p.posted(p.contests, "**Summer 2026**")[0].Text, "Odell") {
		t.Error("a name that was to stay has gone")
	}
	p.press(p.tamsin, p.slash(p.tamsin, p.practice, "mine consent", nil), "Leave the challenges")
	p.tick()
	p.must(t)
	for _, m := range p.posted(p.contests, "Summer 2026") {
		if strings.Contains(m.Text+m.Files[0].Alt, "Tamsin") {
			t.Errorf("still named: %s %s", m.Text, m.Files[0].Alt)
		}
		if !strings.Contains(m.Text, "First of each class: handicap to 12: a former member; handicap over 12: a former member; juniors: a junior.") {
			t.Errorf("classes after they left: %s", m.Text)
		}
	}
	for _, m := range p.posted(p.contests, "") {
		t.Log(m.Text)
	}
}

// A challenge nobody was there to open is not held; one that opens late is open
// for all of its days; in quiet hours both wait to be said.
func TestScheduledWhileAway(t *testing.T) {
	p := clubbing(t, fortnightBegins)
	p.slash(p.steward, p.practice, "clubhouse quiet", standin.Options{"from": 22, "until": 7})
	p.mondays()
	p.tick()
	p.at(14, 9, 0) // the first was to be open from the 8th to the 12th
	p.tick()
	p.must(t)
	if board := p.posted(p.contests, "**Summer 2026**"); len(board) != 1 || !strings.Contains(board[0].Text, "Not held, since I was away on all of its days: 1.") {
		t.Fatalf("a missed challenge: %+v", board)
	}
	p.at(17, 1, 0) // the second was to open on the 15th
	p.tick()
	p.must(t)
	if said := p.posted(p.contests, "**Straight seven, 15 June**"); len(said) != 0 {
		t.Errorf("said in quiet hours: %+v", said)
	}
	p.at(17, 8, 0)
	p.tick()
	p.must(t)
	if said := p.posted(p.contests, "**Straight seven, 15 June**"); len(said) != 1 || !strings.Contains(said[0].Text, "Open until Monday 22 June 2026, 00:00 BST") {
		t.Errorf("opened late: %+v", said)
	}
	// Hit on the day it was announced for, while nobody was there to take it.
	early := ballsFile("early", 12, 4, 9)
	early.Bytes = []byte(strings.ReplaceAll(strings.ReplaceAll(string(early.Bytes), "Shot,", "Time,Shot,"), "\n", "\n2026-06-16 10:00:00,"))
	early.Bytes = []byte(strings.TrimSuffix(string(early.Bytes), "2026-06-16 10:00:00,"))
	wants(t, p, "hit before it opened late", p.enters(p.wren, early), "You are in Straight seven, 15 June")
	p.slash(p.coach, p.contests, "season close", nil)
	p.at(22, 1, 0)
	p.tick()
	p.tick()
	p.must(t)
	if said := p.posted(p.contests, "Summer 2026** is over"); len(said) != 0 {
		t.Errorf("its end is said in quiet hours: %+v", said)
	}
	p.at(22, 6, 30)
	p.tick()
	p.tick()
	p.must(t)
	if said := p.posted(p.contests, "Summer 2026** is over. Nobody has points."); len(said) != 1 {
		t.Errorf("a season without points: %+v", said)
	}
}

// Every command of a season offers what there is while it is typed.
func TestSeasonCompletions(t *testing.T) {
	p := clubbing(t, fortnightBegins)
	if got := p.complete(p.coach, p.contests, "season drop", "challenge"); len(got) != 0 {
		t.Errorf("before there is a season: %+v", got)
	}
	p.mondays()
	for _, c := range []struct {
		command, option string
		want            []string
	}{
		{"season table", "season", []string{"Summer 2026"}},
		{"season add", "template", []string{"Straight seven"}},
		{"season table", "class", []string{"everybody", "handicap to 12", "handicap over 12", "juniors"}},
		{"season drop", "template", []string{"Straight seven"}},
		{"season drop", "challenge", []string{"Straight seven, 8 June 2026", "Straight seven, 15 June 2026", "Straight seven, 22 June 2026"}},
	} {
		var got []string
		for _, choice := range p.complete(p.coach, p.contests, c.command, c.option) {
			got = append(got, choice.Text)
		}
		if !slices.Equal(got, c.want) {
			t.Errorf("%s %s offers %q, want %q", c.command, c.option, got, c.want)
		}
	}
	p.must(t)
}
