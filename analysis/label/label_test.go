package label_test

import (
	"errors"
	"fmt"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"

	"rangepost/analysis"
	"rangepost/analysis/label"
)

func session(n int) analysis.Session {
	var s analysis.Session
	for i := range n {
		s.Shots = append(s.Shots, analysis.Shot{N: i + 1})
	}
	return s
}

// told writes a session's labels as runs: "1-2 normal|3 shank!".
func told(s analysis.Session) string {
	var parts []string
	for _, shot := range s.Shots {
		text := shot.Label
		if shot.Aside != analysis.Used {
			text += "(" + string(shot.Aside) + ": " + shot.Why + ")"
		}
		if text != "" {
			parts = append(parts, fmt.Sprintf("%d %s", shot.N, text))
		}
	}
	return strings.Join(parts, "|")
}

func TestLabels(t *testing.T) {
	for _, c := range []struct{ text, want string }{
		{"1-2 normal, 3-4 strong grip; 3 was a shank", "1 normal|2 normal|3 strong grip(mishit: shank)|4 strong grip"},
		{"3 shank", "3 (mishit: shank)"},
		{"1-2 were warm up; 1-4 normal", "1 normal(warm-up: warm-up)|2 normal(warm-up: warm-up)|3 normal|4 normal"},
		{"2 extra", "2 (extra: extra)"},
		{"1 warm up shank", "1 warm up shank"},
		{"1-2, 5 weak grip", "1 weak grip|2 weak grip|5 weak grip"},
		{"1–2 normal", "1 normal|2 normal"},
		{"1 — 2: normal", "1 normal|2 normal"},
		{"shots 1 to 2 = ball back\n#3 ball forward", "1 ball back|2 ball back|3 ball forward"},
		{"1 and 3 topped!", "1 (mishit: topped)|3 (mishit: topped)"},
		{"2 I shanked it again", "2 (mishit: shanked)"},
		// Words beyond the mishit make it a label, and a theory about an arm is
		// one like any other.
		{"1-2 thin grip", "1 thin grip|2 thin grip"},
		{"4 back elbow flies", "4 back elbow flies"},
		{"1-2 7 iron easy", "1 7 iron easy|2 7 iron easy"},
		{"1 a, 1 a", "1 a"},
		{"all draw", "1 draw|2 draw|3 draw|4 draw|5 draw"},
		{"1-2 normal, all: low fade; 4 shank", "1 normal|2 normal|3 low fade|4 low fade(mishit: shank)|5 low fade"},
		{"1-2 start 3 right, curve 8 left, 3 normal", "1 start 3 right, curve 8 left|2 start 3 right, curve 8 left|3 normal"},
	} {
		ls, err := label.Parse(c.text, func(name string) bool { return name == "start 3 right, curve 8 left" })
		if err != nil {
			t.Errorf("%q: %v", c.text, err)
			continue
		}
		got, err := ls.Apply(session(5))
		if err != nil {
			t.Errorf("%q: %v", c.text, err)
			continue
		}
		if told(got) != c.want {
			t.Errorf("%q gave %s, want %s", c.text, told(got), c.want)
		}
	}
}

func TestErrorsQuoteThePiece(t *testing.T) {
	for _, c := range []struct{ text, piece, message string }{
		{"", "", "nothing to read"},
		{" , ;", "", "nothing to read"},
		{"1-3 normal, strong grip", "strong grip", "begins with shot numbers"},
		{"1-3 normal, 4-5", "4-5", "no name"},
		{"3-1 normal", "3-1 normal", "backwards"},
		{"0 normal", "0 normal", "not the number"},
		{"99999999999999999999 normal", "99999999999999999999 normal", "not the number"},
		{"7i normal", "7i normal", "7i is not"},
		{"all a, all b", "all b", "have a name already"},
		{"1-3 a, 2-4 b", "2-4 b", "shot 2 is already named 'a'"},
		{"4-9 a", "4-9 a", "has no shots 4 to 9; its shots are 1 to 5"},
		{"1 " + strings.Repeat("x", 101), "", "too long"},
		{"1 a\x01b", "", "cannot be shown"},
		{strings.Repeat("1 a,", 2000), "", "too long"},
	} {
		ls, err := label.Parse(c.text)
		if err == nil {
			_, err = ls.Apply(session(5))
		}
		var e *analysis.Refusal
		if !errors.As(err, &e) {
			t.Errorf("%.40q: error %v, want a *analysis.Refusal", c.text, err)
			continue
		}
		if c.piece != "" && e.Piece != c.piece || !strings.Contains(e.What(), c.message) || e.Hint == "" {
			t.Errorf("%.40q: piece %q, message %q, hint %q; want piece %q and %q", c.text, e.Piece, e.What(), e.Hint, c.piece, c.message)
		}
	}
}

func TestApplyChangesNothingHandedIn(t *testing.T) {
	s := session(4)
	s.Shots[1].Aside, s.Shots[1].Why = analysis.Impossible, "no ball does this"
	before := session(4)
	before.Shots[1] = s.Shots[1]
	ls, err := label.Parse("1-4 strong, 2 shank, 3 fat")
	if err != nil {
		t.Fatal(err)
	}
	got, err := ls.Apply(s)
	if err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff(before, s, cmpopts.IgnoreUnexported(analysis.Shot{})); diff != "" {
		t.Errorf("the session handed in changed:\n%s", diff)
	}
	// A misread stays a misread: the golfer's word is about a ball, and there
	// was none.
	if want := "1 strong|2 strong(impossible: no ball does this)|3 strong(mishit: fat)|4 strong"; told(got) != want {
		t.Errorf("got %s, want %s", told(got), want)
	}
}

func FuzzParse(f *testing.F) {
	for _, s := range []string{"1-10 normal, 11-20 strong grip; 3 was a shank", "3 shank", "1-5, 9 weak grip", "1–2 a;\n#3: b", "to", "1 to", "1 and 2 &3 x", "5-", "1-2-3"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, text string) {
		ls, err := label.Parse(text)
		if err != nil {
			var e *analysis.Refusal
			if !errors.As(err, &e) || e.What() == "" || e.Hint == "" || ls != nil {
				t.Fatalf("%q: labels %v, error %#v", text, ls, err)
			}
			return
		}
		for _, p := range ls {
			if (p.Label == "") == (p.Word == "") || (p.Word == "") != (p.Aside == analysis.Used) || (len(p.Ranges) == 0) != p.All {
				t.Fatalf("%q: piece %+v is neither a label nor a mishit", text, p)
			}
			for _, r := range p.Ranges {
				if r.First < 1 || r.Last < r.First {
					t.Fatalf("%q: range %+v", text, r)
				}
			}
		}
		if s, err := ls.Apply(session(30)); err == nil && len(s.Shots) != 30 {
			t.Fatalf("%q: %d shots after labelling 30", text, len(s.Shots))
		}
	})
}
