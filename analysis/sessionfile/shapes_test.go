package sessionfile_test

import (
	"flag"
	"fmt"
	"maps"
	"slices"
	"strings"
	"testing"

	"rangepost/analysis"
	"rangepost/analysis/sessionfile"
	"rangepost/analysis/shapes"
)

var (
	shapeCount = flag.Int("shapes", 900, "how many session files of another hand are read")
	shapeSeed  = flag.Uint64("shape-seed", 16, "which")
	shapeTier  = flag.String("shape-faults", "", "log every shape of this tier that is not read whole")
)

// reading is what became of a shape, as its scorer wants it.
func reading(s shapes.Shape) (shapes.Got, sessionfile.Reading, error) {
	r, err := sessionfile.Read(s.Name, s.Data, sessionfile.Options{Hand: s.Truth.Hand, HandSet: true})
	got := shapes.Got{Refused: err != nil, Asked: len(r.Questions)}
	for _, shot := range r.Session.Shots {
		g := shapes.GotShot{Club: shot.Club, Values: map[analysis.Number]float64{}}
		for _, n := range analysis.Numbers() {
			if v, ok := shot.Value(n); ok && (len(r.Questions) == 0 || !derived(shot, n)) {
				g.Values[n] = v
			}
		}
		got.Shots = append(got.Shots, g)
	}
	return got, r, err
}

// derived reports whether a number follows from others by definition: one whose
// column is asked about is then known all the same, but for its rounding.
func derived(s analysis.Shot, n analysis.Number) bool {
	v := func(n analysis.Number) float64 {
		v, _ := s.Value(n)
		return v
	}
	switch n {
	case analysis.Smash:
		return v(n) == v(analysis.BallSpeed)/v(analysis.ClubSpeed)
	case analysis.BallSpeed:
		return v(n) == v(analysis.Smash)*v(analysis.ClubSpeed)
	case analysis.ClubSpeed:
		return v(n) == v(analysis.BallSpeed)/v(analysis.Smash)
	case analysis.SpinLoft:
		from := analysis.Shot{}
		for _, n := range []analysis.Number{analysis.DynamicLoft, analysis.Attack, analysis.Face, analysis.Path, analysis.FaceToPath} {
			if v, ok := s.Value(n); ok {
				from = from.With(n, v)
			}
		}
		follows, ok := from.Derived().Value(n)
		return ok && v(n) == follows
	case analysis.FaceToPath:
		return v(n) == v(analysis.Face)-v(analysis.Path)
	case analysis.Face:
		return v(n) == v(analysis.FaceToPath)+v(analysis.Path)
	case analysis.Path:
		return v(n) == v(analysis.Face)-v(analysis.FaceToPath)
	}
	return false
}

// TestShapes reads session files, pastes and typed balls that were made without
// knowing this reader, and holds each reading against their truth.
func TestShapes(t *testing.T) {
	type tally struct {
		kinds                                 [shapes.NumKinds]int
		n, questions, needless, avoided, well int
	}
	by := map[string]*tally{}
	count := func(key string, r shapes.Result) {
		c := by[key]
		if c == nil {
			c = &tally{}
			by[key] = c
		}
		c.n++
		c.kinds[r.Kind]++
		c.questions += r.Asked
		c.needless += r.Needlessly
		if r.Kind == shapes.Whole || r.Kind == shapes.Asked && r.Needlessly == 0 {
			c.well++
		}
		if r.Kind == shapes.Wrong && r.Avoidable() {
			c.avoided++
		}
	}
	all := slices.Concat(shapes.Shapes(*shapeSeed, *shapeCount), shapes.Pastes(*shapeSeed, *shapeCount/3), shapes.Typed(*shapeSeed, *shapeCount/3))
	for _, s := range all {
		got, r, err := reading(s)
		score := shapes.Score(s.Truth, got)
		kind := "files"
		if s.Name == "" {
			kind = s.Format
		}
		tier := fmt.Sprint(s.Truth.Tier)
		count(kind+" "+tier, score)
		if kind == "files" {
			count("files: "+s.Truth.Language, score)
		}
		if score.Kind != shapes.Whole && (*shapeTier == tier || *shapeTier == "wrong" && score.Kind == shapes.Wrong && score.Avoidable()) {
			t.Logf("%s %s %d: %v %v %v %v\n%.600s\n%v", s.Format, tier, s.I, score.Kind, err, score.LeftOut, score.Faults, s.Data, r.Questions)
		}
	}
	for _, key := range slices.Sorted(maps.Keys(by)) {
		c := by[key]
		// Bounds a little over what was measured of 3,600 shapes under four seeds,
		// in hundredths of the shapes: read wrongly in silence though the file says
		// better, and refused. One of a few is none.
		if most, ok := map[string][2]int{
			"files ordinary": {1, 1}, "files unseen": {2, 1}, "files wordless": {2, 1},
			"paste ordinary": {2, 2}, "paste unseen": {2, 2}, "paste wordless": {2, 2},
			"typed ordinary": {2, 2}, "typed unseen": {2, 2}, "typed wordless": {2, 2},
		}[key]; ok && (c.avoided > max(1, most[0]*c.n/100) || c.kinds[shapes.Refused] > max(1, most[1]*c.n/100)) {
			t.Errorf("%s: of %d shapes %d read wrongly in silence, %d refused; want at most %d and %d %%", key, c.n, c.avoided, c.kinds[shapes.Refused], most[0], most[1])
		}
		if least, ok := map[string]int{"files ordinary": 68, "files unseen": 42, "paste ordinary": 42, "paste unseen": 34, "typed ordinary": 26, "typed unseen": 21}[key]; ok && 100*c.kinds[shapes.Whole] < least*c.n {
			t.Errorf("%s: of %d shapes %d read whole, want at least %d %%", key, c.n, c.kinds[shapes.Whole], least)
		}
		var b strings.Builder
		for k, n := range c.kinds {
			fmt.Fprintf(&b, ", %v %.1f %%", shapes.Kind(k), 100*float64(n)/float64(c.n))
		}
		t.Logf("%-20s %4d%s; wrong where the file says it %d; whole, or asked what the file leaves open %.1f %%; questions a file %.2f, needless %.2f",
			key, c.n, b.String(), c.avoided, 100*float64(c.well)/float64(c.n), float64(c.questions)/float64(c.n), float64(c.needless)/float64(c.n))
	}
}
