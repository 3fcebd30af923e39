package panel

import (
	"reflect"
	"testing"

	"rangepost/analysis"
)

func TestCasesAreSpreadEvenly(t *testing.T) {
	cases := Cases(1, 2520)
	seen := map[any]int{}
	left := 0
	for _, c := range cases {
		seen[c.World.Name]++
		seen[c.Club]++
		seen[c.Columns]++
		seen[c.Balls]++
		seen[c.Kind]++
		seen[[2]any{c.World.Name, c.Kind}]++
		if c.Hand == analysis.LeftHanded {
			left++
		}
	}
	even := func(key any, of int) {
		if n := seen[key]; n < 2520/of-1 || n > 2520/of+1 {
			t.Errorf("%v comes %d times, want %d", key, n, 2520/of)
		}
	}
	for _, w := range Worlds() {
		even(w.Name, len(Worlds()))
		for _, k := range Kinds() {
			// 21 on average; five deviations of a Poisson count below is none.
			if seen[[2]any{w.Name, k}] < 5 {
				t.Errorf("%s, %s: %d cases", w.Name, k, seen[[2]any{w.Name, k}])
			}
		}
	}
	for _, c := range Clubs() {
		even(c, len(Clubs()))
	}
	for _, c := range AllColumns() {
		even(c, len(AllColumns()))
	}
	for _, n := range Sizes() {
		even(n, len(Sizes()))
	}
	for _, k := range Kinds() {
		even(k, len(Kinds()))
	}
	if left < 700 || left > 1060 {
		t.Errorf("%d of 2520 are left-handed", left)
	}
	shorter := Cases(1, 100)
	for i, c := range shorter {
		if c.String() != cases[i].String() {
			t.Fatalf("case %d is %s, in a longer list %s", i, c, cases[i])
		}
	}
	if reflect.DeepEqual(Cases(2, 5)[0].Seed, cases[0].Seed) {
		t.Error("another seed gives the same cases")
	}
}

// The intentions come true often enough for every label to be met, and no
// label is most of what is met by chance alone.
func TestEveryLabelIsOwedToSomeone(t *testing.T) {
	if testing.Short() {
		t.Skip("plays 160 sessions")
	}
	owed := map[Label]int{}
	for _, c := range Cases(29, 160) {
		c.Balls = 5
		_, tr := c.Play()
		owed[tr.Label]++
		if tr.Margin < 0 || tr.Margin > 1 {
			t.Errorf("%s: margin %v", c, tr.Margin)
		}
	}
	for _, l := range []Label{Centred, Face, Path, FaceAndPath, Aim, Strike, Unexplained} {
		if owed[l] < 1 {
			t.Errorf("%s is owed to %d of 160", l, owed[l])
		}
	}
	if owed[Centred] > 95 {
		t.Errorf("%d of 160 are centred", owed[Centred])
	}
	t.Log(owed)
}
