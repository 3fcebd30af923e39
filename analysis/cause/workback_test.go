package cause

import (
	"math"
	"testing"

	"rangepost/analysis"
	"rangepost/analysis/ball"
)

// The change asked of either number alone, flown by the model, brings the
// centre back; the smallest change of both does too, and no other change that
// does is smaller in the golfer's own spread.
func TestWorkBackFindsTheTarget(t *testing.T) {
	for seed, tc := range []struct {
		club       analysis.Club
		face, path float64
	}{{driver, 3, 1}, {driver, -1, -5}, {iron, -4, 0}, {iron, 2, -5}, {wedge, 4, 0}} {
		p := golfer(tc.club, tc.face, tc.path)
		r := judged(p.Set(40, "", seeded(uint64(seed))), Config{})
		w := r.WorkBack
		if !w.OK {
			t.Fatalf("%v: nothing to work back from %s", tc, r.Verdict)
		}
		m := ball.Of(tc.club, analysis.RightHanded, analysis.Conditions{})
		d := p.Delivery
		d.Face, d.Path = r.Delivery[analysis.Face].Mean, r.Delivery[analysis.Path].Mean
		at := func(face, path float64) float64 {
			d := d
			d.Face += face
			d.Path += path
			return m.Land(d, ball.Departure{}).Lateral
		}
		moved := func(face, path float64) float64 { return at(face, path) - at(0, 0) }
		// A slope stands for a curve: a tenth of the miss may be left.
		tol := 0.1*math.Abs(r.Miss.Mean) + 0.3
		within(t, "face alone", moved(w.FaceAlone.Mean, 0), -r.Miss.Mean, tol)
		within(t, "both", moved(w.FaceBy, w.PathBy), -r.Miss.Mean, tol)
		if math.Abs(w.PathAlone.Mean) < 12*degree { // beyond, no straight line holds
			within(t, "path alone", moved(0, w.PathAlone.Mean), -r.Miss.Mean, 2*tol)
		}
		if !(w.FaceAlone.Low < w.FaceAlone.Mean && w.FaceAlone.Mean < w.FaceAlone.High) {
			t.Errorf("limits of face alone: %+v", w.FaceAlone)
		}

		ff, fp, pp := ownSpread(r.Balls)
		size := func(face, path float64) float64 {
			return (pp*face*face - 2*fp*face*path + ff*path*path) / (ff*pp - fp*fp)
		}
		smallest := size(w.FaceBy, w.PathBy)
		for k := -20; k <= 20; k++ {
			// Along the line of changes that put the centre on target.
			path := w.PathBy + float64(k)*0.2*degree
			face := (-r.Miss.Mean - r.PathWorth*path) / r.FaceWorth
			if size(face, path) < smallest-1e-9 {
				t.Errorf("face %.2f with path %.2f is smaller", face/degree, path/degree)
			}
		}
	}
}

// A ball on either edge of the corridor lands on the edge of the target.
func TestCorridorEdges(t *testing.T) {
	for _, c := range []analysis.Club{driver, iron, wedge} {
		p := golfer(c, 1, 2)
		p.Device.Ball, p.Device.Strike = false, false // nothing departs from the model but the landing
		r := judged(p.Set(25, "", seeded(9)), Config{HalfWidth: 12})
		if !r.Corridor.OK {
			t.Fatalf("%s: no corridor", c)
		}
		m := ball.Of(c, analysis.RightHanded, analysis.Conditions{})
		mean := analysis.Delivery{
			ClubSpeed: r.Delivery[analysis.ClubSpeed].Mean, Attack: r.Delivery[analysis.Attack].Mean,
			DynamicLoft: r.Delivery[analysis.DynamicLoft].Mean,
		}
		last := math.Inf(-1)
		for _, e := range r.Corridor.Edges {
			if e.Path <= last || e.FaceLow >= e.FaceHigh {
				t.Errorf("%s: edge %+v", c, e)
			}
			last = e.Path
			low, high := mean, mean
			low.Face, low.Path, high.Face, high.Path = e.FaceLow, e.Path, e.FaceHigh, e.Path
			width := m.Land(high, ball.Departure{}).Lateral - m.Land(low, ball.Departure{}).Lateral
			within(t, c.Key()+" width", width, 24, 0.05)
		}
		// Square path and face find the target unless the rest forbids it.
		first, final := r.Corridor.Edges[0], r.Corridor.Edges[len(r.Corridor.Edges)-1]
		if first.Path > 0 || final.Path < 0 {
			t.Errorf("%s: the corridor misses the square path: %v to %v", c, first.Path/degree, final.Path/degree)
		}
	}
}

// Tools by hand: a grip is said from the golfer's side, an aim from the
// target's.
func TestTools(t *testing.T) {
	for _, tc := range []struct {
		name       string
		hand       analysis.Hand
		face, path float64 // needed, deg, right of target
		want       analysis.Tool
	}{
		{"close a right-hander's face", analysis.RightHanded, -3, 0, analysis.StrongerGrip},
		{"open a right-hander's face", analysis.RightHanded, 3, 0, analysis.WeakerGrip},
		{"close a left-hander's face", analysis.LeftHanded, 3, 0, analysis.StrongerGrip},
		{"open a left-hander's face", analysis.LeftHanded, -3, 0, analysis.WeakerGrip},
		{"both left", analysis.RightHanded, -4, -4, analysis.AimLeft},
		{"both left, left-handed", analysis.LeftHanded, -4, -4, analysis.AimLeft},
		{"both right", analysis.RightHanded, 4, 4, analysis.AimRight},
		{"path right", analysis.RightHanded, 0, 5, analysis.BallBack},
		{"path left", analysis.RightHanded, 0, -5, analysis.BallForward},
		{"path left, left-handed", analysis.LeftHanded, 0, -5, analysis.BallBack},
	} {
		got := nearest(change{tc.face * degree, tc.path * degree}, 1, 0, 1, Config{Hand: tc.hand})
		if got != tc.want {
			t.Errorf("%s: %q, want %q", tc.name, got, tc.want)
		}
	}
	// This student's own trials say that the ball position moves the face.
	learned := Config{Responses: map[analysis.Tool]Response{analysis.BallBack: {Face: -3 * degree}, analysis.StrongerGrip: {Face: 0.1 * degree, Path: 2 * degree}}}
	if got := nearest(change{-3 * degree, 0}, 1, 0, 1, learned); got != analysis.BallBack {
		t.Errorf("learned: %q, want %q", got, analysis.BallBack)
	}
	if got := nearest(change{}, 1, 0, 1, Config{}); got != "" {
		t.Errorf("nothing to change: %q", got)
	}
}

// A strike is put right by striking elsewhere; setup tools are not offered.
func TestNoToolForAStrike(t *testing.T) {
	p := golfer(driver, 0, 0)
	p.Delivery.StrikeToe = 16 * analysis.Millimetre
	p.World.Ball.Head.GearScale = 1
	r := judged(p.Set(30, "", seeded(1)), Config{})
	if r.Verdict != Strike || r.WorkBack.Tool != "" || r.WorkBack.Number != analysis.StrikeToe {
		t.Errorf("%s: tool %q, number %s", r.Verdict, r.WorkBack.Tool, r.WorkBack.Number)
	}
}
