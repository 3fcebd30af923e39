package analysis_test

import (
	"fmt"
	"math"
	"testing"

	"rangepost/analysis"
)

func TestTableOfNumbers(t *testing.T) {
	seen := map[string]bool{}
	for _, n := range analysis.Numbers() {
		info := n.Info()
		if info.Key == "" || info.Name == "" || info.Plain == "" {
			t.Errorf("number %d has an empty row: %+v", n, info)
		}
		if seen[info.Key] {
			t.Errorf("key %q stands twice", info.Key)
		}
		seen[info.Key] = true
		back, ok := analysis.NumberByKey(info.Key)
		if !ok || back != n {
			t.Errorf("NumberByKey(%q) = %v, %v", info.Key, back, ok)
		}
	}
	if _, ok := analysis.NumberByKey("elegance"); ok {
		t.Error("a number that does not exist was found")
	}
}

func TestDerived(t *testing.T) {
	deg := func(v float64) float64 { return v * analysis.Degree }
	tests := []struct {
		name string
		give map[analysis.Number]float64
		want map[analysis.Number]float64
	}{
		{
			"face-to-path from both",
			map[analysis.Number]float64{analysis.Face: deg(2), analysis.Path: deg(-3)},
			map[analysis.Number]float64{analysis.FaceToPath: deg(5)},
		},
		{
			"face from face-to-path and path",
			map[analysis.Number]float64{analysis.FaceToPath: deg(5), analysis.Path: deg(-3)},
			map[analysis.Number]float64{analysis.Face: deg(2)},
		},
		{
			"path from face and face-to-path",
			map[analysis.Number]float64{analysis.FaceToPath: deg(5), analysis.Face: deg(2)},
			map[analysis.Number]float64{analysis.Path: deg(-3)},
		},
		{
			"smash", map[analysis.Number]float64{analysis.BallSpeed: 60, analysis.ClubSpeed: 40},
			map[analysis.Number]float64{analysis.Smash: 1.5},
		},
		{
			"ball speed from smash", map[analysis.Number]float64{analysis.Smash: 1.5, analysis.ClubSpeed: 40},
			map[analysis.Number]float64{analysis.BallSpeed: 60},
		},
		{
			// In one plane the angle between two directions is the difference of their heights.
			"spin loft in the vertical plane",
			map[analysis.Number]float64{analysis.DynamicLoft: deg(24), analysis.Attack: deg(-4)},
			map[analysis.Number]float64{analysis.SpinLoft: deg(28)},
		},
	}
	for _, tt := range tests {
		var s analysis.Shot
		for n, v := range tt.give {
			s = s.With(n, v)
		}
		s = s.Derived()
		for n, want := range tt.want {
			if got, ok := s.Value(n); !ok || math.Abs(got-want) > 1e-12 {
				t.Errorf("%s: %v = %v, %v, want %v", tt.name, n, got, ok, want)
			}
		}
	}
}

func TestInferredNeverHidesMeasured(t *testing.T) {
	s := analysis.Shot{}.With(analysis.Face, 0.02).WithInferred(analysis.Face, 0.5)
	if v, _ := s.Value(analysis.Face); v != 0.02 || s.Inferred(analysis.Face) {
		t.Errorf("a measured face of 0.02 became %v (inferred %v)", v, s.Inferred(analysis.Face))
	}
	s = analysis.Shot{}.WithInferred(analysis.Path, 0.1)
	if !s.Has(analysis.Path) || s.Measured(analysis.Path) || !s.Inferred(analysis.Path) {
		t.Error("an inferred path is not told from a measured one")
	}
	s = s.With(analysis.Path, 0.2)
	if !s.Measured(analysis.Path) {
		t.Error("measuring did not replace inferring")
	}
	s = s.With(analysis.Path, math.NaN())
	if s.Has(analysis.Path) {
		t.Error("NaN passed for a measurement")
	}
}

func TestMirroredTwiceIsTheSame(t *testing.T) {
	var s analysis.Shot
	for i, n := range analysis.Numbers() {
		s = s.With(n, float64(i+1))
	}
	m := s.Mirrored()
	for _, n := range analysis.Numbers() {
		was, _ := s.Value(n)
		is, _ := m.Value(n)
		want := was
		if n.Info().Sideways {
			want = -was
		}
		if is != want {
			t.Errorf("%v in the mirror = %v, want %v", n, is, want)
		}
	}
	if m.Mirrored() != s {
		t.Error("two mirrors do not give the shot back")
	}
}

func TestClubsReadBack(t *testing.T) {
	for _, s := range []string{"driver", "3w", "5w", "4h", "1i", "7i", "9i", "pw", "gw", "sw", "lw", "56", "putter"} {
		c, err := analysis.ParseClub(s)
		if err != nil {
			t.Errorf("ParseClub(%q): %v", s, err)
			continue
		}
		if c.Key() != s {
			t.Errorf("ParseClub(%q).Key() = %q", s, c.Key())
		}
		if _, ok := c.Loft(); !ok {
			t.Errorf("%v has no usual loft", c)
		}
	}
	for give, want := range map[string]string{"7 Iron": "7i", "Iron 7": "7i", "I7": "7i", "Driver": "driver", "3-Wood": "3w", "H4": "4h", "Pitching Wedge": "pw", "56°": "56", "Sand": ""} {
		c, err := analysis.ParseClub(give)
		if want == "" {
			if err == nil {
				t.Errorf("ParseClub(%q) = %v, want an error", give, c)
			}
			continue
		}
		if err != nil || c.Key() != want {
			t.Errorf("ParseClub(%q) = %q, %v, want %q", give, c.Key(), err, want)
		}
	}
}

func TestSetsInOrderOfAppearance(t *testing.T) {
	iron := analysis.Club{Family: analysis.Iron, Number: 7}
	s := analysis.Session{Shots: []analysis.Shot{
		{N: 1, Club: iron, Label: "normal"}, {N: 2, Club: iron, Label: "strong grip"},
		{N: 3, Club: iron, Label: "normal"}, {N: 4, Club: analysis.Club{Family: analysis.Driver}, Label: "normal"},
	}}
	var got []string
	for _, set := range s.Sets() {
		got = append(got, fmt.Sprintf("%v/%s/%d", set.Club, set.Label, len(set.Shots)))
	}
	want := "[7-iron/normal/2 7-iron/strong grip/1 driver/normal/1]"
	if fmt.Sprint(got) != want {
		t.Errorf("Sets() = %v, want %v", got, want)
	}
}
