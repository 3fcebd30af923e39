package main

import (
	"fmt"
	"strings"
	"testing"

	"rangepost/bot/standin"
)

// rows is a ballsFile with only some of its rows, by number.
func rows(f standin.File, keep func(n int) bool) standin.File {
	lines := strings.Split(strings.TrimSpace(string(f.Bytes)), "\n")
	kept := lines[:1]
	for i, line := range lines[1:] {
		if keep(i + 1) {
			kept = append(kept, line)
		}
	}
	f.Bytes = []byte(strings.Join(kept, "\n") + "\n")
	return f
}

// halved is a ballsFile of whose balls some carried and finished half as far.
func halved(f standin.File, numbers ...int) standin.File {
	lines := strings.Split(strings.TrimSpace(string(f.Bytes)), "\n")
	for _, n := range numbers {
		var carry, side float64
		var letter string
		fmt.Sscanf(lines[n], fmt.Sprintf("%d,7 iron,%%f,%%f %%s", n), &carry, &side, &letter)
		lines[n] = fmt.Sprintf("%d,7 iron,%.1f,%.1f %s", n, carry/2, side/2, letter)
	}
	f.Bytes = []byte(strings.Join(lines, "\n") + "\n")
	return f
}

// A file with rows deleted says so with its post; its entry waits, shows once a
// host accepts it, and the challenge does not end before somebody has looked.
func TestDeletedRowsWaitForAHost(t *testing.T) {
	p := clubbing(t, fortnightBegins)
	p.opened("Straight", "narrow", standin.Options{"until": "2026-06-02 18:00"})
	cut := rows(ballsFile("wren", 40, 5, 2), func(n int) bool { return n <= 3 || n > 30 })
	out := p.slash(p.wren, p.practice, "post", standin.Options{"file": cut, "ball": "range"})
	if !strings.Contains(out.Text, "By the file's own counting, between its first shot and its last 27 balls missing.") {
		t.Errorf("the post does not note it: %q", out.Text)
	}
	wants(t, p, "enters", p.slash(p.wren, p.contests, "challenge enter", nil), "A host looks at it before it counts")
	for seed, who := range []*standin.User{p.tamsin, p.odell, p.priya} {
		wants(t, p, "an honest one", p.enters(who, ballsFile(who.Name, 12, 5, uint64(20+seed))), "You are in Straight")
	}
	p.at(2, 18, 0)
	p.tick()
	p.must(t)
	board := p.posted(p.contests, "**Straight**")[0]
	if strings.Contains(board.Text, "Wren") || !strings.Contains(board.Text, "1 entry waits for a host to look at it.") || len(p.posted(p.contests, "is over")) > 0 {
		t.Fatalf("with one that waits: %q", board.Text)
	}
	wants(t, p, "a member looks", p.press(p.tamsin.Forger(), &standin.Outcome{Message: board}, "For hosts: what waits"), "Only coaches and server managers")
	looked := p.press(p.coach, &standin.Outcome{Message: board}, "For hosts: what waits")
	wants(t, p, "a host looks", looked, "27 balls missing")
	p.press(p.coach, looked, "Accept it")
	p.tick()
	p.must(t)
	if final := p.posted(p.contests, "These are the final standings."); len(final) != 1 || !strings.Contains(final[0].Text, "Wren") {
		t.Errorf("accepted, and then: %+v", final)
	}
}

// The balls count on over sessions, whatever they are called later, and whoever
// leaves and enters anew waits.
func TestBadSessionsCannotBeHidden(t *testing.T) {
	p := clubbing(t, fortnightBegins)
	p.opened("Straight", "narrow", nil)
	bad := rows(ballsFile("wren", 12, 12, 2), func(n int) bool { return n <= 9 })
	p.slash(p.wren, p.practice, "post", standin.Options{"file": bad, "ball": "range"})
	p.slash(p.wren, p.practice, "post", standin.Options{"file": bad, "ball": "new"}) // another kind of ball, too late
	p.slash(p.wren, p.practice, "post", standin.Options{"file": ballsFile("better", 12, 1, 3), "ball": "range"})
	out := p.slash(p.wren, p.contests, "challenge enter", nil)
	wants(t, p, "nine bad ones and one more", out, "number 1 to 9 of file 1 and number 1 to 1 of file 2")
	consent := p.slash(p.wren, p.practice, "mine consent", nil)
	p.press(p.wren, consent, "Leave the challenges")
	wants(t, p, "anew", p.slash(p.wren, p.contests, "challenge enter", nil), "An entry or an announcement was taken back before")
}

// The kind of ball is asked with buttons, and the answer enters.
func TestBallIsAskedOnce(t *testing.T) {
	p := clubbing(t, fortnightBegins)
	p.opened("Straight", "narrow", nil)
	asked := p.slash(p.wren, p.contests, "challenge enter", standin.Options{"file": ballsFile("wren", 12, 3, 2)})
	wants(t, p, "asked", asked, "What kind of balls")
	out := p.press(p.wren, asked, "Range balls")
	p.must(t)
	if !strings.Contains(out.Text, "You are in Straight") {
		t.Errorf("pressed: %q", out.Text)
	}
}

// A wrong challenge is called off, open or closed; a shared one is played off,
// once, among those who share it.
func TestCalledOffAndPlayedOff(t *testing.T) {
	p := clubbing(t, fortnightBegins)
	p.opened("Wrong", "narrow", nil)
	wants(t, p, "a member calls it off", p.slash(p.wren, p.contests, "challenge void", standin.Options{"reason": "x"}), "Only coaches and server managers")
	wants(t, p, "called off", p.slash(p.coach, p.contests, "challenge void", standin.Options{"reason": "it should have been the 9-iron"}), "is called off")
	wants(t, p, "entering it", p.enters(p.wren, ballsFile("wren", 12, 3, 2)), "No challenge is open")
	p.tick()
	p.must(t)
	if said := p.posted(p.contests, "**Wrong** was called off, so nobody has won: it should have been the 9-iron"); len(said) != 1 || len(said[0].Files) > 0 {
		t.Errorf("said %d times", len(said))
	}

	p.opened("Straight", "narrow", standin.Options{"balls": 20})
	for seed, who := range []*standin.User{p.wren, p.tamsin, p.priya} {
		p.enters(who, ballsFile(who.Name, 24, 5, uint64(30+seed)))
	}
	p.enters(p.odell, ballsFile("odell", 24, 25, 40))
	p.slash(p.steward, p.contests, "challenge close", nil)
	p.tick()
	p.must(t)
	over := p.posted(p.contests, "**Straight** is over, shared by ")
	if len(over) != 1 || !strings.Contains(over[0].Text, "these 3 are not really apart") {
		t.Fatalf("%+v", p.posted(p.contests, "**Straight** is over"))
	}
	end := &standin.Outcome{Message: over[0]}
	wants(t, p, "a member plays it off", p.press(p.wren, end, "For hosts: play it off"), "Only coaches and server managers")
	wants(t, p, "played off", p.press(p.coach, end, "For hosts: play it off"), "Straight, play-off is open: 40 balls")
	wants(t, p, "twice", p.press(p.coach, end, "For hosts: play it off"), "is open already, or was")
	wants(t, p, "who does not share it", p.enters(p.odell, ballsFile("odell", 44, 1, 41)), "among those who share the first place of Straight")
	wants(t, p, "who does", p.enters(p.wren, ballsFile("wren", 44, 2, 42)), "You are in Straight, play-off")
}

// A session is announced before it is hit; what was posted before is not looked
// at, and the ball is the challenge's, whatever is said later.
func TestAnnouncedSessionsCount(t *testing.T) {
	p := clubbing(t, fortnightBegins)
	p.opened("Straight", "narrow", standin.Options{"counts": "announced"})
	p.slash(p.wren, p.practice, "post", standin.Options{"file": ballsFile("before", 12, 1, 2), "ball": "range"})
	wants(t, p, "not announced", p.slash(p.wren, p.contests, "challenge enter", nil), "a session counts that was announced")
	board := p.posted(p.contests, "**Straight**")
	said := p.press(p.wren, &standin.Outcome{Message: board[0]}, "My next session counts")
	wants(t, p, "announced", said, "Post it by")
	wants(t, p, "nothing yet", p.slash(p.wren, p.contests, "challenge enter", nil), "You have posted no session since")
	out := p.slash(p.wren, p.contests, "challenge enter", standin.Options{"file": ballsFile("after", 12, 6, 3), "ball": "new"})
	wants(t, p, "in", out, "number 1 to 10 of the file")
}

// Half shots are drawn as a session is announced. One that shows them counts, without
// them; one that plainly does not, or comes late, does not, and its player may announce
// one more. That one waits for a host, as one does that is a little late.
func TestDrawnHalfShots(t *testing.T) {
	p := clubbing(t, fortnightBegins)
	p.opened("Straight", "narrow", standin.Options{"counts": "drawn", "minutes": 20})
	board := p.posted(p.contests, "**Straight**")[0]
	if !strings.Contains(board.Text, "Post the file within 20 minutes") {
		t.Errorf("the rules: %q", board.Text)
	}
	announce := func(who *standin.User) *standin.Outcome {
		return p.press(who, &standin.Outcome{Message: board}, "My next session counts")
	}
	p.at(1, 10, 0)
	said := announce(p.wren)
	wants(t, p, "announced", said, "Hit 12 balls with the 7-iron in a new session on your device, ball ")
	wants(t, p, "until when", said, "Post the file by Monday 1 June 2026, 11:20")
	wants(t, p, "pressed again", announce(p.wren), said.Text)
	p.at(1, 10, 15)
	out := p.enters(p.wren, halved(ballsFile("wren", 14, 6, 3), drawnIn(said.Text)...))
	wants(t, p, "in", out, "not counted, as half shots that were drawn: 2")
	wants(t, p, "in", out, "Counted: 10 balls")
	wants(t, p, "in", out, "You are in Straight with your session")
	wants(t, p, "once more", announce(p.wren), "You are in, and one entry is all")

	announce(p.tamsin)
	out = p.enters(p.tamsin, ballsFile("tamsin", 14, 6, 4))
	wants(t, p, "none of them", out, "were to be half shots, and in the file both are full ones")
	wants(t, p, "how to go on", out, "works again from Tuesday 2 June 2026, 07:15 BST on, for other balls")
	wants(t, p, "none of them, a better one", p.enters(p.tamsin, ballsFile("tamsin", 14, 1, 5)), "in the file both are full ones")
	wants(t, p, "nothing waits", p.slash(p.coach, p.contests, "challenge look", nil), "No entry waits")

	said = announce(p.odell)
	p.at(1, 10, 36)
	wants(t, p, "over", announce(p.odell), "was to be posted by Monday 1 June 2026, 11:35")
	wants(t, p, "a little late", p.enters(p.odell, halved(ballsFile("odell", 14, 6, 5), drawnIn(said.Text)...)), "posted later than the rules allow after it was announced")
	wants(t, p, "a host looks", p.slash(p.coach, p.contests, "challenge look", nil), "Drawn to be half shots, by shot number. ")

	said = announce(p.priya)
	p.at(1, 10, 59)
	wants(t, p, "late", p.enters(p.priya, halved(ballsFile("priya", 14, 6, 6), drawnIn(said.Text)...)), "was to be posted by Monday 1 June 2026, 11:56 BST, and came on Monday 1 June 2026, 11:59 BST")
	p.at(2, 7, 0)
	said = announce(p.priya)
	wants(t, p, "the next day", said, "Post the file by Tuesday 2 June 2026, 08:20")
	wants(t, p, "and no third", said, "This was the second time, and there is no third.")
	wants(t, p, "announced twice", p.enters(p.priya, halved(ballsFile("priya", 14, 6, 7), drawnIn(said.Text)...)), "A session for it was announced before, and not entered")
	p.at(3, 7, 0)
	wants(t, p, "tamsin, the day after", announce(p.tamsin), "Hit 12 balls")
	p.at(4, 7, 0)
	wants(t, p, "a third time", announce(p.tamsin), "there is no third")
	wants(t, p, "late again", p.enters(p.tamsin, ballsFile("tamsin", 14, 6, 8)), "A session may be announced twice, and this was the second")
}

// Private replies are in one's own units, the channel in the clubhouse's, with
// both where a distance is asked for.
func TestDistancesInOnesOwnUnits(t *testing.T) {
	p := clubbing(t, fortnightBegins)
	p.slash(p.wren, p.practice, "mine units", standin.Options{"distance": "m"})
	p.opened("Near", "nearest", standin.Options{"target": "130m"})
	board := p.posted(p.contests, "**Near**")[0]
	if !strings.Contains(board.Text, "142 yards away") || !strings.Contains(board.Text, "the target is 130 metres away") {
		t.Errorf("the channel reads %q", board.Text)
	}
	out := p.enters(p.wren, ballsFile("wren", 12, 3, 2))
	wants(t, p, "her score", out, "metres")
	p.must(t)
	if strings.Contains(out.Text, "yards") {
		t.Errorf("somebody who reads metres reads %q", out.Text)
	}
	mine := p.slash(p.wren, p.contests, "challenge standings", nil)
	p.must(t)
	if strings.Contains(mine.Text, "yards") || !strings.Contains(mine.Text, "130 metres away") {
		t.Errorf("her standings read %q", mine.Text)
	}
}
