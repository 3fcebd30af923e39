package season_test

import (
	"testing"

	"github.com/google/go-cmp/cmp"

	"rangepost/analysis/season"
)

func TestTable(t *testing.T) {
	const away = season.Missed
	rows := season.Table([][]int{
		{13, away, 100, 51}, // the best two and 25: 176 of 3
		{100, 73, 13, 13},   // 198 of 3
		{away, away, 73, away},
		{51, 100, away, 51}, // 176, and the earlier of two fifties
		{away, away, away, away},
		{away, 0, away, away},
	}, 2)
	want := []season.Row{
		{Who: 1, Points: []int{100, 73, 13, 13}, Counted: []bool{true, true, false, false}, Total: 66, Played: 4, Place: 1},
		{Who: 0, Points: []int{13, away, 100, 51}, Counted: []bool{false, false, true, true}, Total: 58.7, Played: 3, Place: 2},
		{Who: 3, Points: []int{51, 100, away, 51}, Counted: []bool{true, true, false, false}, Total: 58.7, Played: 3, Place: 2},
		{Who: 2, Points: []int{away, away, 73, away}, Counted: []bool{false, false, true, false}, Total: 49, Played: 1, Place: 4},
		{Who: 5, Points: []int{away, 0, away, away}, Counted: []bool{false, true, false, false}, Total: 12.5, Played: 1, Place: 5},
		{Who: 4, Points: []int{away, away, away, away}, Counted: []bool{false, false, false, false}, Place: 6},
	}
	if diff := cmp.Diff(want, rows); diff != "" {
		t.Error(diff)
	}
	all := season.Table([][]int{{13, away, 100}, {50, 50, 50}}, 0)
	if all[0].Who != 0 || all[0].Total != 46 || all[1].Total != 43.8 {
		t.Errorf("all counted: %+v", all)
	}
}

func TestClasses(t *testing.T) {
	c, err := season.ParseClasses(" 24, 12,Juniors")
	if err != nil || c.Num() != 4 {
		t.Fatal(c, err)
	}
	h := func(v float64) *float64 { return &v }
	for _, tt := range []struct {
		handicap *float64
		junior   bool
		want     int // -1 for none
	}{
		{h(12), false, 0}, {h(12.1), false, 1}, {h(24), false, 1}, {h(24.1), false, 2}, {h(-2), false, 0},
		{nil, false, -1}, {nil, true, 3}, {h(5), true, 3},
	} {
		got, ok := c.Of(tt.handicap, tt.junior)
		if !ok {
			got = -1
		}
		if got != tt.want {
			t.Errorf("%v, junior %v: class %d, want %d", tt.handicap, tt.junior, got, tt.want)
		}
	}
	if none, err := season.ParseClasses(""); err != nil || none.Num() != 0 {
		t.Errorf("no classes: %+v, %v", none, err)
	}
	bands, err := season.ParseClasses("18")
	if err != nil {
		t.Fatal(err)
	}
	if class, ok := bands.Of(h(30), true); !ok || class != 1 {
		t.Errorf("a junior where juniors are no class: %d, %v", class, ok)
	}
	for _, wrong := range []string{"a", "12, 12", "60", "1, 2, 3, 4, 5", "12 24"} {
		if c, err := season.ParseClasses(wrong); err == nil {
			t.Errorf("%q is %+v", wrong, c)
		}
	}
}

func TestHandicaps(t *testing.T) {
	for text, want := range map[string]float64{"12.4": 12.4, "12,4": 12.4, "+2": -2, " 0 ": 0, "54": 54, "7.26": 7.3} {
		if got, err := season.ParseHandicap(text); err != nil || got != want {
			t.Errorf("%q is %v, %v, want %v", text, got, err, want)
		}
	}
	for _, wrong := range []string{"", "55", "+11", "x", "NaN", "++2", "+-2"} {
		if got, err := season.ParseHandicap(wrong); err == nil {
			t.Errorf("%q is %v", wrong, got)
		}
	}
}
