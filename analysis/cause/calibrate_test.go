package cause

import (
	"math"
	"testing"

	"rangepost/analysis/ball"
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
