package main

import (
	"context"
	"fmt"
	"math/rand/v2"
	"os"
	"slices"
	"strings"
	"sync"
	"testing"
	"time"

	"rangepost/bot/standin"
)

// clubbing is a server with a challenge channel on London time.
func clubbing(t *testing.T, from time.Time) *play {
	t.Helper()
	t.Parallel()
	ctx, cancel := context.WithTimeout(t.Context(), 4*time.Minute)
	t.Cleanup(cancel)
	p := newPlay(ctx, staged(t, ctx, from, "", nil))
	p.slash(p.steward, p.practice, "clubhouse coach", standin.Options{"role": p.coachRole})
	p.slash(p.steward, p.contests, "clubhouse channel", nil)
	p.slash(p.steward, p.contests, "clubhouse zone", standin.Options{"zone": "Europe/London"})
	p.must(t)
	return p
}

// opened opens a challenge by the coach, and lets it be posted.
func (p *play) opened(name, rule string, more standin.Options) {
	o := standin.Options{"name": name, "rule": rule, "club": "7i", "balls": 10}
	for k, v := range more {
		o[k] = v
	}
	p.slash(p.coach, p.contests, "challenge open", o)
	p.tick()
}

// ballsFile is a session file of 7-iron balls aimed at 130 m, scattered by so
// many metres: another seed is another file.
func ballsFile(name string, balls int, scatter float64, seed uint64) standin.File {
	rng := rand.New(rand.NewPCG(seed, 60))
	var b strings.Builder
	b.WriteString("Shot,Club,Carry (m),Offline (m)\n")
	for i := range balls {
		side, lateral := "R", scatter*rng.NormFloat64()
		if lateral < 0 {
			side, lateral = "L", -lateral
		}
		fmt.Fprintf(&b, "%d,7 iron,%.1f,%.1f %s\n", i+1, 130+scatter*rng.NormFloat64(), lateral, side)
	}
	return standin.File{Name: name + ".csv", Bytes: []byte(b.String())}
}

func (p *play) enters(who *standin.User, file standin.File) *standin.Outcome {
	return p.slash(who, p.contests, "challenge enter", standin.Options{"file": file, "ball": "range"})
}

func wants(t *testing.T, p *play, what string, out *standin.Outcome, want string) {
	t.Helper()
	p.must(t)
	if !strings.Contains(out.Text, want) || !out.Ephemeral {
		t.Errorf("%s: %q (alone: %v), want something with %q, for the asker alone", what, out.Text, out.Ephemeral, want)
	}
}

// posted are the bot's messages in a channel that contain a text.
func (p *play) posted(c *standin.Channel, text string) (found []standin.Message) {
	for _, m := range c.Messages(p.priya) {
		if m.Author == p.st.Bot().Name && m.Viewer == "" && strings.Contains(m.Text, text) {
			found = append(found, m)
		}
	}
	return found
}

// edits counts how often anything with a text was written anew.
func (p *play) edits(text string) (n int) {
	for _, e := range p.st.Transcript() {
		if e.Kind == standin.Edited && e.Viewer == "" && strings.Contains(e.Message.Text, text) {
			n++
		}
	}
	return n
}

func TestChallengeFromOpeningToCertificate(t *testing.T) {
	p := clubbing(t, fortnightBegins)
	wants(t, p, "nobody opened one", p.slash(p.wren, p.contests, "challenge enter", nil), "No challenge is open")
	wants(t, p, "a member opens one", p.slash(p.wren, p.contests, "challenge open", standin.Options{"name": "x", "rule": "narrow", "club": "7i", "balls": 10}), "Only coaches and server managers")
	wants(t, p, "no target", p.slash(p.coach, p.contests, "challenge open", standin.Options{"name": "x", "rule": "nearest", "club": "7i", "balls": 10}), "needs a target")
	wants(t, p, "limits of no use", p.slash(p.coach, p.contests, "challenge open", standin.Options{"name": "x", "rule": "narrow", "club": "7i", "balls": 10, "limits": "face within 2"}), "Option 'limits' is none of the rule narrow.")
	wants(t, p, "a whole brief", p.slash(p.coach, p.contests, "challenge open", standin.Options{"name": "x", "rule": "brief", "club": "7i", "balls": 10, "limits": "face within 2, 40 balls"}), "one number and its limits")
	p.opened("Nearest", "nearest", standin.Options{"target": "130m", "until": "2026-06-10 18:00"})
	board := p.posted(p.contests, "**Nearest**")
	if len(board) != 1 || !strings.Contains(board[0].Text, "Open until Wednesday 10 June 2026, 18:00 BST.") {
		t.Fatalf("the announcement: %+v", board)
	}

	wants(t, p, "no session", p.slash(p.wren, p.contests, "challenge enter", nil), "You have posted no session since")
	wants(t, p, "too few", p.enters(p.tamsin, ballsFile("few", 6, 5, 1)), "So far you have 6 balls with the 7-iron")
	first := p.enters(p.wren, ballsFile("wren", 14, 3, 2))
	wants(t, p, "in", first, "You are in Nearest")
	wants(t, p, "which balls", first, "number 1 to 10 of the file")
	wants(t, p, "again", p.enters(p.wren, ballsFile("better", 12, 1, 3)), "The first session with the balls is the one that counts")
	wants(t, p, "the same again", p.slash(p.wren, p.contests, "challenge enter", nil), "one entry is all")
	wants(t, p, "another's file", p.enters(p.tamsin, ballsFile("wren", 14, 3, 2)), "That file is in the challenge already")

	// The same balls cut and in another unit are the same balls.
	var yards strings.Builder
	yards.WriteString("Shot,Club,Carry (yd),Offline (yd)\n")
	for i, row := range strings.Split(strings.TrimSpace(string(ballsFile("wren", 14, 3, 2).Bytes)), "\n")[1:] {
		var n int
		var carry, lateral float64
		var side string
		if _, err := fmt.Sscanf(strings.ReplaceAll(row, ",", " "), "%d 7 iron %f %f %s", &n, &carry, &lateral, &side); err != nil {
			t.Fatal(err)
		}
		fmt.Fprintf(&yards, "%d,7 iron,%.1f,%.1f %s\n", i+1, carry/0.9144, lateral/0.9144, side)
	}
	wants(t, p, "the same balls in yards", p.enters(p.odell, standin.File{Name: "mine.csv", Bytes: []byte(yards.String())}), "more like those of another entry than two people's are")
	wants(t, p, "another", p.enters(p.priya, ballsFile("priya", 20, 9, 4)), "You are in Nearest")
	wants(t, p, "a third", p.enters(p.coach, ballsFile("coach", 12, 4, 5)), "You are in Nearest")

	// What waits is looked at, and taken out, by a host alone.
	wants(t, p, "closed while one waits", p.slash(p.steward, p.contests, "challenge close", nil), "1 entry waits for a host")
	wants(t, p, "a member looks", p.slash(p.wren, p.contests, "challenge look", nil), "Only coaches and server managers")
	looked := p.slash(p.coach, p.contests, "challenge look", nil)
	wants(t, p, "what waits", looked, "more like those of another entry")
	wants(t, p, "its balls", looked, "Its balls by shot number. 1: ")
	wants(t, p, "taken out", p.submit(p.coach, p.press(p.coach, looked, "Take it out"), "text", "These are Wren's balls"), "Taken out, for good")
	wants(t, p, "the reason", p.slash(p.odell, p.contests, "challenge standings", nil), "A host took your entry out: These are Wren's balls")
	wants(t, p, "again after that", p.slash(p.odell, p.contests, "challenge enter", nil), "A host took your entry out")
	wants(t, p, "a counting one", p.slash(p.coach, p.contests, "challenge look", standin.Options{"player": p.priya}), "Its balls by shot number. 1: ")
	p.at(2, 9, 0)
	p.tick()
	p.must(t)
	board = p.posted(p.contests, "**Nearest**")
	if len(board) != 1 || !strings.Contains(board[0].Text, "1. Wren: ") || !strings.Contains(board[0].Text, "Priya: ") || !strings.Contains(board[0].Text, "By the hosts: 1 entry taken out, the player told why.") || strings.Contains(board[0].Text, "Odell") || len(board[0].Files) != 1 {
		t.Fatalf("the standings: %d messages, %q", len(board), board[0].Text)
	}
	for _, word := range []string{"face", "path", "ball speed", "club speed", "carry", "attack"} {
		if strings.Contains(strings.ToLower(board[0].Text+board[0].Files[0].Alt), word) {
			t.Errorf("the standings speak of the %s", word)
		}
	}
	mine := p.press(p.priya, &standin.Outcome{Message: board[0]}, "My place")
	wants(t, p, "my place", mine, "You: 3rd of 3, ")
	if mine.Picture() == nil || strings.Contains(p.press(p.tamsin, &standin.Outcome{Message: board[0]}, "My place").Text, "You:") {
		t.Error("standings without a picture, or with a place for somebody who has none")
	}

	// A hand closes it; the end is said once.
	wants(t, p, "a member closes it", p.slash(p.wren, p.contests, "challenge close", nil), "Only coaches and server managers")
	wants(t, p, "closed by hand", p.slash(p.steward, p.contests, "challenge close", nil), "is closed")
	wants(t, p, "twice", p.slash(p.steward, p.contests, "challenge close", standin.Options{"challenge": ""}), "No challenge is open")
	wants(t, p, "too late", p.press(p.odell, &standin.Outcome{Message: board[0]}, "Enter my session"), "is over")
	p.tick()
	p.tick()
	p.must(t)
	over := p.posted(p.contests, "is over, shared by Wren and ")
	if len(over) != 1 || len(over[0].Files) != 1 || over[0].Files[0].Name != "certificate.png" {
		t.Fatalf("the end is said %d times", len(over))
	}
	final := p.posted(p.contests, "These are the final standings.")
	if len(final) != 1 {
		t.Fatalf("final standings %d times", len(final))
	}

	// Who takes their consent back is nameless there too.
	consent := p.slash(p.wren, p.practice, "mine consent", nil)
	p.press(p.wren, consent, "Leave the challenges")
	p.tick()
	p.must(t)
	for _, m := range p.posted(p.contests, "") {
		if text := m.Text + m.Files[0].Alt; strings.Contains(text, "Wren") {
			t.Errorf("still named: %q", text)
		}
	}
	if over := p.posted(p.contests, "shared by a former member and "); len(over) != 1 {
		t.Error("the certificate has gone with the name")
	}
}

func TestForgettingLeavesOpenChallenges(t *testing.T) {
	p := clubbing(t, fortnightBegins)
	p.opened("Straight", "narrow", nil)
	p.enters(p.wren, ballsFile("wren", 12, 3, 2))
	p.enters(p.priya, ballsFile("priya", 12, 6, 4))
	asked := p.slash(p.wren, p.practice, "mine forget", nil)
	p.press(p.wren, p.press(p.wren, asked, "Delete it all"), "Yes, delete it all")
	p.at(1, 9, 0)
	p.tick()
	p.must(t)
	board := p.posted(p.contests, "**Straight**")
	if len(board) != 1 || strings.Contains(board[0].Text, "Wren") || !strings.Contains(board[0].Text, "1. Priya") {
		t.Errorf("after forgetting: %q", board[0].Text)
	}
}

// Reading a file again scores its entry again, and the standings say so.
func TestRereadingScoresAgain(t *testing.T) {
	p := clubbing(t, fortnightBegins)
	p.opened("Straight", "narrow", nil)
	// The club is said, not in the file.
	bare := ballsFile("odell", 12, 4, 9)
	bare.Bytes = []byte(strings.ReplaceAll(strings.ReplaceAll(string(bare.Bytes), "7 iron,", ""), "Club,", ""))
	out := p.slash(p.odell, p.contests, "challenge enter", standin.Options{"file": bare, "ball": "range", "club": "7i"})
	wants(t, p, "in", out, "You are in")
	before := out.Text
	p.at(1, 9, 0)
	p.tick()
	// A shot read anew as a mishit still counts, so nothing changes.
	p.slash(p.odell, p.practice, "post", standin.Options{"file": bare, "sets": "1-6 one, 7-12 two; 3 was a shank"})
	p.at(1, 9, 5)
	p.tick()
	p.must(t)
	board := p.posted(p.contests, "**Straight**")[0]
	if strings.Contains(board.Text, "scored anew") {
		t.Errorf("calling a ball a mishit changed a score: %q", board.Text)
	}
	score, _, _ := strings.Cut(strings.SplitAfter(before, "2026: ")[1], ",")
	if !strings.Contains(board.Text, score) {
		t.Errorf("the score %q is not in %q", score, board.Text)
	}
	// Left-handed or not, left is left: nothing changes either. Another kind of
	// ball cannot be scored, so the entry stays.
	p.slash(p.odell, p.practice, "post", standin.Options{"file": bare, "ball": "new"})
	p.at(1, 9, 10)
	p.tick()
	p.must(t)
	if board := p.posted(p.contests, "**Straight**")[0]; !strings.Contains(board.Text, "Odell: "+score) {
		t.Errorf("calling the balls new took the entry away: %q", board.Text)
	}
}

// The clubhouse's clock ends a challenge, on the night it is put back: half
// past one comes twice, and the first counts.
func TestChallengeEndsByTheClubhousesClock(t *testing.T) {
	p := clubbing(t, time.Date(2026, time.October, 24, 12, 0, 0, 0, time.UTC))
	p.opened("Night", "narrow", standin.Options{"until": "2026-10-25 01:30"})
	p.opened("Whole day", "narrow", standin.Options{"until": "2026-10-25"})
	if board := p.posted(p.contests, "**Night**"); len(board) != 1 || !strings.Contains(board[0].Text, "Sunday 25 October 2026, 01:30 BST.") {
		t.Fatalf("%+v", board)
	}
	if board := p.posted(p.contests, "**Whole day**"); len(board) != 1 || !strings.Contains(board[0].Text, "Monday 26 October 2026, 00:00 GMT.") {
		t.Fatalf("%+v", board)
	}
	for _, c := range []struct {
		at   time.Time
		over int
	}{
		{time.Date(2026, time.October, 25, 0, 29, 59, 0, time.UTC), 0},
		{time.Date(2026, time.October, 25, 0, 30, 0, 0, time.UTC), 1},
		{time.Date(2026, time.October, 25, 23, 59, 0, 0, time.UTC), 1}, // 25 hours long
		{time.Date(2026, time.October, 26, 0, 0, 0, 0, time.UTC), 2},
	} {
		if err := p.st.clock.set(c.at); err != nil {
			t.Fatal(err)
		}
		p.tick()
		p.must(t)
		if got := len(p.posted(p.contests, "is over")); got != c.over {
			t.Errorf("at %v %d are over, want %d", c.at, got, c.over)
		}
	}
	wants(t, p, "a past end", p.slash(p.coach, p.contests, "challenge open", standin.Options{"name": "x", "rule": "narrow", "club": "7i", "balls": 10, "until": "2026-10-25"}), "is past")
	wants(t, p, "no time", p.slash(p.coach, p.contests, "challenge open", standin.Options{"name": "x", "rule": "narrow", "club": "7i", "balls": 10, "until": "Sunday"}), "2026-09-30 18:00")
}

// The bot is away when a challenge ends: it ends later by as long, a day at
// most, so that whoever could not enter can, and the end is said once.
func TestRestartAcrossTheEnd(t *testing.T) {
	p := clubbing(t, fortnightBegins)
	p.opened("Straight", "narrow", standin.Options{"until": "2026-06-02 18:00"})
	p.enters(p.wren, ballsFile("wren", 12, 3, 2))
	p.must(t)
	if err := p.st.leave(); err != nil {
		t.Fatal(err)
	}
	p.at(2, 19, 0)
	log := kept.log()
	if err := p.st.enter(p.ctx, log); err != nil {
		t.Fatal(err)
	}
	if err := p.st.Connected(p.ctx, 1); err != nil {
		t.Fatal(err)
	}
	p.tick()
	p.tick()
	board := p.posted(p.contests, "**Straight**")
	if len(board) != 1 || !strings.Contains(board[0].Text, "Open until Wednesday 3 June 2026, 20:00 BST.") || !strings.Contains(board[0].Text, "It ends later than was said, because I was away.") {
		t.Fatalf("%d messages, %q", len(board), board[0].Text)
	}
	wants(t, p, "late, by grace", p.enters(p.priya, ballsFile("priya", 12, 3, 5)), "You are in")
	wants(t, p, "late, by grace", p.enters(p.odell, ballsFile("odell", 12, 3, 6)), "You are in")
	p.at(3, 19, 30)
	wants(t, p, "after that", p.press(p.tamsin, &standin.Outcome{Message: board[0]}, "Enter my session"), "is over")
	p.tick()
	p.tick()
	p.must(t)
	if final := p.posted(p.contests, "Closed Wednesday 3 June 2026, 20:00 BST."); len(final) != 1 {
		t.Errorf("final standings %d times", len(final))
	}
	if over := p.posted(p.contests, "is over, shared by "); len(over) != 1 {
		t.Errorf("the end is said %d times\n%s", len(over), log)
	}
}

// Several at once: one file gets in once, the others all do, and the message is
// written anew once a minute at most.
func TestEntriesInTheSameSecond(t *testing.T) {
	p := clubbing(t, fortnightBegins)
	p.opened("Straight", "narrow", nil)
	players := []*standin.User{p.wren, p.tamsin, p.odell, p.priya}
	var wg sync.WaitGroup
	texts := make([]string, len(players))
	for i, who := range players {
		wg.Go(func() {
			out, err := who.Slash(p.ctx, p.contests, "challenge enter", standin.Options{"file": ballsFile("one", 12, 3, 7), "ball": "range"})
			if err != nil {
				t.Error(err)
				return
			}
			texts[i] = out.Text
		})
	}
	wg.Wait()
	in := 0
	for _, text := range texts {
		if strings.Contains(text, "You are in") {
			in++
		} else if !strings.Contains(text, "That file is in the challenge already") {
			t.Errorf("text = %q", text)
		}
	}
	if in != 1 {
		t.Errorf("%d got in with one file", in)
	}
	before := p.edits("**Straight**")
	for second := range 150 {
		if err := p.st.clock.set(fortnightBegins.Add(time.Hour + time.Duration(second)*time.Second)); err != nil {
			t.Fatal(err)
		}
		if second%30 == 0 {
			who := p.server.Join(p.st.User(fmt.Sprintf("Member %d", second)))
			p.enters(who, ballsFile("own", 12, 3, uint64(100+second)))
		}
		p.tick()
	}
	p.must(t)
	if got := p.edits("**Straight**") - before; got < 2 || got > 3 {
		t.Errorf("written anew %d times in two and a half minutes", got)
	}
	if board := p.posted(p.contests, "**Straight**"); len(board) != 1 || !strings.Contains(board[0].Text, "Member") {
		t.Errorf("the standings: %+v", board)
	}
}

// A moderator deletes the standings: they are posted anew with the next change
// and not before. The channel is removed: they go to the other challenge
// channel; with none left nothing is lost.
func TestStandingsAreDeleted(t *testing.T) {
	p := clubbing(t, fortnightBegins)
	second := p.server.Channel("more-challenges")
	p.slash(p.steward, second, "clubhouse channel", nil)
	p.opened("Straight", "narrow", standin.Options{"until": "2026-06-09 18:00"})
	board := p.posted(p.contests, "**Straight**")
	if len(board) != 1 {
		t.Fatalf("%d announcements", len(board))
	}
	p.st.Remove(&board[0])
	p.at(1, 10, 0)
	p.tick()
	if got := p.posted(p.contests, "**Straight**"); len(got) != 0 {
		t.Error("posted again unasked")
	}
	p.enters(p.wren, ballsFile("wren", 12, 3, 2))
	p.tick()
	p.must(t)
	if got := p.posted(p.contests, "1. Wren"); len(got) != 1 {
		t.Errorf("after a change there are %d", len(got))
	}

	p.contests.Delete()
	p.slash(p.priya, p.practice, "challenge enter", standin.Options{"file": ballsFile("priya", 12, 5, 4), "ball": "range"})
	p.at(1, 11, 0)
	p.tick()
	p.must(t)
	if got := p.posted(second, "2. Priya"); len(got) != 1 {
		t.Errorf("in the other channel there are %d", len(got))
	}

	second.Delete()
	p.slash(p.odell, p.practice, "challenge enter", standin.Options{"file": ballsFile("odell", 12, 5, 8), "ball": "range"})
	p.at(1, 12, 0)
	p.tick()
	p.at(9, 19, 0)
	p.tick()
	p.tick()
	out := p.slash(p.odell, p.practice, "challenge standings", nil)
	wants(t, p, "standings without a channel", out, "These are the final standings.")
	wants(t, p, "all are in", out, "Odell")
}

// Only one's own sessions, only since the opening, and none with anything left
// open.
func TestWhatCannotBeEntered(t *testing.T) {
	p := clubbing(t, fortnightBegins)
	p.slash(p.wren, p.practice, "post", standin.Options{"file": ballsFile("before", 12, 1, 20), "ball": "range"})
	early := p.complete(p.wren, p.practice, "sets", "session")
	p.at(1, 9, 0)
	p.opened("Straight", "narrow", nil)
	wants(t, p, "posted before", p.slash(p.wren, p.contests, "challenge enter", nil), "You have posted no session since")
	wants(t, p, "posted before, by name", p.slash(p.wren, p.contests, "challenge enter", standin.Options{"session": early[0].Value}), "none of yours since")
	wants(t, p, "another's session", p.slash(p.odell.Forger(), p.contests, "challenge enter", standin.Options{"session": early[0].Value, "ball": "range"}), "not yours to see")
	p.slash(p.tamsin, p.practice, "post", standin.Options{"file": ballsFile("unsaid", 12, 9, 21)})
	out := p.slash(p.tamsin, p.contests, "challenge enter", standin.Options{"file": ballsFile("later", 12, 1, 22), "ball": "range"})
	wants(t, p, "a better one past one left unsettled", out, "What kind of balls")
	wants(t, p, "no such challenge", p.slash(p.wren.Forger(), p.contests, "challenge enter", standin.Options{"challenge": "nothing"}), "I do not know that challenge")
	// Progress needs a past.
	p.opened("Gain", "progress", nil)
	wants(t, p, "no past", p.slash(p.wren, p.contests, "challenge enter", standin.Options{"challenge": p.open("Gain"), "file": ballsFile("now", 12, 1, 23), "ball": "range"}), "to measure progress against")
}

// Ball flights are counted in one message by whoever counts and nobody else, for
// either hand, and never stand among measured numbers.
func TestTally(t *testing.T) {
	p := clubbing(t, fortnightBegins)
	asked := p.slash(p.coach, p.wrens, "bind", standin.Options{"student": p.wren})
	p.press(p.wren, asked, "I agree")
	counting := p.slash(p.wren, p.wrens, "tally", standin.Options{"club": "7i"})
	p.must(t)
	if counting.Ephemeral || len(counting.Labels()) != 9 {
		t.Fatalf("alone: %v, buttons %q", counting.Ephemeral, counting.Labels())
	}
	first := counting.Message.ID
	label := "Right, curves right"
	for i := range 11 {
		counting = p.press(p.wren, counting, label)
		p.must(t)
		label = fmt.Sprintf("Right, curves right: %d", i+1)
	}
	counting = p.press(p.wren, counting, "Take the last one back")
	p.must(t)
	if counting.Message.ID != first {
		t.Error("the count moved to another message")
	}
	if files := counting.Message.Files; len(files) != 1 || counting.Picture() == nil || !strings.Contains(files[0].Alt, "Started right, 10: curved left 0, no curve 0, right 10.") {
		t.Errorf("the tally has %d files", len(files))
	}
	for _, want := range []string{"push-slice (10 of 10", "right of target, open", "open to the path", "cannot be known of any", "Measure first: the club path"} {
		if !strings.Contains(counting.Text, want) {
			t.Errorf("%q is not in %q", want, counting.Text)
		}
	}
	for _, who := range []*standin.User{p.tamsin, p.coach} {
		wants(t, p, who.Name+" counts for her", p.press(who, counting, "Right, no curve"), "Only the one who counts")
	}
	wants(t, p, "half a flight", p.slash(p.wren, p.practice, "tally", standin.Options{"start": "left"}), "half a ball flight")

	// The same flights of a left-hander.
	p.slash(p.tamsin, p.practice, "mine hand", standin.Options{"hand": "left"})
	lefty := p.slash(p.tamsin, p.practice, "tally", standin.Options{"start": "right", "curve": "right", "count": 10})
	for _, want := range []string{"pull-hook (10 of 10", "right of target, closed", "closed to the path"} {
		wants(t, p, "a left-hander's", lefty, want)
	}

	// Its own kind in the timeline, and nowhere among numbers.
	shown := p.slash(p.coach, p.wrens, "timeline", standin.Options{"number": "tally"})
	p.must(t)
	if !strings.Contains(shown.Text, "nothing here was measured") || !strings.Contains(shown.Text, "1 June 2026, 7-iron: 10 balls; started left 0, straight 0, right 10; curved left 0, not 0, right 10.") {
		t.Errorf("the timeline: %q", shown.Text)
	}
	wants(t, p, "another's tally", p.slash(p.odell, p.practice, "timeline", standin.Options{"student": p.wren, "number": "tally"}), "not yours to see")
	wants(t, p, "a measured number", p.slash(p.wren, p.practice, "timeline", standin.Options{"number": "direction"}), "No session has")

	// It goes with everything else.
	all := p.press(p.wren, p.slash(p.wren, p.practice, "mine forget", nil), "Delete it all")
	p.press(p.wren, all, "Yes, delete it all")
	wants(t, p, "after forgetting", p.slash(p.wren, p.practice, "timeline", standin.Options{"number": "tally"}), "no tally there yet")
}

// A week of a club with 60 members (12 when short): five challenges, one of
// each rule, everybody in each. RANGEPOST_TRANSCRIPT names a folder to read it
// in.
func TestClubWeek(t *testing.T) {
	members, began := 60, time.Now()
	if testing.Short() {
		members = 12
	}
	p := clubbing(t, fortnightBegins)
	var all []*standin.User
	for i := range members {
		who := p.server.Join(p.st.User(fmt.Sprintf("Member %d", i+1)))
		all = append(all, who)
		past := ballsFile("past", 35, 4+float64(i%7), uint64(1000+i))
		if out := p.slash(who, p.practice, "post", standin.Options{"file": past, "ball": "range"}); p.err == nil && out.Picture() == nil {
			t.Fatalf("%q", out.Text)
		}
	}
	p.at(2, 9, 0)
	names := []string{"Nearest", "Narrow", "Zone", "Brief", "Progress"}
	for _, name := range names {
		more := standin.Options{"until": "2026-06-07 18:00"}
		switch name {
		case "Nearest":
			more["target"] = "130m"
		case "Zone":
			more["target"], more["wide"], more["deep"] = "130m", "15m", "15m"
		case "Brief":
			more["limits"] = "lateral within 6 yards"
		}
		p.opened(name, strings.ToLower(name), more)
	}
	p.must(t)
	var slowest time.Duration
	for i, who := range all {
		if err := p.st.clock.set(fortnightBegins.AddDate(0, 0, 2).Add(time.Duration(i) * 96 * time.Hour / time.Duration(members))); err != nil {
			t.Fatal(err)
		}
		file := ballsFile("week", 12, 3+float64(i%7), uint64(2000+i))
		for j, name := range names {
			o := standin.Options{"challenge": p.open(name)}
			if j == 0 {
				o["file"], o["ball"] = file, "range"
			}
			from := time.Now()
			wants(t, p, who.Name+" enters "+name, p.slash(who, p.contests, "challenge enter", o), "You are in "+name)
			slowest = max(slowest, time.Since(from))
		}
		if i%5 == 0 {
			p.tick()
		}
	}
	p.at(7, 18, 1)
	p.tick()
	p.must(t)
	for _, name := range names {
		final := p.posted(p.contests, "**"+name+"**\n")
		if len(final) != 1 || !strings.Contains(final[0].Text, "These are the final standings.") || len(final[0].Files) != 1 {
			t.Errorf("%s: %d final standings", name, len(final))
		}
		if won := p.posted(p.contests, "**"+name+"** is over, "); len(won) != 1 || len(won[0].Files) != 1 {
			t.Errorf("%s: the end is said %d times", name, len(won))
		}
	}
	for _, e := range p.st.Transcript() {
		if e.Kind == standin.Posted || e.Kind == standin.Edited {
			if e.Actor == p.st.Bot().Name {
				checkReply(t, e)
			}
			if e.Viewer == "" && e.Channel == "challenges" && len(e.Message.Text) > 0 && slices.ContainsFunc([]string{"face", "path", "attack"}, func(w string) bool { return strings.Contains(e.Message.Text, w) }) {
				t.Errorf("a delivery in the challenge channel: %q", e.Message.Text)
			}
		}
	}
	t.Logf("%d members, %d entries, slowest entry %v, all in %v", members, members*len(names), slowest.Round(time.Millisecond), time.Since(began).Round(time.Millisecond))
	if dir := os.Getenv("RANGEPOST_TRANSCRIPT"); dir != "" {
		if err := newPage("A club week", "", p.st.Transcript(), p.st.Names()).write(dir); err != nil {
			t.Error(err)
		}
	}
}
