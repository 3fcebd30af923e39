package cause

import (
	"math"
	"testing"

	"rangepost/analysis"
	"rangepost/analysis/ball"
)

// The change asked of either number alone, flown by the model, brings the
// centre back; what the verdict asks for does too, and moves every number toward
// the target.
func TestWorkBackFindsTheTarget(t *testing.T) {
	for seed, tc := range []struct {
		club       analysis.Club
		face, path float64
	}{{driver, 3, 1}, {driver, -1, -5}, {iron, -4, 0}, {iron, 2, -5}, {wedge, 4, 0}, {iron, 0, -11}, {driver, 0, 8}} {
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
		// The launch of the set departs a little from the model's, and so does a
		// model that its carry has moved.
		tol := 0.15*math.Abs(r.Miss.Mean) + 0.5
		t.Logf("%v: %s, face %.1f (%.1f to %.1f, %v), path %.1f (%.1f to %.1f, %v), asked face %.1f path %.1f, tool %q for %.2f", tc, r.Verdict,
			w.FaceAlone.Mean/degree, w.FaceAlone.Low/degree, w.FaceAlone.High/degree, w.FaceAlone.OK,
			w.PathAlone.Mean/degree, w.PathAlone.Low/degree, w.PathAlone.High/degree, w.PathAlone.OK, w.FaceBy/degree, w.PathBy/degree, w.Tool, w.ToolShare)
		within(t, "face alone", moved(w.FaceAlone.Mean, 0), -r.Miss.Mean, tol)
		if w.PathAlone.OK {
			within(t, "path alone", moved(0, w.PathAlone.Mean), -r.Miss.Mean, 2*tol)
		}
		if !(w.FaceAlone.Low < w.FaceAlone.Mean && w.FaceAlone.Mean < w.FaceAlone.High) {
			t.Errorf("limits of face alone: %+v", w.FaceAlone)
		}
		left := r.Miss.Mean + moved(w.FaceBy, w.PathBy)
		if math.Abs(left) > 0.5*math.Abs(r.Miss.Mean) {
			t.Errorf("%v: %.1f of %.1f m are left", tc, left, r.Miss.Mean)
		}
		if w.FaceBy*d.Face > 0 && math.Abs(d.Face) > 0.5*degree || w.PathBy*d.Path > 0 && math.Abs(d.Path) > 0.5*degree {
			t.Errorf("%v: face %.1f by %.1f, path %.1f by %.1f: away from the target", tc, d.Face/degree, w.FaceBy/degree, d.Path/degree, w.PathBy/degree)
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
			within(t, c.Key()+" width", width, 24, 1) // the balls' own carry moves the model a little
		}
		// Square path and face find the target unless the rest forbids it.
		first, final := r.Corridor.Edges[0], r.Corridor.Edges[len(r.Corridor.Edges)-1]
		if first.Path > 0 || final.Path < 0 {
			t.Errorf("%s: the corridor misses the square path: %v to %v", c, first.Path/degree, final.Path/degree)
		}
	}
}

// atHand is the evidence of an iron delivered with this face and path, deg.
func atHand(hand analysis.Hand, face, path float64, c Config) evidence {
	m := ball.Of(iron, hand, analysis.Conditions{})
	d := m.Head.Usual.Delivery()
	d.Face, d.Path = face*degree, path*degree
	c.Hand = hand
	return evidence{config: c, typical: d, standard: &m}
}

// Tools by hand: a grip is said from the golfer's side, an aim from the
// target's. Each tool moves what is off toward the target and nothing away from
// it.
func TestTools(t *testing.T) {
	right, left := analysis.RightHanded, analysis.LeftHanded
	for _, tc := range []struct {
		name       string
		hand       analysis.Hand
		verdict    Verdict
		face, path float64 // off, deg right of target
		want       analysis.Tool
		share      float64
	}{
		{"right-hander's face open", right, Face, 3, 0, analysis.StrongerGrip, 2. / 3},
		{"right-hander's face closed", right, Face, -3, 0, analysis.WeakerGrip, 2. / 3},
		{"left-hander's face open", left, Face, -3, 0, analysis.StrongerGrip, 2. / 3},
		{"left-hander's face closed", left, Face, 3, 0, analysis.WeakerGrip, 2. / 3},
		{"both right", right, Aim, 4, 4, analysis.AimLeft, 0.5},
		{"both right, left-handed", left, Aim, 4, 4, analysis.AimLeft, 0.5},
		{"both left", right, Aim, -4, -4, analysis.AimRight, 0.5},
		{"path left", right, Path, 0, -7.5, analysis.BallBack, 0.2},
		{"path right", right, Path, 0, 7.5, analysis.BallForward, 0.2},
		{"path right, left-handed", left, Path, 0, 7.5, analysis.BallBack, 0.2},
		{"path left, face a little right: aim would send the face off", right, Path, 0.2, -7.5, analysis.BallBack, 0.2},
	} {
		e := atHand(tc.hand, tc.face, tc.path, Config{})
		need := change{-tc.face * degree, -tc.path * degree}
		if tc.verdict == Face {
			need.path = 0
		} else if tc.verdict == Path {
			need.face = 0
		}
		off := change{tc.face * degree, tc.path * degree}
		got, share := e.tool(tc.verdict, off, need, e.lateral(e.standard, e.own, change{}))
		if got != tc.want || math.Abs(share-tc.share) > 0.01 {
			t.Errorf("%s: %q for %.2f, want %q for %.2f", tc.name, got, share, tc.want, tc.share)
		}
	}
	// This student's own trials say that the ball position moves the face.
	learned := Config{Responses: map[analysis.Tool]Response{analysis.BallBack: {Face: -3 * degree}, analysis.StrongerGrip: {Face: 0.1 * degree, Path: 2 * degree}}}
	e := atHand(right, 3, 0, learned)
	if got, _ := e.tool(Face, change{face: 3 * degree}, change{face: -3 * degree}, 10); got != analysis.BallBack {
		t.Errorf("learned: %q, want %q", got, analysis.BallBack)
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
