package plan

import (
	"testing"

	"rangepost/analysis"
)

// Balls of the card carry its sets; those in front are warm-ups, those behind
// extra, and where none is of the card nothing is said.
func TestLabelled(t *testing.T) {
	p := Plan{Labels: []string{"as usual", "ball back"}, Turns: []Turn{{Set: 1, Balls: 2}, {Set: 0, Balls: 1}}}
	session := func(n int) (s analysis.Session) {
		for i := range n {
			s.Shots = append(s.Shots, analysis.Shot{N: i + 1})
		}
		return s
	}
	for _, c := range []struct {
		turns []int
		want  string
	}{
		{[]int{0, 0, 1}, "1-2 ball back, 3 as usual"},
		{[]int{-1, -1, 0, 0, 1, -1}, "1-2 as usual, 3-4 ball back, 5-6 as usual, 1-2 warm-up, 6 extra"},
		{[]int{-1, -1}, ""},
	} {
		if got := p.Labelled(Placed{Session: session(len(c.turns)), Turn: c.turns}); got != c.want {
			t.Errorf("%v: %q, want %q", c.turns, got, c.want)
		}
	}
}
