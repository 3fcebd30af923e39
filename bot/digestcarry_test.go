package bot

import (
	"fmt"
	"regexp"
	"strings"
	"testing"
	"time"

	"rangepost/analysis"
	"rangepost/bot/record"
	"rangepost/store"
)

// weekly is the message of a week on, "" if none came.
func (d *desktop) weekly(on *crowd) string {
	d.t.Helper()
	d.days(7)
	on.sent = nil
	if err := d.Tick(d.t.Context(), on); err != nil {
		d.t.Fatal(err)
	}
	return strings.Join(on.sent, "")
}

// Thirty briefs end in a week: each is told once, those for whom there was no
// room in a message come first in the next, and nothing is marked as told that
// was not. A restart between building a message and writing that it was sent
// changes nothing.
func TestDigestCarriesTheRestOver(t *testing.T) {
	d, on := newDesktop(t), present()
	for i := range 30 {
		d.bind(fmt.Sprintf("student-%02d", i), coach)
	}
	d.ask(coach, "digest", "day", "1")
	d.weekly(on) // who is new
	for d.weekly(on) != "" && d.now.Before(time.Date(2026, time.September, 1, 0, 0, 0, 0, time.UTC)) {
	}
	for i := range 30 {
		name := fmt.Sprintf("student-%02d", i)
		d.ask(coach, "brief", "student", name, "text", "face within 2, 10 balls in 3 days")
		d.session(name, 10, 0)
	}
	one := regexp.MustCompile(`(?m)^(?:coach )?\*\*(student-\d\d)\*\*[^:\n]*: .*[Bb]rief kept`)
	told := map[string]int{}
	for week := range 6 {
		text := d.weekly(on)
		if n := len([]rune(text)); n > MaxText+10 {
			t.Errorf("week %d: %d characters", week, n)
		}
		now := 0
		for _, m := range one.FindAllStringSubmatch(text, -1) {
			told[m[1]]++
			now++
		}
		lines, err := d.db.Roster(t.Context(), "saltmarsh", coach)
		if err != nil {
			t.Fatal(err)
		}
		for _, l := range lines {
			if (l.Told != "") != (told[l.Student.ID] > 0) {
				t.Errorf("week %d: %s was named %d times and is marked %q", week, l.Student.ID, told[l.Student.ID], l.Told)
			}
		}
		if week == 0 && (now == 0 || now == 30 || !strings.Contains(text, fmt.Sprintf("There was no room for %d more", 30-now))) {
			t.Errorf("the first message names %d: %q", now, text)
		}
	}
	for i := range 30 {
		if name := fmt.Sprintf("student-%02d", i); told[name] != 1 {
			t.Errorf("%s is told %d times", name, told[name])
		}
	}
}

// A drift that began before a message and shows in a file posted after it is
// told in the next, once.
func TestDriftOfAFilePostedLater(t *testing.T) {
	d, on := newDesktop(t), present()
	d.bind(student, coach)
	d.ask(coach, "digest", "day", "1")
	var late []store.NewSession
	start := d.now
	for i := range 22 {
		iron := analysis.Club{Family: analysis.Iron, Number: 7}
		var shots []analysis.Shot
		for k := range 10 {
			face := float64(k%5-2)*0.4 + float64(i%3-1)*0.3
			if i >= 12 {
				face += 0.8 * float64(i-12)
			}
			shots = append(shots, analysis.Shot{N: k + 1, Row: k + 2, Club: iron}.With(analysis.Face, face*analysis.Degree).With(analysis.Path, 0).Derived())
		}
		late = append(late, store.NewSession{
			Server: "saltmarsh", Student: student, Name: "s.csv", Raw: fmt.Append(nil, i),
			Reading: store.Reading{Session: analysis.Session{When: start.AddDate(0, 0, i), Dated: analysis.ByInstant, Ball: analysis.RangeBall, Shots: shots}},
		})
	}
	post := func(sessions []store.NewSession) {
		t.Helper()
		for _, n := range sessions {
			if _, _, err := d.db.PostSession(t.Context(), n); err != nil {
				t.Fatal(err)
			}
		}
	}
	d.days(22)
	post(late[:12])
	if text := d.weekly(on); strings.Contains(text, "drifting") {
		t.Fatalf("nothing drifts yet: %q", text)
	}
	post(late[12:]) // hit before that message
	contained(t, "the next", d.weekly(on), "**wren**: Face-to-path drifting since")
	for range 3 {
		if text := d.weekly(on); strings.Contains(text, "drifting") {
			t.Errorf("told again: %q", text)
		}
	}
}

// Of a student with whom more came to pass than one message has room for, it is
// told in short, once, and nobody behind waits for ever. Each brief counts.
func TestDigestOfALongLine(t *testing.T) {
	d, on := newDesktop(t), present()
	d.bind(student, coach)
	d.bind(other, coach)
	d.ask(coach, "digest", "day", "1")
	d.weekly(on)
	const briefs = 30
	for i := range briefs {
		d.ask(coach, "brief", "student", student, "text", "face within 2, 10 balls in 3 days", "channel", "thread-"+student+"-"+coach)
		d.session(student, 10, 5*float64(i%3/2))
	}
	d.session(other, 10, 0)
	first := d.weekly(on)
	contained(t, "the long line", first, "**wren**: ", "Earlier face brief kept", "26 briefs before that: 18 kept, 8 missed.", "**tamsin**: ")
	if n := len([]rune(first)); n > MaxText {
		t.Errorf("%d characters", n)
	}
	d.session(other, 10, 0)
	second := d.weekly(on)
	contained(t, "the week after", second, "**tamsin**: ")
	if strings.Contains(second, "rief") {
		t.Errorf("told again: %q", second)
	}
}

// Who has more to be told than MaxText goes alone, and is not met again a week on.
func TestDigestAlone(t *testing.T) {
	n := record.News{Since: time.Date(2026, time.June, 1, 9, 0, 0, 0, time.UTC)}
	for _, name := range []string{strings.Repeat("a long name ", 120), "Tamsin"} {
		n.Students = append(n.Students, record.Changes{Line: record.Line{RosterLine: store.RosterLine{Student: store.Student{ID: name, Name: name}}}, New: true})
	}
	text, _, students := digestText(n)
	if students != 1 || len([]rune(text)) > 2000 || !strings.Contains(text, "There was no room for 1 more") {
		t.Errorf("%d students in %d characters: %q", students, len([]rune(text)), text)
	}
	n.Students[0], n.Students[1] = n.Students[1], n.Students[0]
	if text, _, students = digestText(n); students != 1 || len([]rune(text)) > MaxText {
		t.Errorf("in front: %d students in %d characters", students, len([]rune(text)))
	}
}

// How a plan ended is told once, and that nothing is hit for one likewise.
func TestDigestOfPlans(t *testing.T) {
	p, on := newPlanner(t), present()
	p.bind(student, coach)
	p.ask(coach, "digest", "day", "1")
	p.weekly(on)
	p.ask(coach, "plan", "student", student, "against", "stronger grip", "club", "7i", "number", "face", "change", "1.5")
	contained(t, "nothing hit for it", p.weekly(on), "**wren**: Plan of 8 June not begun. Ask what is in the way.")
	text := p.weekly(on)
	if strings.Contains(text, "lan of") {
		t.Errorf("told again: %q", text)
	}
	for from := 0; p.plan().Settled.IsZero(); {
		if from == len(p.plan().Card.Turns) {
			t.Fatal("the card does not settle it")
		}
		to := visitEnd(p.plan().Card, from)
		p.visit(from, to, 0, -4)
		from = to
	}
	text = p.weekly(on)
	contained(t, "settled", text, "Plan settled: the stronger grip")
	if strings.Count(text, "stronger grip") != 1 {
		t.Errorf("the visit's own trial beside it: %q", text)
	}
	p.session(student, 10, 0)
	if text = p.weekly(on); strings.Contains(text, "lan settled") {
		t.Errorf("told again: %q", text)
	}
}
