package trial_test

import (
	"errors"
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"rangepost/analysis"
	"rangepost/analysis/stat"
	"rangepost/analysis/trial"
)

// faces is a set whose balls have a face angle, in degrees, and nothing else.
func faces(label string, deg ...float64) analysis.Set {
	s := analysis.Set{Club: iron, Label: label}
	for i, d := range deg {
		s.Shots = append(s.Shots, analysis.Shot{N: i + 1, Club: iron, Label: label}.With(analysis.Face, d*analysis.Degree))
	}
	return s
}

func row(t *testing.T, r trial.Result, set int, n analysis.Number) trial.Row {
	t.Helper()
	for _, row := range r.Rows {
		if row.Set == set && row.Number == n {
			return row
		}
	}
	t.Fatalf("no row of %s in set %d", n, set)
	return trial.Row{}
}

// The four invented sets of face angles that R compared in the tests of package
// stat: figures of a row against the methods taken one by one.
var (
	normalFaces = []float64{2.1, 3.4, 1.2, 4, 2.8, 0.9, 3.1, 2.5, 1.8, 3.7}
	strongFaces = []float64{-0.4, 1.1, 0.3, 1.9, -1.2, 0.8, 0.1, 1.4}
	weakFaces   = []float64{3.9, 5.2, 2.7, 4.4, 6.1, 3.3}
	usualFaces  = []float64{2.4, 1.9, 3.6, 2.2, 3, 1.5, 2.7}
)

func fourSets() []analysis.Set {
	return []analysis.Set{
		faces("strong grip", strongFaces...), faces("normal", normalFaces...), faces("weak grip", weakFaces...), faces("usual again", usualFaces...),
	}
}

func TestRow(t *testing.T) {
	r, err := trial.Of(fourSets(), 1, trial.Config{})
	if err != nil {
		t.Fatal(err)
	}
	if r.Sets[0].Label != "normal" || r.Sets[1].Tool != analysis.StrongerGrip || len(r.Rows) != 3 {
		t.Fatalf("sets %+v, %d rows; want normal first, a stronger grip second, 3 rows", r.Sets, len(r.Rows))
	}
	strong := row(t, r, 1, analysis.Face)
	d, _ := stat.NewBehrensFisher(stat.SampleOf(strongFaces), stat.SampleOf(normalFaces))
	low, high := d.Limits(1 - 0.05/3)
	for what, pair := range map[string][2]float64{
		"difference": {strong.Difference / analysis.Degree, -2.05},
		"low":        {strong.Low / analysis.Degree, low},
		"high":       {strong.High / analysis.Degree, high},
		"p":          {strong.P, d.P(0)},
		"adjusted p": {strong.PAdjusted, 3 * d.P(0)},
	} {
		if math.Abs(pair[0]-pair[1]) > 1e-6 {
			t.Errorf("%s = %v, want %v", what, pair[0], pair[1])
		}
	}
	// 2,000 of the 43,758 splits, of which R counts 0.098 % as far apart.
	if strong.Shuffled <= 0 || strong.Shuffled > 0.004 {
		t.Errorf("shuffled = %v, want about 0.001", strong.Shuffled)
	}
	if strong.Verdict != trial.Moved || strong.MoreBase != 0 || strong.MoreSet != 0 {
		t.Errorf("strong grip: %q, %d and %d more balls; want moved, none", strong.Verdict, strong.MoreBase, strong.MoreSet)
	}
	if again := row(t, r, 3, analysis.Face); again.Verdict != trial.Held {
		t.Errorf("the usual again: %q, want held", again.Verdict)
	}
}

// With one spread for all the rows are Dunnett's: R's double integral [C].
func TestRowEqualSpread(t *testing.T) {
	r, err := trial.Of(fourSets(), 1, trial.Config{EqualSpread: true})
	if err != nil {
		t.Fatal(err)
	}
	for set, want := range map[int][3]float64{
		1: {0.000630166935873921, -3.25328886104308, -0.846711138956919},
		2: {0.00802097773124522, 0.406691678786543, 3.02664165454679},
		3: {0.997483816925219, -1.32869826436827, 1.17155540722542},
	} {
		got := row(t, r, set, analysis.Face)
		for i, v := range []float64{got.PAdjusted, got.Low / analysis.Degree, got.High / analysis.Degree} {
			if math.Abs(v-want[i]) > 1e-6 {
				t.Errorf("set %d: %v, want %v", set, v, want[i])
			}
		}
	}
}

// The four verdicts, each from balls that leave no doubt of it.
func TestVerdicts(t *testing.T) {
	base := []float64{0, 0.2, -0.2, 0.1, -0.1, 0.3, -0.3, 0}
	at := func(shift, spread float64) (deg []float64) {
		for _, v := range base {
			deg = append(deg, shift+spread*v)
		}
		return deg
	}
	for _, c := range []struct {
		name          string
		shift, spread float64
		want          trial.Verdict
	}{
		{"far off", 3, 1, trial.Moved},
		{"off, but by less than a degree", 0.6, 1, trial.MovedLittle},
		{"the same", 0, 1, trial.Held},
		{"scattered", 1, 12, trial.CannotTell},
	} {
		r := of(t, []analysis.Set{faces("normal", base...), faces("tried", at(c.shift, c.spread)...)}, trial.Config{})
		if got := row(t, r, 1, analysis.Face).Verdict; got != c.want {
			t.Errorf("%s: %q, want %q", c.name, got, c.want)
		}
	}
}

// Two balls a set: the numbers are shown, nothing is said to have moved, and
// the reply can say how little that proves and how many more balls would do.
// Only where the balls of a set all but coincide and the sets are far apart is
// it believed.
func TestTwoBalls(t *testing.T) {
	r := of(t, []analysis.Set{faces("normal", 1.5, -0.5), faces("strong grip", -3.5, -1.5)}, trial.Config{})
	got := row(t, r, 1, analysis.Face)
	if got.Verdict != trial.CannotTell || !got.OK {
		t.Errorf("verdict %q, OK %v; want cannot tell, true", got.Verdict, got.OK)
	}
	if math.Abs(got.Difference/analysis.Degree+3) > 1e-9 || !(got.Low < got.Difference && got.Difference < got.High) {
		t.Errorf("difference %v of %v to %v, want -3 deg inside", got.Difference, got.Low, got.High)
	}
	if got.MoreBase < 5 || got.MoreBase != got.MoreSet || got.MoreFor != trial.Moved || got.Finds < 3*analysis.Degree {
		t.Errorf("%d and %d more for %q, finds %v; want some, alike, for moved, and over 3 deg", got.MoreBase, got.MoreSet, got.MoreFor, got.Finds)
	}
	if r.Warnings[0] != (analysis.Warning{Code: trial.SmallSets, Count: 2}) {
		t.Errorf("warnings %v, want two small sets first", r.Warnings)
	}

	r = of(t, []analysis.Set{faces("normal", 0.01, -0.01), faces("shank", 30, 30.02)}, trial.Config{})
	if got := row(t, r, 1, analysis.Face); got.Verdict != trial.Moved {
		t.Errorf("thirty degrees between balls a hundredth apart: %q, want moved", got.Verdict)
	}
	found := false
	for _, w := range r.Warnings {
		found = found || w.Code == trial.Shape
	}
	if !found {
		t.Error("two balls a set are believed on the bell curve alone, and no warning says so")
	}
}

// One ball or none on a side is no comparison.
func TestOneBall(t *testing.T) {
	r := of(t, []analysis.Set{faces("normal", 1, 2, 3), faces("tried", 9), faces("not measured")}, trial.Config{})
	got := row(t, r, 1, analysis.Face)
	if got.OK || got.Verdict != trial.CannotTell || got.Low != got.Difference || got.High != got.Difference || got.PAdjusted != 1 {
		t.Errorf("one ball: %+v; want not OK, cannot tell, no limits", got)
	}
	if got.MoreSet < 4 {
		t.Errorf("one ball: %d more in the set, want enough to compare", got.MoreSet)
	}
	if len(r.Rows) != 1 {
		t.Errorf("%d rows, want 1: a set without the number has none", len(r.Rows))
	}
}

// Shots set aside do not count; sets of another club are left out with a
// warning; the input stays as it was.
func TestSetsLeftOut(t *testing.T) {
	sets := fourSets()
	sets[0].Shots = append(sets[0].Shots, analysis.Shot{N: 99, Aside: analysis.Mishit}.With(analysis.Face, 1))
	driver := faces("driver", 1, 2, 3)
	driver.Club = analysis.Club{Family: analysis.Driver}
	sets = append(sets, driver)
	before := make([]analysis.Set, len(sets))
	for i, s := range sets {
		before[i] = s
		before[i].Shots = append([]analysis.Shot(nil), s.Shots...)
	}
	r, err := trial.Of(sets, 1, trial.Config{})
	if err != nil {
		t.Fatal(err)
	}
	if s := r.Sets[1]; s.Balls != 9 || s.Used != 8 {
		t.Errorf("balls, used = %d, %d; want 9, 8", s.Balls, s.Used)
	}
	if math.Abs(row(t, r, 1, analysis.Face).Difference/analysis.Degree+2.05) > 1e-9 {
		t.Error("a shot set aside counts in the difference")
	}
	if len(r.Sets) != 4 || r.Warnings[0] != (analysis.Warning{Code: trial.OtherClub, Count: 1}) {
		t.Errorf("%d sets, warnings %v; want 4 and one of another club", len(r.Sets), r.Warnings)
	}
	if diff := cmp.Diff(before, sets, cmp.AllowUnexported(analysis.Shot{})); diff != "" {
		t.Errorf("Of changed its input: %s", diff)
	}
}

func TestErrors(t *testing.T) {
	driver := faces("driver", 1, 2)
	driver.Club = analysis.Club{Family: analysis.Driver}
	var many []analysis.Set
	for range 11 {
		many = append(many, faces("x", 1, 2))
	}
	for name, c := range map[string]struct {
		sets     []analysis.Set
		baseline int
		says     string
	}{
		"no sets":         {nil, 0, "at least one other set"},
		"one set":         {many[:1], 0, "at least one other set"},
		"no such":         {many[:2], 2, "no set 3"},
		"below":           {many[:2], -1, "no set 0"},
		"other club only": {[]analysis.Set{many[0], driver}, 0, "baseline's club"},
		"too many":        {many, 0, "11 sets are too many"},
	} {
		_, err := trial.Of(c.sets, c.baseline, trial.Config{})
		var problem *analysis.Refusal
		if !errors.As(err, &problem) || !strings.Contains(err.Error(), c.says) || problem.Hint == "" {
			t.Errorf("%s: %v, want an error with a hint that says %q", name, err, c.says)
		}
	}
}

func TestBaselineIndex(t *testing.T) {
	sets := []analysis.Set{{Label: "Strong grip"}, {Label: "Normal "}, {Label: "weak"}}
	for _, c := range []struct {
		sets  []analysis.Set
		label string
		want  int
		ok    bool
	}{
		{sets, "strong GRIP", 0, true}, {sets, " weak ", 2, true}, {sets, "", 1, true}, {sets, "other", 0, false},
		{sets[:1], "", 0, true}, {nil, "", 0, false}, {[]analysis.Set{{Label: "weak"}, {}}, "", 1, true},
	} {
		if got, ok := trial.BaselineIndex(c.sets, c.label); got != c.want || ok != c.ok {
			t.Errorf("BaselineIndex(%d sets, %q) = %d, %v; want %d, %v", len(c.sets), c.label, got, ok, c.want, c.ok)
		}
	}
}

// A left-hander in a mirror is a right-hander: sideways differences change
// sign, verdicts and fractions do not.
func TestMirror(t *testing.T) {
	rng := rand.New(rand.NewPCG(1, 2))
	sets := []analysis.Set{hit(rng, "normal", 1, 14, neutral, 1), hit(rng, "strong grip", 20, 11, neutral.with(-3, -4), 1.2)}
	mirrored := make([]analysis.Set, len(sets))
	for i, s := range sets {
		mirrored[i] = analysis.Set{Club: s.Club, Label: s.Label}
		for _, shot := range s.Shots {
			mirrored[i].Shots = append(mirrored[i].Shots, shot.Mirrored())
		}
	}
	c := trial.Config{FaceWorth: faceWorth, PathWorth: pathWorth, Seed: 7}
	a, b := of(t, sets, c), of(t, mirrored, c)
	const tolerance = 1e-9
	for i, x := range a.Rows {
		y, sign := b.Rows[i], 1.0
		if x.Number.Info().Sideways {
			sign = -1
			x.Low, x.High = x.High, x.Low
		}
		for _, pair := range [][2]float64{{x.Difference, sign * y.Difference}, {x.Low, sign * y.Low}, {x.High, sign * y.High}, {x.PAdjusted, y.PAdjusted}} {
			if math.Abs(pair[0]-pair[1]) > tolerance {
				t.Errorf("%s: %v in the mirror %v", x.Number, pair[0], pair[1])
			}
		}
		if x.Verdict != y.Verdict {
			t.Errorf("%s: %q in the mirror %q", x.Number, x.Verdict, y.Verdict)
		}
	}
	x, y := a.Compensations[0], b.Compensations[0]
	if math.Abs(x.FaceM+y.FaceM) > tolerance || math.Abs(x.Cancelled-y.Cancelled) > 1e-6 || x.Opposed != y.Opposed || !x.Opposed {
		t.Errorf("compensation %+v in the mirror %+v", x, y)
	}
}

// The same input, seed and all, gives the same result.
func TestSeeded(t *testing.T) {
	rng := rand.New(rand.NewPCG(1, 2))
	sets := []analysis.Set{hit(rng, "normal", 1, 30, neutral, 1), hit(rng, "strong grip", 40, 30, neutral.with(-1.5, -1), 1)}
	a, b := of(t, sets, trial.Config{Seed: 3}), of(t, sets, trial.Config{Seed: 3})
	if diff := cmp.Diff(a, b); diff != "" {
		t.Errorf("two runs differ: %s", diff)
	}
}
