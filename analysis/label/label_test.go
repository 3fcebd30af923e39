package label_test

import (
	"errors"
	"fmt"
	"strings"
	"testing"

	"rangepost/analysis"
	"rangepost/analysis/label"
)

func show(r label.Ranges) string {
	var parts []string
	for _, one := range r {
		word := one.Label
		if one.Mishit != "" {
			word = "!" + one.Mishit
		}
		parts = append(parts, fmt.Sprintf("%v=%s", one.Balls, word))
	}
	return strings.Join(parts, " ")
}

func TestParse(t *testing.T) {
	for give, want := range map[string]string{
		"1-10 normal, 11-20 strong grip; 3 was a shank": "[{1 10}]=normal [{11 20}]=strong grip [{3 3}]=!shank",
		"1-5, 9 weak grip":                     "[{1 5} {9 9}]=weak grip",
		"1 – 5 a\n6 to 10 b":                   "[{1 5}]=a [{6 10}]=b",
		"balls 1 to 4 and 7 normal":            "[{1 4} {7 7}]=normal",
		"1-10 7 iron":                          "[{1 10}]=7 iron",
		"1-10 7i":                              "[{1 10}]=7i",
		"3 and 4 were tops":                    "[{3 3} {4 4}]=!tops",
		"#1-#3: slow and easy":                 "[{1 3}]=slow and easy",
		"1-3 black and white":                  "[{1 3}]=black and white",
		"1..4 right elbow tucked, 5-8 as ever": "[{1 4}]=right elbow tucked [{5 8}]=as ever",
	} {
		got, err := label.Parse(give)
		if err != nil || show(got) != want {
			t.Errorf("Parse(%q) = %s, %v, want %s", give, show(got), err, want)
		}
	}
}

func TestParseRefuses(t *testing.T) {
	for give, piece := range map[string]string{
		"":                            "",
		"normal":                      "normal",
		"1-10 normal, 11-20":          "11-20",
		"10-1 normal":                 "10-1 normal",
		"0-3 normal":                  "0-3 normal",
		"1-99999 normal":              "1-99999 normal",
		"1-10 normal, strong 11-20":   "strong 11-20",
		"1-10 normal, 8-12 strong":    "strong",
		"99999999999999999999 normal": "99999999999999999999 normal",
	} {
		_, err := label.Parse(give)
		var e *label.Error
		if !errors.As(err, &e) {
			t.Errorf("Parse(%q): %v, want a *label.Error", give, err)
			continue
		}
		if e.Piece != piece || e.Message == "" || e.Hint == "" {
			t.Errorf("Parse(%q): %+v, want the piece %q, a message and a hint", give, e, piece)
		}
	}
}

func session(n int) analysis.Session {
	var s analysis.Session
	for i := range n {
		s.Shots = append(s.Shots, analysis.Shot{N: i + 1})
	}
	return s
}

func TestApply(t *testing.T) {
	r, err := label.Parse("1-2 normal, 3-4 strong grip; 2 was a shank")
	if err != nil {
		t.Fatal(err)
	}
	before := session(5)
	after, err := r.Apply(before)
	if err != nil {
		t.Fatal(err)
	}
	var got []string
	for _, s := range after.Shots {
		got = append(got, s.Label+"/"+string(s.Aside))
	}
	if want := "normal/ normal/mishit strong grip/ strong grip/ /"; strings.Join(got, " ") != want {
		t.Errorf("Apply = %q, want %q", strings.Join(got, " "), want)
	}
	if !strings.Contains(after.Shots[1].Why, "shank") {
		t.Errorf("Why = %q does not say the golfer's word", after.Shots[1].Why)
	}
	if before.Shots[0].Label != "" {
		t.Error("Apply changed its input")
	}
	_, err = r.Apply(session(3))
	var e *label.Error
	if !errors.As(err, &e) || !strings.Contains(e.Error(), "1 to 3") {
		t.Errorf("Apply to three balls: %v, want an error that says how many there are", err)
	}
}

// Whatever is typed is either followed or refused with the piece quoted, and
// no ball ends up in two sets.
func FuzzParse(f *testing.F) {
	for _, s := range []string{"1-10 normal, 11-20 strong grip; 3 was a shank", "1-5, 9 weak grip", "a", "1-", "1–2 é", "3 and", "1 to 2 to 3 x"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, text string) {
		r, err := label.Parse(text)
		if err != nil {
			var e *label.Error
			if !errors.As(err, &e) || !strings.Contains(text, e.Piece) {
				t.Fatalf("Parse(%q): %v does not quote what it does not understand", text, err)
			}
			return
		}
		for _, one := range r {
			if (one.Label == "") == (one.Mishit == "") {
				t.Fatalf("Parse(%q): %+v is not one of set and mishit", text, one)
			}
		}
		if _, err := r.Apply(session(20)); err != nil && !errors.As(err, new(*label.Error)) {
			t.Fatalf("Apply of %q: %v", text, err)
		}
	})
}
