package bot

import (
	"strings"
	"testing"
)

// A student's reply and the coach's desk count the same finding alike, in the
// order the sessions were hit; a setup is said to be untried from the third time
// on, and is explained once.
func TestTheSameAgain(t *testing.T) {
	d := newDesktop(t)
	d.bind(student, coach)
	d.days(20) // after all that the files say
	var replies []string
	for _, file := range []string{"wren-1-first.csv", "wren-2-german.csv", "wren-7-last.csv.gz"} {
		replies = append(replies, d.Handle(t.Context(), as(student, posting(file))).Text)
	}
	if strings.Contains(replies[0], "time in a row") {
		t.Errorf("the first: %q", replies[0])
	}
	contained(t, "the second", replies[1], "the second time in a row.")
	if strings.Contains(replies[2], "time in a row") {
		t.Errorf("another finding: %q", replies[2])
	}
	// Hit before that one, and read after it.
	contained(t, "the third", d.Handle(t.Context(), as(student, posting("wren-3-before-lesson.csv"))).Text, "the third time in a row.")
	const meaning = "Stronger: the grip turned a little to the right on the handle."
	if n := strings.Count(strings.Join(replies, "\n"), meaning); n != 1 {
		t.Errorf("a setup is explained %d times", n)
	}

	e := newDesktop(t)
	e.bind(student, coach)
	e.days(20)
	for _, file := range []string{"wren-1-first.csv", "wren-2-german.csv", "wren-3-before-lesson.csv"} {
		replies = append(replies, e.Handle(t.Context(), as(student, posting(file))).Text)
	}
	contained(t, "the third", replies[len(replies)-1], "the third time in a row.", "Next: what was not tried yet, a stronger grip")
	contained(t, "the desk", e.ask(coach, "review").Text, "third time in a row")
}

// Whoever chose figures reads them at once, a coach always; the golfer's first
// layer has none of the limits, and a press away it does.
func TestLayers(t *testing.T) {
	d := newDesktop(t)
	d.bind(student, coach)
	d.days(20)
	short := d.Handle(t.Context(), as(student, posting("wren-1-first.csv")))
	if strings.Contains(short.Text, "In yards") || strings.Contains(short.Text, "(") {
		t.Errorf("the first layer: %q", short.Text)
	}
	press := as(student, Request{Kind: PressRequest, Path: short.Rows[0].Buttons[0].Path})
	contained(t, "pressed", d.Handle(t.Context(), press).Text, "In yards: face 13 right (10 to 16)")
	contained(t, "the coach", d.ask(coach, "cause", "student", student).Text, "In yards")
	d.ask(student, "mine detail", "detail", "figures")
	contained(t, "figures", d.Handle(t.Context(), as(student, posting("wren-2-german.csv"))).Text, "In yards")
	d.ask(student, "mine detail", "detail", "short")
	if again := d.Handle(t.Context(), as(student, posting("wren-3-before-lesson.csv"))).Text; strings.Contains(again, "In yards") {
		t.Errorf("short again: %q", again)
	}
}

// What a student asked a word of is said, and what is no word of ours refused.
func TestHelpOnAWord(t *testing.T) {
	d := newDesktop(t)
	d.ask(student, "mine hand", "hand", "left")
	contained(t, "left-handed", d.ask(student, "help", "word", "Stronger grip").Text, "turned a little to the left")
	contained(t, "path", d.ask(student, "help", "word", "path").Text, "Path: the way the club was moving.")
	contained(t, "no word", d.ask(student, "help", "word", "swoosh").Text, "I do not use the word")
}

// The task is what the brief asks, how far it is, what the lesson was about and
// what the last session asks for.
func TestTask(t *testing.T) {
	d := newDesktop(t)
	d.bind(student, coach)
	contained(t, "none", d.ask(student, "task").Text, "No task is set.")
	d.ask(coach, "brief", "student", student, "text", "face within 2, 7i, 20 balls")
	d.ask(coach, "lesson", "student", student, "note", "grip, in turns")
	d.days(1)
	d.Handle(t.Context(), as(student, posting("wren-1-first.csv")))
	contained(t, "set", d.ask(student, "task").Text, "face angle with the 7-iron", "of 20 balls", `"grip, in turns"`, "By the session of 1 June 2026: try a stronger grip")
}
