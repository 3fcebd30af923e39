package shotmaker

import (
	"math"
	"testing"

	"rangepost/analysis"
	"rangepost/analysis/panel"
)

// landed is a ball that starts at start deg and lands so far along and right of the
// target line.
func landed(start, along, right, apex float64) panel.Ball {
	return panel.Ball{
		Launch: analysis.Launch{Direction: start * deg},
		Flight: panel.Flight{Carry: math.Hypot(along, right), Lateral: right, Apex: apex},
	}
}

// Worked by hand: a line 30 deg right passes (100, 57.735); a ball that lands on
// the target line 100 m out is 100 sin 30 = 50 m left of it.
func TestDoneByHand(t *testing.T) {
	open := Want{Open(), Open(), Open(), Open()}
	start, curve, apex, carry := open, open, open, open
	start.Start = Band{29.9 * deg, 30.1 * deg}
	curve.Curve = Band{-50.1, -49.9}
	apex.Apex = Band{20, 25}
	carry.Carry = Band{99.9, math.Inf(1)}
	ball := landed(30, 100, 0, 22)
	for name, want := range map[string]Want{
		"anything": open, "start": start, "curve": curve, "apex": apex, "carry": carry,
		"ends": {Start: Band{ball.Launch.Direction, ball.Launch.Direction}, Curve: Open(), Apex: Band{22, 22}, Carry: Band{100, 100}},
	} {
		if !want.Done(ball) {
			t.Errorf("%s is not done by %+v", name, flew(ball))
		}
		mirrored := want.Mirrored()
		if !mirrored.Done(ball.Mirrored()) {
			t.Errorf("%s is not done by the twin", name)
		}
	}
	for name, miss := range map[string]struct {
		want Want
		ball panel.Ball
	}{
		"other side":    {start, ball.Mirrored()},
		"starts less":   {start, landed(29, 100, 0, 22)},
		"curves less":   {curve, landed(30, 100, 2, 22)},
		"curves more":   {curve, landed(30, 100, -2, 22)},
		"stays on line": {curve, landed(30, 100, 57.735, 22)},
		"too low":       {apex, landed(30, 100, 0, 19)},
		"too high":      {apex, landed(30, 100, 0, 26)},
		"too short":     {carry, landed(30, 99, 0, 22)},
	} {
		if miss.want.Done(miss.ball) {
			t.Errorf("%s: done by %+v", name, flew(miss.ball))
		}
	}
	if c := landed(30, 100, 57.73502691896257, 22).Curve(); math.Abs(c) > 1e-9 {
		t.Errorf("a ball on its start line curves %v m", c)
	}
}

func TestMeanOfOutcomes(t *testing.T) {
	m := Mean([]panel.Ball{landed(2, 90, 0, 20), landed(4, 110, 0, 30)})
	if math.Abs(m.Start-3*deg) > 1e-12 || m.Apex != 25 || m.Carry != 100 || m.Lateral != 0 {
		t.Errorf("mean is %+v", m)
	}
}
