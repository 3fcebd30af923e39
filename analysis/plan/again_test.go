package plan

import (
	"math"
	"testing"

	"rangepost/analysis"
)

// Balls that are in are no other turns' when they come again from a program that
// leaves columns out, or has more of them.
func TestAgainWithOtherColumns(t *testing.T) {
	p := small()
	long, turns := file(p, visit1, 0, 1)
	next, nextTurns := file(p, visit2, 0, 2)
	short := func(s analysis.Session, without ...analysis.Number) analysis.Session {
		s.Shots = append([]analysis.Shot(nil), s.Shots...)
		for i := range s.Shots {
			for _, n := range without {
				s.Shots[i] = s.Shots[i].With(n, math.NaN())
			}
		}
		return s
	}
	for i := range long.Shots {
		long.Shots[i] = long.Shots[i].With(analysis.Carry, 130+float64(i%7)).With(analysis.Attack, -float64(i%5)*analysis.Degree)
	}
	columns := []analysis.Number{analysis.Attack, analysis.ClubSpeed}
	for name, test := range map[string]struct {
		before, now analysis.Session
		again       bool
	}{
		"fewer":                     {long, short(long, columns...), true},
		"more":                      {short(long, columns...), long, true},
		"each has one of its own":   {short(long, analysis.Attack), short(long, analysis.ClubSpeed), true},
		"two are too few to tell":   {long, short(long, analysis.Attack, analysis.ClubSpeed, analysis.Path), false},
		"the next visit, and fewer": {long, short(next, analysis.Path), false},
	} {
		m, err := p.Match([]Placed{{test.before, turns}}, test.now)
		if again := len(m.Likely) == 0 && m.Reading.Is(Again); err != nil || again != test.again {
			t.Errorf("%s: %+v, %v", name, m.Reading, err)
		}
	}
	if m, err := p.Match([]Placed{{long, turns}}, next); err != nil || len(m.Likely) > 0 || m.Placed.Turn[0] != nextTurns[0] {
		t.Errorf("the next visit: %+v, %v", m, err)
	}
}
