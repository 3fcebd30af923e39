package shapes

import (
	"maps"
	"slices"
	"testing"

	"rangepost/analysis"
)

func sortedKeys(m map[string]int) []string { return slices.Sorted(maps.Keys(m)) }

// perfect is what a reader that knows everything would get.
func perfect(t Truth) Got {
	g := Got{Columns: map[int]analysis.Number{}}
	for i, c := range t.Columns {
		if c.Known {
			g.Columns[i] = c.Number
		}
	}
	for _, s := range t.Shots {
		g.Shots = append(g.Shots, GotShot{s.Club, maps.Clone(s.Values)})
	}
	return g
}

func TestAPerfectReadingIsWhole(t *testing.T) {
	for _, s := range slices.Concat(Shapes(21, 300), Pastes(21, 100), Typed(21, 100)) {
		if r := Score(s.Truth, perfect(s.Truth)); r.Kind != Whole || r.NoClub+r.WrongClubs > 0 {
			t.Errorf("%s %d: %v, want whole: %+v", s.Format, s.I, r.Kind, r)
		}
		// Without its nonsense it is whole too.
		g := perfect(s.Truth)
		g.Shots = nil
		for _, shot := range s.Truth.Shots {
			if !shot.Misread {
				g.Shots = append(g.Shots, GotShot{shot.Club, shot.Values})
			}
		}
		if r := Score(s.Truth, g); r.Kind != Whole {
			t.Errorf("%s %d without misread rows: %v, want whole: %+v", s.Format, s.I, r.Kind, r)
		}
	}
}

func scale(g *Got, n analysis.Number, k float64) {
	for _, s := range g.Shots {
		if v, ok := s.Values[n]; ok {
			s.Values[n] = v * k
		}
	}
}

func TestWhatIsWrongIsFound(t *testing.T) {
	swap := func(g *Got, a, b analysis.Number) {
		for _, s := range g.Shots {
			x, hasX := s.Values[a]
			y, hasY := s.Values[b]
			delete(s.Values, a)
			delete(s.Values, b)
			if hasX {
				s.Values[b] = x
			}
			if hasY {
				s.Values[a] = y
			}
		}
	}
	for _, c := range []struct {
		name  string
		needs []analysis.Number
		spoil func(*Got)
		want  Kind
		what  string
	}{
		{"mirrored", []analysis.Number{analysis.Lateral}, func(g *Got) { scale(g, analysis.Lateral, -1) }, Wrong, mirrored},
		{"metres for yards", []analysis.Number{analysis.Carry}, func(g *Got) { scale(g, analysis.Carry, 1/analysis.Yard) }, Wrong, scaled},
		{"km/h for mph", []analysis.Number{analysis.BallSpeed}, func(g *Got) { scale(g, analysis.BallSpeed, 1.609344) }, Wrong, scaled},
		{"half", []analysis.Number{analysis.Spin}, func(g *Got) { scale(g, analysis.Spin, 0.5) }, Wrong, ""},
		{"two changed round", []analysis.Number{analysis.Carry, analysis.Total}, func(g *Got) { swap(g, analysis.Carry, analysis.Total) }, Wrong, ""},
		{"left out", []analysis.Number{analysis.Carry}, func(g *Got) {
			for _, s := range g.Shots {
				delete(s.Values, analysis.Carry)
			}
		}, LeftOut, ""},
		{"a ball lost", []analysis.Number{analysis.Carry}, func(g *Got) { g.Shots = slices.Delete(g.Shots, 3, 4) }, LeftOut, ""},
		{"a mean among the balls", []analysis.Number{analysis.Carry}, func(g *Got) {
			g.Shots = append(g.Shots, GotShot{Values: map[analysis.Number]float64{analysis.Carry: 123.4567}})
		}, Wrong, ""},
		{"noise taken for a number", []analysis.Number{analysis.Carry}, func(g *Got) {
			for _, s := range g.Shots {
				s.Values[analysis.StrikeUp] = 0.017
			}
		}, Wrong, ""},
		{"asked about it", []analysis.Number{analysis.Lateral}, func(g *Got) { g.Asked = 1; scale(g, analysis.Lateral, -1) }, Asked, ""},
		{"asked about another", []analysis.Number{analysis.Lateral}, func(g *Got) {
			g.Asked, g.About = 1, []int{99}
			scale(g, analysis.Lateral, -1)
		}, Wrong, mirrored},
		{"refused", nil, func(g *Got) { g.Refused = true }, Refused, ""},
	} {
		tried := 0
		for _, s := range Shapes(33, 200, Ordinary) {
			tr := s.Truth
			fits := tr.column(analysis.StrikeUp) < 0
			for _, n := range c.needs {
				fits = fits && tr.column(n) >= 0
			}
			if slices.ContainsFunc(tr.Shots, func(s Shot) bool { return s.Misread }) {
				fits = false
			}
			if !fits {
				continue
			}
			tried++
			g := perfect(tr)
			g.Columns = nil
			c.spoil(&g)
			r := Score(tr, g)
			if r.Kind != c.want {
				t.Errorf("%s, shape %d: %v, want %v: %v", c.name, s.I, r.Kind, c.want, r.Faults)
			}
			if c.what != "" && (len(r.Faults) == 0 || r.Faults[0].What != c.what) {
				t.Errorf("%s, shape %d: faults %v, want %q", c.name, s.I, r.Faults, c.what)
			}
		}
		if tried < 20 {
			t.Errorf("%s was tried on %d shapes, want at least 20", c.name, tried)
		}
	}
}

func TestQuestionsAreWeighed(t *testing.T) {
	open := Truth{Questions: []Question{{AboutUnit, []int{0, 1}}, {AboutSide, []int{2}}}}
	for _, c := range []struct {
		got                 Got
		rightly, needlessly int
	}{
		{Got{Asked: 1}, 1, 0},
		{Got{Asked: 3}, 2, 1},
		{Got{Asked: 2, About: []int{1, 5}}, 1, 1},
		{Got{}, 0, 0},
	} {
		r := Score(open, c.got)
		if r.Rightly != c.rightly || r.Needlessly != c.needlessly {
			t.Errorf("Score(%+v) = %d rightly, %d needlessly, want %d, %d", c.got, r.Rightly, r.Needlessly, c.rightly, c.needlessly)
		}
	}
}
