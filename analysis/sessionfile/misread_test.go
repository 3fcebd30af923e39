package sessionfile

import (
	"math/rand/v2"
	"strings"
	"testing"

	"rangepost/analysis"
)

// TestMisreads breaks one shot of a clean session and wants that one set
// aside, with its reason, and no other.
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
	for _, c := range []struct {
		name  string
		spoil func(analysis.Shot) analysis.Shot
		aside analysis.Aside
		why   string
	}{
		{"ball speed of 1.6 club speeds", scale(analysis.BallSpeed, 1.15), analysis.Impossible, "1.56 is the most"},
		{"a spin of 30,000 rpm", scale(analysis.Spin, 12), analysis.Impossible, "so much spin rate"},
		{"a carry of 2 km", scale(analysis.Carry, 10), analysis.Impossible, "so much carry"},
		{"a negative carry", scale(analysis.Carry, -1), analysis.Impossible, "so little carry"},
		{"a face square to the wall", shift(analysis.Face, 80*degree), analysis.Impossible, "face angle"},
		{"a carry 40 % short", scale(analysis.Carry, 0.6), analysis.Inconsistent, "carry is"},
		{"a start line 12 degrees outside", shift(analysis.Direction, -12*degree), analysis.Inconsistent, "did not start between face and path"},
		{"a landing on the next fairway", shift(analysis.Lateral, 70), analysis.Inconsistent, "come down where"},
		{"nothing", func(s analysis.Shot) analysis.Shot { return s }, analysis.Used, ""},
	} {
		const broken = 7
		rng, s := shapeOf(t, "csv")
		shots := knownShots(rng, 20, 1)
		shots[broken] = c.spoil(shots[broken])
		_, data := s.bytes(rng, shots)
		r := reading(t, string(data), Options{})
		if len(r.Questions) > 0 {
			t.Errorf("%s: asked %v", c.name, r.Questions)
		}
		for i, got := range r.Session.Shots {
			want := analysis.Used
			if i == broken {
				want = c.aside
			}
			if got.Aside != want || i == broken && !strings.Contains(got.Why, c.why) {
				t.Errorf("%s: shot %d is %q because %q, want %q and %q", c.name, i+1, got.Aside, got.Why, want, c.why)
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
