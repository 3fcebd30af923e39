package shotmaker

import (
	"math"
	"reflect"
	"slices"
	"testing"

	"rangepost/analysis"
	"rangepost/analysis/panel"
)

func TestTheSameCaseGivesTheSame(t *testing.T) {
	long := Cases(3, 40)
	for i, c := range Cases(3, 4) {
		if c.String() != long[i].String() {
			t.Fatalf("case %d is %s, in a longer list %s", i, c, long[i])
		}
		s, truth := c.Play()
		again, told := c.Play()
		if !reflect.DeepEqual(s, again) || !reflect.DeepEqual(truth.Balls, told.Balls) || !reflect.DeepEqual(truth.Shots, told.Shots) {
			t.Errorf("%s plays otherwise the second time", c)
		}
		if want := (Want{Curve: Band{-3, 3}, Start: Open(), Apex: Open(), Carry: Open()}); truth.LongRun(want, 1, 50) != told.LongRun(want, 1, 50) {
			t.Errorf("%s: another long run the second time", c)
		}
	}
	if reflect.DeepEqual(Cases(4, 1)[0].Seed, long[0].Seed) {
		t.Error("another seed gives the same cases")
	}
}

// What is dealt comes evenly, and every session is what its case says.
func TestCasesAreWhatTheySay(t *testing.T) {
	const n = 420
	seen := map[any]int{}
	turned := 0
	for i, c := range Cases(1, n) {
		for _, key := range []any{c.World.Name, c.Club, c.Columns, c.Shots, c.Control, c.Mistake, c.Hand} {
			seen[key]++
		}
		if i >= 42 {
			continue
		}
		s, truth := c.Play()
		if len(truth.Shots) != c.Shots+1 || len(s.Shots) != len(truth.Balls) || s.Hand != c.Hand {
			t.Errorf("%s: %d shots, %d rows, %d balls, hand %s", c, len(truth.Shots), len(s.Shots), len(truth.Balls), s.Hand)
		}
		sets := s.Sets()
		if len(sets) != len(truth.Shots) {
			t.Errorf("%s: %d sets for %d shots: labels meet", c, len(sets), len(truth.Shots))
		}
		changes := 0
		for k, shot := range s.Shots {
			if shot.Label != truth.Shots[truth.Of[k]].Ask.Label {
				t.Fatalf("%s: ball %d is labelled %q", c, k+1, shot.Label)
			}
			if k > 0 && shot.Label != s.Shots[k-1].Label {
				changes++
			}
			for _, num := range analysis.Numbers() {
				if shot.Has(num) && !c.Columns.Has(num) {
					t.Fatalf("%s has a %s", c, num)
				}
			}
		}
		if !c.Turns && changes != c.Shots {
			t.Errorf("%s: the set changes %d times", c, changes)
		}
		if c.Turns && changes > c.Shots {
			turned++
		}
		for _, shot := range truth.Shots {
			if shot.Balls < 3 || shot.Balls > 20 {
				t.Errorf("%s: %d balls of %q", c, shot.Balls, shot.Ask.Label)
			}
		}
	}
	if turned == 0 {
		t.Error("no session goes in turns")
	}
	for key, of := range map[any]int{
		"crisis": 12, panel.ClubOnly: 14, panel.FlightOnly: 14, 6: 5, 2: 5, analysis.LeftHanded: 3,
		analysis.Club{Family: analysis.Driver}: 7, Nothing: 7, OtherCurve: 8,
	} {
		if got, want := seen[key], n/of; got < want-1 || got > want+1 {
			t.Errorf("%v comes %d times, want %d", key, got, want)
		}
	}
}

// The sets of columns that only shots on request are read from.
func TestColumns(t *testing.T) {
	for columns, want := range map[panel.Columns][]analysis.Number{
		panel.NoFlight:   {analysis.Face, analysis.StrikeToe, analysis.BallSpeed, analysis.Direction, analysis.Spin},
		panel.ClubOnly:   {analysis.Face, analysis.StrikeToe},
		panel.LaunchOnly: {analysis.BallSpeed, analysis.Direction, analysis.Spin},
		panel.FlightOnly: {analysis.Carry, analysis.Lateral, analysis.Apex, analysis.FlightTime},
	} {
		c := Cases(2, 1)[0]
		c.Columns = columns
		s, _ := c.Play()
		for _, n := range []analysis.Number{
			analysis.Face, analysis.StrikeToe, analysis.BallSpeed, analysis.Direction, analysis.Spin,
			analysis.Carry, analysis.Lateral, analysis.Apex, analysis.FlightTime,
		} {
			if s.Shots[0].Has(n) != slices.Contains(want, n) {
				t.Errorf("%s: has %s: %t", columns, n, s.Shots[0].Has(n))
			}
		}
	}
}

// The twin has every lateral sign turned to the last digit, is judged alike, and
// is flown alike.
func TestMirror(t *testing.T) {
	for _, c := range Cases(5, 10) {
		s, truth := c.Play()
		m, twin := Mirror(c).Play()
		if m.Hand == s.Hand || twin.Player.Hand != m.Hand {
			t.Fatalf("%s: the twin plays %s-handed", c, m.Hand)
		}
		for i, shot := range s.Shots {
			for _, n := range analysis.Numbers() {
				a, has := shot.Value(n)
				b, had := m.Shots[i].Value(n)
				if n.Info().Sideways {
					b = -b
				}
				if a != b || has != had {
					t.Fatalf("%s: ball %d, %s: %v and %v", c, i+1, n, a, b)
				}
			}
		}
		for i, shot := range truth.Shots {
			if turnWords.Replace(twin.Shots[i].Ask.Label) != shot.Ask.Label || turnWords.Replace(m.Shots[0].Label) != s.Shots[0].Label {
				t.Errorf("%s: %q and %q", c, shot.Ask.Label, twin.Shots[i].Ask.Label)
			}
			want := Want{Start: Band{-1 * deg, 3 * deg}, Curve: Band{-6, 2}, Apex: Open(), Carry: Open()}
			if a, b := truth.LongRun(want, i, 40), twin.LongRun(want.Mirrored(), i, 40); a != b {
				t.Errorf("%s: %q is done by %v, its twin by %v", c, shot.Ask.Label, a, b)
			}
			for _, n := range Numbers() {
				a, asked := truth.Gain(0, i, n)
				b, askedToo := twin.Gain(0, i, n)
				if asked != askedToo || math.Abs(a-b) > 1e-9 {
					t.Errorf("%s: gain of %s %v and %v", c, n, a, b)
				}
			}
		}
		a, b := flew(truth.Try(truth.Shots[1].Needs)), flew(twin.Try(twin.Shots[1].Needs))
		if math.Abs(a.Lateral+b.Lateral) > 1e-9 || math.Abs(a.Curve+b.Curve) > 1e-9 || math.Abs(a.Carry-b.Carry) > 1e-9 {
			t.Errorf("%s: tried %+v and %+v", c, a, b)
		}
		if again, _ := Mirror(Mirror(c)).Play(); !reflect.DeepEqual(again, s) {
			t.Errorf("%s: the twin's twin is another", c)
		}
	}
}
