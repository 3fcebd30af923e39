package analysis_test

import (
	"strings"
	"testing"

	"rangepost/analysis"
)

// TestRows finds what a row was left without.
func TestRows(t *testing.T) {
	languages := len(analysis.ClubSpeed.Info().Headings)
	keys, names := map[string]bool{}, map[string]bool{}
	for _, n := range analysis.Numbers() {
		info := n.Info()
		if info.Key == "" || info.Name == "" || info.Plain == "" || keys[info.Key] || names[info.Name] {
			t.Errorf("number %d: key %q, name %q and plain word %q have to be there and its own", n, info.Key, info.Name, info.Plain)
		}
		keys[info.Key], names[info.Name] = true, true
		if info.Least >= info.Most {
			t.Errorf("%s: nothing is believed between %v and %v", n, info.Least, info.Most)
		}
		if info.Sideways && info.Sides == nil {
			t.Errorf("%s is sideways and has no words for its sides", n)
		}
		if s := info.Sides; s != nil {
			if s.Minus == "" || s.Plus == "" || s.Zero == "" || len(s.Words) < 2 || info.Lower == "" || info.Least >= 0 {
				t.Errorf("%s: its sides lack a word, or a side: %+v, %q, least %v", n, *s, info.Lower, info.Least)
			}
			if len(s.Words) >= 2 && s.Words[0].Sign*s.Words[1].Sign != -1 {
				t.Errorf("%s: the side words offered are of one side: %v", n, s.Words[:2])
			}
		}
		if (info.Lower == "") != (info.Higher == "") {
			t.Errorf("%s: a change is %q one way and %q the other", n, info.Lower, info.Higher)
		}
		if len(info.Headings) < languages && !info.Judged {
			t.Errorf("%s has header words in %d languages of %d", n, len(info.Headings), languages)
		}
		for _, call := range info.Calls {
			if call != strings.ToLower(call) {
				t.Errorf("%s is called %q, which nobody's lower-case text is", n, call)
			}
		}
		if n.Short() == "" || n.String() != info.Name {
			t.Errorf("number %d is %q, in a sentence %q", n, n, n.Short())
		}
	}
}

// TestSidesTurnRound: only sides of the golfer's own frame change with the hand.
func TestSidesTurnRound(t *testing.T) {
	for _, n := range analysis.Numbers() {
		right, ok := n.Sides(analysis.RightHanded)
		left, _ := n.Sides(analysis.LeftHanded)
		turned := ok && right.Minus == left.Plus && right.Plus == left.Minus
		if got, want := turned, n == analysis.FaceToPath; got != want {
			t.Errorf("%s turned round for a left-handed golfer: %v, want %v", n, got, want)
		}
		lower, higher := n.Changes(analysis.RightHanded)
		leftLower, leftHigher := n.Changes(analysis.LeftHanded)
		if got, want := lower == leftHigher && higher == leftLower, n == analysis.FaceToPath; got != want || lower == "" {
			t.Errorf("%s: a change is %q or %q, for a left-handed golfer %q or %q", n, lower, higher, leftLower, leftHigher)
		}
	}
}
