package trial_test

import (
	"slices"
	"testing"

	"rangepost/analysis"
	"rangepost/analysis/trial"
)

func codes(r trial.Result) (all []string) {
	for _, w := range r.Warnings {
		all = append(all, w.Code)
	}
	return all
}

// numbered gives a set's balls the numbers they were hit as.
func numbered(s analysis.Set, n ...int) analysis.Set {
	for i := range s.Shots {
		s.Shots[i].N = n[i]
	}
	return s
}

// Sets hit one after the other warm up as they go; sets that alternate do not.
func TestOneAfterOther(t *testing.T) {
	blocks := of(t, []analysis.Set{
		numbered(faces("normal", 1, 2, 3), 1, 2, 3), numbered(faces("tried", 1, 2, 3), 4, 5, 6)}, trial.Config{})
	if !slices.Contains(codes(blocks), trial.OneAfterOther) {
		t.Error("blocks: no warning")
	}
	alternate := of(t, []analysis.Set{
		numbered(faces("normal", 1, 2, 3), 1, 2, 5), numbered(faces("tried", 1, 2, 3), 3, 4, 6)}, trial.Config{})
	if slices.Contains(codes(alternate), trial.OneAfterOther) {
		t.Error("alternating: a warning")
	}
}

func TestNotCompared(t *testing.T) {
	measured := faces("tried", 1, 2, 3)
	for i, s := range measured.Shots {
		measured.Shots[i] = s.With(analysis.Path, float64(i)*analysis.Degree)
	}
	for name, sets := range map[string][]analysis.Set{
		"in a set alone":      {faces("normal", 1, 2, 3), measured},
		"in the baseline too": {measured, faces("tried", 1, 2, 3)},
	} {
		r := of(t, sets, trial.Config{})
		want := analysis.Warning{Code: trial.NotCompared, Count: 1, Number: analysis.Path}
		if !slices.Contains(r.Warnings, want) {
			t.Errorf("%s: warnings %v, want %v", name, r.Warnings, want)
		}
	}
}

func TestSpreadsDiffer(t *testing.T) {
	sets := []analysis.Set{faces("normal", scattered(12, 0, 1)...), faces("tried", scattered(12, 0, 6)...)}
	want := analysis.Warning{Code: trial.SpreadsDiffer, Number: analysis.Face}
	if r := of(t, sets, trial.Config{EqualSpread: true}); !slices.Contains(r.Warnings, want) {
		t.Errorf("equal spread taken for granted: warnings %v, want %v", r.Warnings, want)
	}
	if r := of(t, sets, trial.Config{}); slices.Contains(r.Warnings, want) {
		t.Error("each spread its own: a warning that they differ")
	}
}

func TestNoCarry(t *testing.T) {
	lateral := func(label string, metres ...float64) analysis.Set {
		s := faces(label, metres...)
		for i, m := range metres {
			s.Shots[i] = s.Shots[i].With(analysis.Lateral, m)
		}
		return s
	}
	r := of(t, []analysis.Set{lateral("normal", 1, 2, 3), lateral("tried", 1, 2, 4)}, trial.Config{})
	if !slices.Contains(codes(r), trial.NoCarry) {
		t.Errorf("warnings %v, want no carry", r.Warnings)
	}
	if z := row(t, r, 1, analysis.Lateral).Zero; z != 3*analysis.Yard {
		t.Errorf("practical zero %v, want 3 yd", z)
	}
}

// The fraction's own figures: who moved how much, which way, and the reverse.
func TestCompensation(t *testing.T) {
	set := func(label string, face, path float64) analysis.Set {
		s := faces(label, scattered(12, face, 0.5)...)
		for i, p := range scattered(12, path, 0.5) {
			s.Shots[i] = s.Shots[i].With(analysis.Path, p*analysis.Degree)
		}
		return s
	}
	c := trial.Config{FaceWorth: 200, PathWorth: -80} // m a rad
	r := of(t, []analysis.Set{set("normal", 0, 0), set("strong grip", -3, -6), set("ball back", 0, 3)}, c)
	got := r.Compensations[0]
	if !got.OK || !got.Opposed || got.Lead != analysis.Face {
		t.Fatalf("strong grip: %+v; want told, opposed, the face leading", got)
	}
	near := func(what string, got, want float64) {
		t.Helper()
		if d := got - want; d > 1e-9 || d < -1e-9 {
			t.Errorf("%s = %v, want %v", what, got, want)
		}
	}
	near("face", got.FaceM, -3*analysis.Degree*200)
	near("path", got.PathM, 6*analysis.Degree*80)
	near("cancelled", got.Cancelled, 6.0*80/(3*200))
	near("reverse", got.Reverse.Value, 3.0*200/(6*80))
	if !(got.Low < 0.8 && 0.8 < got.High && got.Low > 0.6 && got.High < 1) {
		t.Errorf("limits %v to %v, want a little to either side of 0.8", got.Low, got.High)
	}
	if back := r.Compensations[1]; back.OK || back.Lead != analysis.Path || !back.Reverse.OK {
		t.Errorf("ball back: %+v; want no fraction of a face that did not move, and the reverse told", back)
	}
	if none := of(t, []analysis.Set{set("normal", 0, 0), set("tried", -3, -6)}, trial.Config{}); none.Compensations != nil {
		t.Error("a compensation without knowing what a degree is worth")
	}
}

// twelve is a set of twelve balls about a mean face and path, numbered from first.
func twelve(label string, first int, face, path float64) analysis.Set {
	s := faces(label, scattered(12, face, 0.5)...)
	for i, p := range scattered(12, path, 0.5) {
		s.Shots[i] = s.Shots[i].With(analysis.Path, p*analysis.Degree)
		s.Shots[i].N = first + i
	}
	return s
}

// Where balls were split their own metres count: beyond the angles where a degree of
// path is worth half, half is cancelled; a ball without a split is left out.
func TestCompensationByTheSplit(t *testing.T) {
	sets := []analysis.Set{twelve("normal", 1, 0, 0), twelve("strong grip", 101, -3, -6)}
	c := trial.Config{FaceWorth: 200, PathWorth: -80, Split: map[int]trial.Metres{}}
	for k, s := range sets {
		for _, shot := range s.Shots[1:] {
			face, _ := shot.Value(analysis.Face)
			path, _ := shot.Value(analysis.Path)
			worth := -80.0
			if k == 1 {
				worth = -40
			}
			c.Split[shot.N] = trial.Metres{Face: 200 * face, Path: worth * path}
		}
	}
	used := func(s analysis.Set) analysis.Set {
		return analysis.Set{Club: s.Club, Label: s.Label, Shots: s.Shots[1:]}
	}
	got := of(t, sets, c).Compensations[0]
	plain := of(t, []analysis.Set{used(sets[0]), used(sets[1])}, trial.Config{FaceWorth: 200, PathWorth: -80}).Compensations[0]
	if d := got.Cancelled - plain.Cancelled/2; d > 0.02 || d < -0.02 {
		t.Errorf("cancelled %.3f, want about half of %.3f", got.Cancelled, plain.Cancelled)
	}
}

// A path that may be worth nothing or something to either side, as a wedge's, has
// limits as wide as what that would cancel.
func TestCompensationOfAPathWorthNothing(t *testing.T) {
	sets := []analysis.Set{twelve("normal", 1, 0, 0), twelve("strong grip", 101, -3, -6)}
	const doubt = 0.05
	c := of(t, sets, trial.Config{FaceWorth: 200, PathWorth: 0.2, WorthDoubt: doubt}).Compensations[0]
	if most := 2 * doubt; !(c.OK && c.Low < -1.8*most && c.High > 1.8*most && c.High < 3*most) {
		t.Errorf("limits %.2f to %.2f, want two deviations of %.2f to either side", c.Low, c.High, most)
	}
}
