package cause

import (
	"math"
	"testing"

	"rangepost/analysis"
	"rangepost/analysis/ball"
	"rangepost/analysis/flight"
)

// A head whose face has more of the start line than published ones is told by where
// the balls start: what the path is worth is nearer by two thirds than without a
// column of start lines.
func TestStartLineTellsTheShare(t *testing.T) {
	p := golfer(iron, 0, 6)
	p.World.Ball = p.World.Ball.Off(ball.Doubt{ball.FaceShare: 1.5})
	want := p.World.Ball.Worth(p.Delivery, ball.Departure{}).Path
	off := func(ball bool) float64 {
		p.Device.Ball = ball
		return math.Abs(judged(p.Set(40, "", seeded(3)), Config{}).PathWorth/want - 1)
	}
	with, without := off(true), off(false)
	if without < 0.1 {
		t.Fatalf("without start lines the path's worth is off by %.3f only: the test shows nothing", without)
	}
	if with > without/3 {
		t.Errorf("off by %.3f with start lines, %.3f without", with, without)
	}
}

// Balls that fly by another published set of lift and drag say by their time in the
// air what a degree of their axis is worth, which carry and apex leave open.
func TestTimeTellsWhatAnAxisIsWorth(t *testing.T) {
	wood, hybrid := analysis.Club{Family: analysis.Wood, Number: 3}, analysis.Club{Family: analysis.Hybrid, Number: 4}
	wedge := analysis.Club{Family: analysis.Wedge, Wedge: "pw"}
	for _, tc := range []struct {
		club    analysis.Club
		flies   flight.Coefficients
		without float64 // off by so much at least by carry and apex alone
	}{
		{driver, flight.SmitsSmith{}, 0.08}, {wood, flight.HighSpin{}, 0.02}, {hybrid, flight.HighSpin{}, 0.03},
		{iron, flight.HighSpin{}, 0.015}, {iron, flight.SmitsSmith{}, 0.05}, {wedge, flight.HighSpin{}, 0.03},
	} {
		m := ModelOf(tc.club, Config{})
		d := m.Head.Usual.Delivery()
		launch := m.Head.Strike(d)
		bend := func(m ball.Model) float64 {
			more := launch
			more.Axis += analysis.Degree
			return m.Flight.Fly(more).Lateral
		}
		other := m
		other.Flight.Coefficients = tc.flies
		flown := other.Flight.Fly(launch)
		seen := seenFlight{carry: flown.Carry, apex: flown.Apex}
		off := func() float64 {
			all := launchSeen{speed: true, angle: true, direction: true, spin: true, axis: true}
			c := calibrate(m, d, ball.Departure{}, all, seen)
			return math.Abs(math.Log(bend(m.Off(c.off)) / bend(other)))
		}
		without := off()
		seen.time = flown.Time
		with := off()
		name := tc.club.Key()
		t.Logf("%s in %T: off by %.3f by carry and apex, by %.3f with the time", name, tc.flies, without, with)
		if without < tc.without {
			t.Errorf("%s in %T: off by %.3f without the time: the test shows nothing", name, tc.flies, without)
		}
		if with > 0.05 || with > 0.7*without {
			t.Errorf("%s in %T: off by %.3f with the time, %.3f without", name, tc.flies, with, without)
		}
	}
}
