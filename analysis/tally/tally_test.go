package tally_test

import (
	"math"
	"math/rand/v2"
	"testing"

	"rangepost/analysis"
	"rangepost/analysis/ball"
	"rangepost/analysis/tally"
)

// The trade's ball-flight laws over the nine flights (common practice, no
// source): the start is mostly the face's, the curve goes away from the path.
// The last columns are the sides of face and path; "?" is what only measuring
// tells.
func TestNineFlights(t *testing.T) {
	side := map[tally.Side]string{tally.Left: "left", tally.Straight: "straight", tally.Right: "right"}
	for i, want := range []struct{ start, curve, face, faceToPath, path string }{
		{"left", "left", "left", "left", "?"},
		{"left", "straight", "left", "straight", "left"},
		{"left", "right", "?", "right", "left"},
		{"straight", "left", "straight", "left", "right"},
		{"straight", "straight", "straight", "straight", "straight"},
		{"straight", "right", "straight", "right", "left"},
		{"right", "left", "?", "left", "right"},
		{"right", "straight", "right", "straight", "right"},
		{"right", "right", "right", "right", "?"},
	} {
		f := tally.Flights()[i]
		shown := func(s tally.Side, known bool) string {
			if !known {
				return "?"
			}
			return side[s]
		}
		got := struct{ start, curve, face, faceToPath, path string }{side[f.Start], side[f.Curve], shown(f.Face()), side[f.Curve], shown(f.Path())}
		if got != want {
			t.Errorf("flight %d is %+v, want %+v", i, got, want)
		}
	}
}

// The laws against the model of impact and flight: whatever face and path do,
// the ball curves to the side of face-to-path, and face and path are where the
// tally says they are. By eye a degree of start and two yards of curve are
// straight. Where a ball curves back the face must have been on either side, or
// leaving it open would be idle.
func TestLawsAgreeWithTheModel(t *testing.T) {
	const degree = analysis.Degree
	for _, key := range []string{"driver", "7i"} {
		club, err := analysis.ParseClub(key)
		if err != nil {
			t.Fatal(err)
		}
		for _, hand := range []analysis.Hand{analysis.RightHanded, analysis.LeftHanded} {
			m := ball.Of(club, hand, analysis.Conditions{})
			seen := map[tally.Flight]int{}
			inside, beyond := 0, 0 // of balls that curve back: the face on the start's side, and across the target
			for face := -6.0; face <= 6; face += 0.5 {
				for path := -6.0; path <= 6; path += 0.5 {
					d := m.Head.Usual.Delivery()
					d.Face, d.Path = face*degree, path*degree
					l := m.Launch(d, ball.Departure{})
					landed := m.Flight.Fly(l)
					curve := landed.Lateral - landed.Carry*math.Tan(l.Direction)
					f := tally.Flight{Start: sideOf(l.Direction/degree, 1), Curve: sideOf(curve/analysis.Yard, 2)}
					seen[f]++
					if side, known := f.Face(); known && side != tally.Straight && face*float64(side) < -1 {
						t.Errorf("%s %v: face %v, path %v is read as a face to %v", key, hand, face, path, side)
					} else if !known && face*float64(f.Start) > 0 {
						inside++
					} else if !known && face != 0 {
						beyond++
					}
					if f.Curve != tally.Straight && (face-path)*float64(f.Curve) < 0 {
						t.Errorf("%s %v: face %v, path %v curves %v", key, hand, face, path, f.Curve)
					}
					if side, known := f.Path(); known && side != tally.Straight && path*float64(side) < -1.5 {
						t.Errorf("%s %v: face %v, path %v is read as a path to %v", key, hand, face, path, side)
					}
				}
			}
			if inside == 0 || beyond == 0 {
				t.Errorf("%s %v: of balls that curve back %d have the face where they start and %d across the target", key, hand, inside, beyond)
			}
			if len(seen) != 9 {
				t.Errorf("%s %v: %d of the nine flights seen", key, hand, len(seen))
			}
		}
	}
}

// Eyes and device differ when most balls of each are on another side, by more
// than luck; a device that says straight, or nothing, contradicts nobody.
func TestAgainstWhatIsMeasured(t *testing.T) {
	balls := func(degrees float64, n int) []float64 {
		all := make([]float64, n)
		for i := range all {
			all[i] = degrees * analysis.Degree
		}
		return all
	}
	left := tally.Of([]int{0, 15, 0, 0, 3, 0, 0, 2, 0})
	for name, c := range map[string]struct {
		counted  tally.Result
		measured []float64
		want     bool
	}{
		"right":           {left, balls(3, 20), true},
		"left":            {left, balls(-3, 20), false},
		"on line":         {left, balls(0.5, 20), false},
		"nothing":         {left, nil, false},
		"two balls":       {left, balls(3, 2), false},
		"on both sides":   {left, append(balls(3, 11), balls(-3, 9)...), false},
		"nine counted":    {tally.Of([]int{0, 7, 0, 0, 2, 0, 0, 0, 0}), append(balls(3, 18), balls(0, 4)...), true},
		"four counted":    {tally.Of([]int{0, 4, 0, 0, 0, 0, 0, 0, 0}), balls(3, 20), false},
		"few counted":     {tally.Of([]int{0, 2, 0, 0, 0, 0, 0, 0, 0}), balls(3, 20), false},
		"counted on line": {tally.Of([]int{0, 0, 0, 0, 20, 0, 0, 0, 0}), balls(3, 20), false},
	} {
		if got := c.counted.Against(c.measured); got != c.want {
			t.Errorf("measured %s: %v, want %v", name, got, c.want)
		}
	}
}

func sideOf(v, straight float64) tally.Side {
	switch {
	case v < -straight:
		return tally.Left
	case v > straight:
		return tally.Right
	}
	return tally.Straight
}

func TestSharesAndWhatToMeasure(t *testing.T) {
	for name, c := range map[string]struct {
		counts     []int
		first      tally.Measure
		mostly     tally.Side
		ok         bool
		open, most int
	}{
		"nothing yet":       {make([]int, 9), tally.Nothing, 0, false, 0, 0},
		"two balls":         {[]int{0, 0, 0, 0, 0, 0, 0, 0, 2}, tally.Path, 0, false, 2, 2},
		"straight pushes":   {[]int{0, 0, 0, 0, 1, 0, 0, 12, 0}, tally.Face, tally.Right, true, 0, 12},
		"curving from line": {[]int{0, 0, 0, 0, 1, 12, 0, 0, 0}, tally.Path, tally.Straight, true, 0, 12},
		"right and further": {[]int{0, 0, 0, 0, 1, 0, 0, 0, 12}, tally.Path, tally.Right, true, 12, 12},
		"all over":          {[]int{2, 2, 2, 2, 2, 2, 2, 2, 2}, tally.Nothing, 0, false, 4, 2},
		"straight":          {[]int{0, 0, 0, 0, 20, 0, 0, 0, 0}, tally.Nothing, tally.Straight, true, 0, 20},
	} {
		r := tally.Of(c.counts)
		side, ok := r.Start.Mostly()
		if r.First != c.first || side != c.mostly || ok != c.ok || r.Open != c.open || r.Usual.N != c.most {
			t.Errorf("%s: first %q, mostly %v %v, open %d, most %d; want %+v", name, r.First, side, ok, r.Open, r.Usual.N, c)
		}
		if sum := r.Path.Left.N + r.Path.Straight.N + r.Path.Right.N + r.Open; sum != r.Balls {
			t.Errorf("%s: %d balls in the path's thirds and open, want %d", name, sum, r.Balls)
		}
	}
}

// Counted and measured from one golfer, they are said to differ in few cases:
// the eye and the device of the same balls' flights share what the golfer does.
func TestAgainstIsNotLuck(t *testing.T) {
	rng := rand.New(rand.NewPCG(9, 9))
	const golfers = 4000
	against := 0
	for range golfers {
		level := 3 * rng.NormFloat64()
		start := func(n int) []float64 {
			day := level + 0.8*rng.NormFloat64()
			all := make([]float64, n)
			for i := range all {
				all[i] = (day + 2.5*rng.NormFloat64()) * analysis.Degree
			}
			return all
		}
		counts := make([]int, 9)
		for _, s := range start(5 + rng.IntN(20)) {
			counts[int(3*(sideOf(s, tally.OnLine)+1))+1]++
		}
		if tally.Of(counts).Against(start(10 + rng.IntN(30))) {
			against++
		}
	}
	if share := float64(against) / golfers; share > 0.01 {
		t.Errorf("%.4f of golfers are said to see the other side than is measured of the same balls, want at most 0.01", share)
	}
}
