package bot

import (
	"archive/zip"
	"bytes"
	"strings"
	"testing"
)

// Two setups that were hit on the same two days are compared within them: the
// demo's grip, by the story its files were made from, closed the face 2.2 and
// 2.5 degrees; the path went 5.4 left on the first day and stayed on the second,
// which is no one difference.
func TestCompareSetups(t *testing.T) {
	d := newDesktop(t)
	d.bind(student, coach)
	for _, file := range []string{"wren-4-grip-trial.tsv", "wren-5-second-trial.csv", "wren-1-first.csv"} {
		d.days(5)
		if reply := d.Handle(t.Context(), as(student, posting(file))); reply.Picture == nil {
			t.Fatal(reply.Text)
		}
	}
	says := d.ask(coach, "compare", "student", student, "first", "normal", "second", "Strong grip").Text
	contained(t, "setups", says, "**wren, 7-iron**. The usual setup (2 days, 40 balls) against \"Strong grip\" (2 days, 40 balls), on the same days.",
		"- Face 2.2° further left (", "- Path differed from day to day: 6° further left, then 1° further right.", "of these 2 days alone")
	if again := d.ask(coach, "compare", "student", student, "first", "usual", "second", "stronger grip").Text; strings.Count(again, "°") != strings.Count(says, "°") {
		t.Errorf("by other names: %q, was %q", again, says)
	}
	if own := d.ask(student, "compare", "first", "normal", "second", "strong grip", "number", "face"); !strings.Contains(own.Text, "Face 2.2° further left") || strings.Contains(own.Text, "- Path") {
		t.Errorf("the student's own: %q", own.Text)
	}
	for _, tt := range []struct{ first, second, want string }{
		{"7i", "since 2026-06-01", "Name two clubs, two spans of time or two setups."},
		{"7i", "driver", "Nothing was measured of both the 7-iron and the driver."},
		{"2026-06-07 to 2026-06-01", "last 2", "that is no span of time"},
		{"before lesson", "since lesson", "no lesson is marked yet"},
		{"last x", "before last 2", "that is no number of sessions"},
		{"normal", "shut face", "Nothing was measured of both"},
		{"before 2026-06-07", "since 2026-06-07", "- Too few days to compare:"},
		{"last 1", "before last 1", "- Too few days to compare:"},
	} {
		contained(t, tt.first, d.ask(student, "compare", "first", tt.first, "second", tt.second).Text, tt.want)
	}
	for option, want := range map[string]string{"first": "strong grip", "second": "last 5", "club": "7i", "number": "face"} {
		r := as(student, Request{Kind: CompletionAsk, Command: "compare", Focused: option, Options: map[string]string{option: ""}})
		found := false
		for _, c := range d.Handle(t.Context(), r).Choices {
			found = found || c.Value == want
		}
		if !found {
			t.Errorf("%s: %q is not offered", option, want)
		}
	}
}

// A sheet has all of a lesson's preparation on one page; what the coach takes
// away are the numbers, and neither the student's files nor who else coached them.
func TestSheet(t *testing.T) {
	d := newDesktop(t)
	contained(t, "nobody's", d.ask(coach, "sheet", "student", student).Text, "not yours to see")
	d.bind(student, rival)
	d.session(student, 4, 1)
	d.ask(rival, "lesson", "student", student, "note", "aim")
	d.ask(rival, "brief", "student", student, "text", "face within 2, 10 balls")
	d.ask(rival, "brief", "student", student, "text", "none")
	d.bind(student, coach)
	contained(t, "nothing yet", d.ask(coach, "sheet", "student", student).Text, "**wren** before the lesson.", "No trial yet.", "No brief.", `Promised on 1 June: "aim".`)
	d.days(7) // the file is of 6 June
	d.Handle(t.Context(), as(student, posting("wren-4-grip-trial.tsv")))
	d.days(3)
	d.ask(coach, "lesson", "student", student, "note", "Grip: one knuckle more, hit in turns with the usual one")
	d.ask(coach, "brief", "student", student, "text", "face to path within 2, 7-iron, 40 balls by 30 June")
	d.days(5)
	d.Handle(t.Context(), as(student, posting("wren-7-last.csv.gz")))
	sheet := d.ask(coach, "sheet", "student", student)
	contained(t, "sheet", sheet.Text, "- Face-to-path", "- Face ", "- Path",
		"the stronger grip closed the face 2.2°, the path undid it.", "Brief under way", "It asks for face-to-path",
		`Promised on 11 June: "Grip: one knuckle more, hit in turns with the usual one".`, "The last session asks for nothing to be moved.")
	if sheet.Picture == nil || len([]rune(sheet.Text)) > MaxText {
		t.Errorf("picture %v, %d characters", sheet.Picture != nil, len([]rune(sheet.Text)))
	}
	taken := d.do(coach, sheet, "Take the numbers away")
	if len(taken.Files) != 1 || !taken.Private && taken.about == "" {
		t.Fatalf("taken: %+v", taken)
	}
	archive, err := zip.NewReader(bytes.NewReader(taken.Files[0].Bytes), int64(len(taken.Files[0].Bytes)))
	if err != nil {
		t.Fatal(err)
	}
	balls := 0
	for _, f := range archive.File {
		r, err := f.Open()
		if err != nil {
			t.Fatal(err)
		}
		var content bytes.Buffer
		if _, err := content.ReadFrom(r); err != nil {
			t.Fatal(err)
		}
		if strings.HasSuffix(f.Name, "/balls.csv") {
			balls += strings.Count(content.String(), "\n") - 1
		}
		if strings.Contains(f.Name, "posted-") || strings.Contains(content.String(), rival) || strings.Contains(content.String(), "Bindings") {
			t.Errorf("%s is the student's alone", f.Name)
		}
	}
	if balls != 4+40+24 {
		t.Errorf("%d balls, want 68", balls)
	}
	contained(t, "no such part", d.press(coach, "take", student, "9").Text, "no such part")
}
