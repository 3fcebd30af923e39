package main

import (
	"bytes"
	"context"
	"errors"
	"image/png"
	"os"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"sync"
	"testing"
	"time"

	"rangepost/bot"
	"rangepost/bot/standin"
	"rangepost/bot/standin/openapi"
	"rangepost/store/pgtest"
	"rangepost/testdata"
)

// rehearse sets a stage with the play's people on it. Every request the bot
// makes is checked against the platform's own description, where there is one.
func rehearse(t *testing.T) *play {
	t.Helper()
	t.Parallel()
	ctx, cancel := context.WithTimeout(t.Context(), 3*time.Minute)
	t.Cleanup(cancel)
	return newPlay(ctx, staged(t, ctx, fortnightBegins, "", nil))
}

// staged is a stage for a test, from a time on, with the database at a path,
// "" for one of its own, and files from further hosts. Its requests are
// checked, and what it logs is scanned at the end of all tests.
func staged(t *testing.T, ctx context.Context, begins time.Time, db string, hosts []string) *stage {
	t.Helper()
	log := kept.log()
	if db == "" {
		db = pgtest.Path(t, "")
	}
	st, err := newStageOn(ctx, begins, log, db, hosts...)
	if err != nil {
		t.Fatal(err)
	}
	kept.watch(st.Stand)
	validate(t, st.Stand)
	t.Cleanup(func() {
		if err := st.close(); err != nil {
			t.Error(err)
		}
		if t.Failed() {
			t.Logf("the bot's log:\n%s", log)
		}
	})
	return st
}

func validate(t *testing.T, st *standin.Stand) {
	t.Helper()
	description, err := openapi.FromEnvironment()
	if errors.Is(err, openapi.ErrAbsent) {
		t.Log("requests are not checked:", err)
		return
	}
	if err != nil {
		t.Fatal(err)
	}
	st.OnRequest(func(method, path, contentType string, body []byte) {
		if err := description.Check(method, path, contentType, body); err != nil {
			t.Errorf("%s %s: %v", method, path, err)
		}
	})
}

type lockedBuffer struct {
	mu sync.Mutex
	b  bytes.Buffer
}

func (l *lockedBuffer) Write(p []byte) (int, error) {
	l.mu.Lock()
	defer l.mu.Unlock()
	return l.b.Write(p)
}

func (l *lockedBuffer) String() string {
	l.mu.Lock()
	defer l.mu.Unlock()
	return l.b.String()
}

// The demo's whole fortnight: every command is played, every reply has what a
// reply must have.
func TestFortnight(t *testing.T) {
	p := rehearse(t)
	if err := p.fortnight(); err != nil {
		t.Error(err)
	}
	entries := p.st.Transcript()
	page := newPage("Test", "", entries, p.st.Names())
	if dir := os.Getenv("RANGEPOST_TRANSCRIPT"); dir != "" { // to look at it
		if err := page.write(dir); err != nil {
			t.Error(err)
		}
	}
	if len(page.Shown) != len(worthShowing) {
		t.Errorf("of the pictures the page begins with it has %d, want %d", len(page.Shown), len(worthShowing))
	}
	typed := map[string]bool{}
	for _, e := range entries {
		switch e.Kind {
		case standin.Typed:
			typed[e.Text] = true
		case standin.Posted, standin.Edited:
			if e.Actor == p.st.Bot().Name {
				checkReply(t, e)
			}
		case standin.Unsettled:
			t.Errorf("%s got no answer to %s", e.Actor, e.Text)
		}
	}
	for _, c := range bot.Listing() {
		name := strings.Trim(c.Usage, "`*")
		used := false
		for text := range typed {
			used = used || text == name || strings.HasPrefix(text, name+" ")
		}
		if !used {
			t.Errorf("the fortnight never uses %s", name)
		}
	}
}

// bodyParts must not stand in a reply but in somebody's own, quoted words.
var bodyParts = regexp.MustCompile(`(?i)\b(arms?|elbows?|wrists?|hips?|shoulders?|knees?|legs?|feet|foot|hands|head|spine|torso|chest|thumbs?|fingers?|knuckles?|back elbow)\b`)

var quoted = regexp.MustCompile(`"[^"]*"`)

func checkReply(t *testing.T, e standin.Entry) {
	t.Helper()
	m := e.Message
	if n := len([]rune(m.Text)); n > bot.MaxText || n == 0 {
		t.Errorf("a reply of %d characters: %.80q", n, m.Text)
	}
	if word := bodyParts.FindString(quoted.ReplaceAllString(m.Text, "")); word != "" {
		t.Errorf("a reply names %q as its own word: %q", word, m.Text)
	}
	if m.Loud {
		t.Errorf("a reply notifies everybody: %q", m.Text)
	}
	for _, f := range m.Files {
		if !strings.HasSuffix(f.Name, ".png") {
			continue
		}
		if _, err := png.Decode(bytes.NewReader(f.Bytes)); err != nil {
			t.Errorf("%s is no picture: %v", f.Name, err)
		}
		if n := len([]rune(f.Alt)); n == 0 || n > 1024 {
			t.Errorf("%s has an alt text of %d characters", f.Name, n)
		}
		if word := bodyParts.FindString(quoted.ReplaceAllString(f.Alt, "")); word != "" {
			t.Errorf("an alt text names %q as its own word: %q", word, f.Alt)
		}
	}
}

// otherBalls is a demo file whose first ball spun n revolutions a minute faster:
// the same balls would be the same session.
func otherBalls(file []byte, n int) []byte {
	lines := strings.Split(string(file), "\n")
	cells := strings.Split(lines[1], ",")
	cut := ","
	if len(cells) == 1 {
		cut, cells = "\t", strings.Split(lines[1], "\t")
	}
	i := slices.Index(strings.Split(lines[0], cut), "Spin Rate (rpm)")
	spin, err := strconv.Atoi(cells[i])
	if err != nil {
		panic(err)
	}
	cells[i] = strconv.Itoa(spin + n)
	lines[1] = strings.Join(cells, cut)
	return []byte(strings.Join(lines, "\n"))
}

// demoFile is one of the demo's files.
func demoFile(path string) []byte {
	data, err := testdata.Files.ReadFile(path)
	if err != nil {
		panic(err)
	}
	return data
}

// must fails the test when the play has gone wrong.
func (p *play) must(t *testing.T) {
	t.Helper()
	if p.err != nil {
		t.Fatal(p.err)
	}
}

func TestPostGivesCauseAndPicture(t *testing.T) {
	p := rehearse(t)
	p.setUp()
	out := p.post(p.wren, p.wrens, "wren-1-first.csv", standin.Options{"ball": "range"})
	p.must(t)
	if !strings.HasPrefix(out.Text, "The balls finished about ") || !strings.Contains(out.Text, "because the face pointed") {
		t.Errorf("text = %q", out.Text)
	}
	if out.Ephemeral {
		t.Error("in the student's own lesson thread the reply is for the thread")
	}
	picture := out.Picture()
	if picture == nil {
		t.Fatal("no picture")
	}
	if !strings.Contains(picture.Alt, "20 balls") {
		t.Errorf("alt = %q", picture.Alt)
	}
	if got := strings.Join(out.Labels(), ", "); got != "Figures, Name the sets, Share here, Post the next one" {
		t.Errorf("buttons = %s", got)
	}
	elsewhere := p.post(p.wren, p.practice, "wren-2-german.csv", nil)
	p.must(t)
	if !elsewhere.Ephemeral {
		t.Error("outside of the lesson thread the reply is the student's alone")
	}
}

func TestSameFileTwiceIsOneSession(t *testing.T) {
	p := rehearse(t)
	first := p.post(p.wren, p.practice, "wren-1-first.csv", nil)
	again := p.post(p.wren, p.practice, "wren-1-first.csv", nil)
	p.must(t)
	if !strings.HasPrefix(again.Text, "I have had these balls since 1 June 2026; they stay one session.") {
		t.Errorf("text = %q", again.Text)
	}
	if first.Picture() == nil || again.Picture() == nil {
		t.Error("a reply has no picture")
	}
	if got := p.complete(p.wren, p.practice, "sets", "session"); len(got) != 1 {
		t.Errorf("there are %d sessions, want 1", len(got))
	}
	// The same file of somebody else is a session of its own.
	theirs := p.post(p.odell, p.practice, "wren-1-first.csv", nil)
	p.must(t)
	if strings.Contains(theirs.Text, "I have had") {
		t.Errorf("text = %q", theirs.Text)
	}
}

func TestWhatCannotBeRead(t *testing.T) {
	p := rehearse(t)
	text := []byte("Dear coach,\nthe machine was down.\nWren\n")
	for _, tt := range []struct {
		name string
		file standin.File
		want string
	}{
		{"a file from another host", standin.File{Name: "s.csv", Bytes: text, URL: "https://files.example.org/s.csv"}, "I only read files that were posted here"},
		{"a private address", standin.File{Name: "s.csv", Bytes: text, URL: "http://10.0.0.1/s.csv"}, "I only read files that were posted here"},
		{"a file of 12 MB", standin.File{Name: "s.csv", Bytes: bytes.Repeat([]byte("1,2,3,4,5,6\n"), 1<<20), Declared: 12 << 20}, "10 MB"},
		{"12 MB said to be small", standin.File{Name: "s.csv", Bytes: bytes.Repeat([]byte("1,2,3,4,5,6\n"), 1<<20), Declared: 100}, "10 MB"},
		{"a letter named .csv", standin.File{Name: "s.csv", Bytes: text}, "No row of column names"},
		{"an empty file", p.file("broken/empty.csv"), "empty"},
		{"a cut-off workbook", p.file("broken/truncated.xlsx"), "damaged or cut short"},
	} {
		out := p.slash(p.wren, p.practice, "post", standin.Options{"file": tt.file})
		p.must(t)
		if !strings.Contains(out.Text, tt.want) || !out.Ephemeral {
			t.Errorf("%s: %q (for the asker alone: %v), want something with %q", tt.name, out.Text, out.Ephemeral, tt.want)
		}
	}
	if got := p.complete(p.wren, p.practice, "sets", "session"); len(got) != 0 {
		t.Errorf("%d sessions were kept of what cannot be read", len(got))
	}
}

// A refusal in a public thread is the asker's alone, and leaves nothing behind
// for the others.
func TestErrorsAreTheAskersAlone(t *testing.T) {
	p := rehearse(t)
	p.setUp()
	out := p.slash(p.wren, p.wrens, "post", standin.Options{"file": p.file("broken/letter.csv")})
	p.must(t)
	if !out.Ephemeral {
		t.Errorf("everybody sees %q", out.Text)
	}
	for _, m := range p.wrens.Messages(p.odell) {
		if strings.Contains(m.Text, "column names") {
			t.Errorf("another member sees %q", m.Text)
		}
	}
}

func TestNumbersAreForTheStudentAndTheirCoach(t *testing.T) {
	p := rehearse(t)
	p.setUp()
	posted := p.post(p.wren, p.wrens, "wren-1-first.csv", nil)
	p.must(t)
	refused := func(name string, out *standin.Outcome) {
		t.Helper()
		p.must(t)
		if !out.Ephemeral || !strings.Contains(out.Text, "not yours to see") || len(out.Files) > 0 {
			t.Errorf("%s: %q, for the asker alone: %v, %d files", name, out.Text, out.Ephemeral, len(out.Files))
		}
	}
	// The thread is public, so anybody may press; nobody else may see more.
	refused("another student presses", p.press(p.odell, posted, "Figures"))
	refused("another student's form", p.press(p.odell, posted, "Name the sets"))
	refused("a manager presses", p.press(p.steward, posted, "Figures"))
	refused("another student asks", p.slash(p.odell, p.practice, "cause", standin.Options{"student": p.wren}))
	refused("a manager asks", p.slash(p.steward, p.practice, "timeline", standin.Options{"student": p.wren}))
	refused("the coach asks for a student who never agreed", p.slash(p.coach, p.practice, "cause", standin.Options{"student": p.priya}))

	shared := p.press(p.coach, posted, "Share here")
	p.must(t)
	if !shared.Ephemeral || !strings.Contains(shared.Text, "Only the one who hit these balls") {
		t.Errorf("the coach shares a student's numbers: %q", shared.Text)
	}

	// A forged session id in an option or a path leads nowhere.
	sessions := p.complete(p.wren, p.practice, "sets", "session")
	p.must(t)
	refused("a forged option", p.slash(p.odell.Forger(), p.practice, "cause", standin.Options{"session": sessions[0].Value}))
	forged := p.do("Odell forges", func() (*standin.Outcome, error) {
		return p.odell.Forger().Press(p.ctx, &posted.Message, "v1/cause/"+sessions[0].Value+"/0")
	})
	refused("a forged path", forged)

	// The coach sees it: alone outside of the thread, and never in another
	// student's.
	seen := p.slash(p.coach, p.practice, "cause", standin.Options{"student": p.wren})
	p.must(t)
	if !seen.Ephemeral || seen.Picture() == nil {
		t.Errorf("the coach outside of the thread: %q, alone: %v", seen.Text, seen.Ephemeral)
	}
	strange := p.slash(p.coach, p.tamsins, "cause", standin.Options{"student": p.wren})
	p.must(t)
	if !strange.Ephemeral {
		t.Error("one student's numbers are shown in another's thread")
	}
	inside := p.slash(p.coach, p.wrens, "timeline", nil)
	p.must(t)
	if inside.Ephemeral || inside.Picture() == nil {
		t.Errorf("the coach in the thread: %q, alone: %v", inside.Text, inside.Ephemeral)
	}

	// Consent taken back takes effect at once.
	consent := p.slash(p.wren, p.practice, "mine consent", nil)
	p.press(p.wren, consent, "Take it back")
	refused("the former coach asks", p.slash(p.coach, p.practice, "cause", standin.Options{"student": p.wren}))
	refused("the former coach presses", p.press(p.coach, posted, "Figures"))
}

func TestOnlyTheStudentConsents(t *testing.T) {
	p := rehearse(t)
	p.slash(p.steward, p.practice, "clubhouse coach", standin.Options{"role": p.coachRole})
	notCoach := p.slash(p.wren, p.wrens, "bind", standin.Options{"student": p.tamsin})
	p.must(t)
	if !strings.Contains(notCoach.Text, "Only coaches") {
		t.Errorf("a student binds: %q", notCoach.Text)
	}
	channel := p.slash(p.coach, p.practice, "bind", standin.Options{"student": p.wren})
	p.must(t)
	if !strings.Contains(channel.Text, "has to be a thread") {
		t.Errorf("a whole channel is bound: %q", channel.Text)
	}
	asked := p.slash(p.coach, p.wrens, "bind", standin.Options{"student": p.wren})
	p.must(t)
	if len(asked.Told) != 1 || asked.Told[0] != "Wren" {
		t.Errorf("the question notifies %v, want Wren", asked.Told)
	}
	for _, who := range []*standin.User{p.odell, p.coach} {
		pressed := p.press(who, asked, "I agree")
		p.must(t)
		if !pressed.Ephemeral || !strings.Contains(pressed.Text, "the student's to answer") {
			t.Errorf("%s agrees for Wren: %q", who.Name, pressed.Text)
		}
	}
	p.post(p.wren, p.practice, "wren-1-first.csv", nil)
	before := p.slash(p.coach, p.practice, "cause", standin.Options{"student": p.wren})
	p.must(t)
	if !strings.Contains(before.Text, "not yours to see") {
		t.Errorf("before consent the coach sees %q", before.Text)
	}
	p.press(p.wren, asked, "I agree")
	after := p.slash(p.coach, p.practice, "cause", standin.Options{"student": p.wren})
	p.must(t)
	if after.Picture() == nil {
		t.Errorf("after consent the coach sees %q", after.Text)
	}
}

func TestForgettingIsAskedTwiceAndComplete(t *testing.T) {
	p := rehearse(t)
	p.setUp()
	p.post(p.wren, p.wrens, "wren-1-first.csv", nil)
	asked := p.slash(p.wren, p.practice, "mine forget", nil)
	sure := p.press(p.wren, asked, "Delete it all")
	p.must(t)
	if got := p.complete(p.wren, p.practice, "sets", "session"); len(got) != 1 {
		t.Errorf("pressed once, %d sessions are left, want 1", len(got))
	}
	gone := p.press(p.wren, sure, "Yes, delete it all")
	p.must(t)
	if !strings.HasPrefix(gone.Text, "Everything kept about you here is deleted.") {
		t.Errorf("text = %q", gone.Text)
	}
	if got := p.complete(p.wren, p.practice, "sets", "session"); len(got) != 0 {
		t.Errorf("%d sessions are left", len(got))
	}
	coach := p.slash(p.coach, p.practice, "timeline", standin.Options{"student": p.wren})
	p.must(t)
	if !strings.Contains(coach.Text, "not yours to see") {
		t.Errorf("the coach still sees %q", coach.Text)
	}
}

// escapes are characters that mean nothing to the platform.
var escapes = regexp.MustCompile(`\\.`)

// Somebody's words stand in replies as words: they mention nobody and mark
// nothing up.
func TestHostileWords(t *testing.T) {
	p := rehearse(t)
	p.setUp()
	words := "@everyone **<@" + p.coach.ID + ">** [x](https://example.org)"
	out := p.post(p.wren, p.practice, "wren-1-first.csv", standin.Options{"sets": "1-10 normal, 11-20 " + words, "note": words})
	p.must(t)
	if out.Loud || len(out.Told) > 0 {
		t.Errorf("a label notifies: everybody %v, %v", out.Loud, out.Told)
	}
	for _, raw := range []string{"@everyone", "**", "<@", "](http"} {
		if strings.Contains(escapes.ReplaceAllString(out.Text, ""), raw) {
			t.Errorf("the reply has %q of a label unescaped: %q", raw, out.Text)
		}
	}
	lesson := p.slash(p.coach, p.wrens, "lesson", standin.Options{"note": words})
	p.must(t)
	if lesson.Loud || len(lesson.Told) > 0 || strings.Contains(lesson.Text, "**") {
		t.Errorf("a note marks up or notifies: %q", lesson.Text)
	}
}

func TestBadOptionsSayWhatToDo(t *testing.T) {
	p := rehearse(t)
	p.setUp()
	file := p.file("sessions/wren-1-first.csv")
	for _, tt := range []struct {
		options standin.Options
		want    string
	}{
		{standin.Options{"file": file, "club": "spoon"}, "not a club I know. Write it as driver, 3w, 4h, 7i, pw or 56."},
		{standin.Options{"file": file, "target": "far"}, "is not a distance"},
		{standin.Options{"file": file, "target": "9000"}, "not a carry anybody aims at"},
		{standin.Options{"file": file, "sets": "1-10 normal, 11-40 strong grip"}, "20"},
		{standin.Options{"file": file, "sets": "normal ones first"}, "normal ones first"},
	} {
		out := p.slash(p.wren, p.wrens, "post", tt.options)
		p.must(t)
		if !strings.Contains(out.Text, tt.want) || !out.Ephemeral {
			t.Errorf("%v: %q, want something with %q, for the asker alone", tt.options, out.Text, tt.want)
		}
	}
	early := p.slash(p.coach, p.wrens, "lesson", standin.Options{"note": "x", "date": "2027-01-01"})
	p.must(t)
	if !strings.Contains(early.Text, "still to come") {
		t.Errorf("a lesson in the future: %q", early.Text)
	}
	day := p.slash(p.coach, p.wrens, "lesson", standin.Options{"note": "x", "date": "tomorrow"})
	p.must(t)
	if !strings.Contains(day.Text, "year-month-day") {
		t.Errorf("a lesson on no day: %q", day.Text)
	}
	none := p.slash(p.tamsin, p.tamsins, "cause", nil)
	p.must(t)
	if !strings.Contains(none.Text, "There is no session yet.") {
		t.Errorf("a cause of nothing: %q", none.Text)
	}
}

// An answer about a file holds for every file with the same header; taken back,
// those files are read, and asked about, anew.
func TestAnswersAreRememberedAndUndone(t *testing.T) {
	p := rehearse(t)
	p.setUp()
	p.at(2, 19, 0)
	file := p.file("sessions/tamsin-1-driver.csv")
	asked := p.slash(p.tamsin, p.practice, "post", standin.Options{"file": file})
	p.must(t)
	if len(asked.Menus) == 0 || asked.Picture() != nil {
		t.Fatalf("a left-hander's first file of a header is not asked about: %q", asked.Text)
	}
	if forged := p.do("Odell answers for Tamsin", func() (*standin.Outcome, error) {
		return p.odell.Forger().Choose(p.ctx, &asked.Message, asked.Menus[0].Path, asked.Menus[0].Choices[1].Value)
	}); forged != nil && forged.Picture() != nil {
		t.Errorf("somebody else answers: %q", forged.Text)
	}
	p.err = nil // the stand-in may refuse the forgery itself
	answered := p.answer(p.tamsin, asked)
	p.must(t)
	if answered.Picture() == nil {
		t.Fatalf("answered, the file is not read: %q", answered.Text)
	}
	file.Bytes = append(file.Bytes, '\n') // another file, same header
	again := p.slash(p.tamsin, p.practice, "post", standin.Options{"file": file})
	p.must(t)
	if len(again.Files) == 0 {
		t.Errorf("the same header is asked about twice: %q", again.Text)
	}
	list := p.slash(p.steward, p.practice, "clubhouse answers", nil)
	p.must(t)
	undone := p.do("Steward takes it back", func() (*standin.Outcome, error) {
		return p.steward.Choose(p.ctx, &list.Message, "", list.Menus[0].Choices[0].Value)
	})
	p.must(t)
	if !strings.HasPrefix(undone.Text, "Taken back") {
		t.Errorf("text = %q", undone.Text)
	}
	anew := p.slash(p.tamsin, p.practice, "cause", nil)
	p.must(t)
	if len(anew.Menus) == 0 {
		t.Errorf("after the answer was taken back: %q", anew.Text)
	}
}
