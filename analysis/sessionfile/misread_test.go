package sessionfile

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"rangepost/analysis"
)

// TestMisreads breaks one number of one shot of a clean session and wants that
// number left out, with a note that names the ball, and nothing else of any
// ball.
func TestMisreads(t *testing.T) {
	scale := func(n analysis.Number, by float64) func(analysis.Shot) analysis.Shot {
		return func(s analysis.Shot) analysis.Shot {
			v, _ := s.Value(n)
			return s.With(n, v*by)
		}
	}
	shift := func(n analysis.Number, by float64) func(analysis.Shot) analysis.Shot {
		return func(s analysis.Shot) analysis.Shot {
			v, _ := s.Value(n)
			return s.With(n, v+by)
		}
	}
	none := analysis.Number(analysis.NumNumbers)
	for _, c := range []struct {
		name  string
		spoil func(analysis.Shot) analysis.Shot
		gone  analysis.Number
		note  string
	}{
		{"ball speed of 1.6 club speeds", scale(analysis.BallSpeed, 1.15), analysis.BallSpeed, "go with"},
		{"a spin of 30,000 rpm", scale(analysis.Spin, 12), analysis.Spin, "so much spin rate"},
		{"half the spin", scale(analysis.Spin, 0.5), analysis.Spin, "go with"},
		{"a comma lost in the spin", scale(analysis.Spin, 0.1), analysis.Spin, "go with"},
		{"a carry of 2 km", scale(analysis.Carry, 10), analysis.Carry, "so much carry"},
		{"a negative carry", scale(analysis.Carry, -1), analysis.Carry, "so little carry"},
		{"a face square to the wall", shift(analysis.Face, 80*degree), analysis.Face, "face angle"},
		{"a carry 40 % short", scale(analysis.Carry, 0.6), analysis.Carry, "go with"},
		{"ten degrees more loft", shift(analysis.DynamicLoft, 10*degree), analysis.DynamicLoft, "launch"},
		{"a path 30 degrees out", shift(analysis.Path, 30*degree), analysis.Path, "go with"},
		{"a start line 12 degrees outside", shift(analysis.Direction, -12*degree), analysis.Direction, "face"},
		{"a landing on the next fairway", shift(analysis.Lateral, 70), analysis.Lateral, "go with"},
		{"nothing", func(s analysis.Shot) analysis.Shot { return s }, none, ""},
	} {
		const broken = 7
		rng, s := shapeOf(t, "csv")
		clean := knownShots(rng, 20, 1)
		shots := slices.Clone(clean)
		shots[broken] = c.spoil(shots[broken])
		_, data := s.bytes(rng, shots)
		r := reading(t, string(data), Options{})
		has := func(n analysis.Number) bool { return s.has(field(n)) }
		if len(r.Questions) > 0 {
			t.Errorf("%s: asked %v", c.name, r.Questions)
		}
		note := ""
		for _, d := range r.Decisions {
			if strings.HasPrefix(d, "ball ") {
				note += d
			}
		}
		if c.gone != none && (!strings.HasPrefix(note, fmt.Sprintf("ball %d: %s left out", broken+1, c.gone)) || !strings.Contains(note, c.note)) {
			t.Errorf("%s: the note is %q, want %q of ball %d and %q", c.name, note, c.gone, broken+1, c.note)
		}
		for i, got := range r.Session.Shots {
			if got.Aside != analysis.Used {
				t.Errorf("%s: shot %d is set aside: %s", c.name, i+1, got.Why)
			}
			for _, n := range analysis.Numbers() {
				// What follows from the number goes with it, unless others say it.
				if n == analysis.LateralTotal || n == analysis.Total || !has(n) || i == broken && n == c.gone {
					continue
				}
				if !got.Has(n) {
					t.Errorf("%s: %s of shot %d is gone", c.name, n, i+1)
				}
			}
			if i == broken && c.gone != none && got.Has(c.gone) {
				t.Errorf("%s: it is still there", c.name)
			}
		}
	}
}

// TestEmptyCells takes one number of one ball away, of a club that is delivered
// with far less loft than it has: nothing else of it may look wrong for that.
func TestEmptyCells(t *testing.T) {
	wedge, _ := analysis.ParseClub("60")
	for _, gone := range []analysis.Number{analysis.DynamicLoft, analysis.Attack, analysis.ClubSpeed} {
		shots := knownShots(rand.New(rand.NewPCG(9, 9)), 40, 1)[20:] // the 7-iron's
		for i := range shots {
			shots[i].Club = wedge
		}
		shots[7] = shots[7].With(gone, math.NaN())
		r := reading(t, asFile(shots, true), Options{Answers: analysis.Answers{"doubt:spin_twice": doubtAsIs}})
		for _, d := range r.Decisions {
			if strings.Contains(d, "left out") {
				t.Errorf("without the %s of one ball: %s", gone, d)
			}
		}
	}
}

func TestDuplicates(t *testing.T) {
	rng, s := shapeOf(t, "csv")
	shots := knownShots(rng, 12, 1)
	shots = append(shots[:6], append([]analysis.Shot{shots[5]}, shots[6:]...)...)
	_, data := s.bytes(rng, shots)
	r := reading(t, string(data), Options{})
	for i, got := range r.Session.Shots {
		want := analysis.Used
		if i == 6 {
			want = analysis.Duplicate
		}
		if got.Aside != want {
			t.Errorf("shot %d is %q, want %q", i+1, got.Aside, want)
		}
	}
	// Two numbers may well come twice.
	r = reading(t, "Carry (m),Spin\n150,6500\n150,6500\n", Options{})
	if r.Session.Shots[1].Aside != analysis.Used {
		t.Errorf("150 m at 6500 rpm twice is %q", r.Session.Shots[1].Aside)
	}
}

// TestShortBalls keeps a whole session of balls that fly a quarter short, and
// says that they do.
func TestShortBalls(t *testing.T) {
	rng := rand.New(rand.NewPCG(3, 3))
	_, s := shapeOf(t, "csv")
	shots := knownShots(rng, 20, 1)
	for i, shot := range shots {
		for _, n := range []analysis.Number{analysis.Carry, analysis.Lateral} {
			v, _ := shot.Value(n)
			shots[i] = shots[i].With(n, 0.75*v)
		}
	}
	_, data := s.bytes(rng, shots)
	r := reading(t, string(data), Options{})
	for _, got := range r.Session.Shots {
		if got.Aside != analysis.Used {
			t.Errorf("shot %d is %q: %s", got.N, got.Aside, got.Why)
		}
	}
	if said := strings.Join(r.Decisions, "; "); !strings.Contains(said, "under what ball speed, launch and spin give") {
		t.Errorf("decisions %q do not say that carries are short", said)
	}
}
