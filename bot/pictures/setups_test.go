package pictures

import (
	"context"
	"testing"

	"rangepost/analysis"
	"rangepost/analysis/timeline"
)

// drawnTimeline is a timeline on a canvas of its own, and its first panel.
func drawnTimeline(t *testing.T, in TimelineInput) (*canvas, *track) {
	t.Helper()
	c, err := newCanvas(context.Background(), 1200, int(timelineHeight(in)))
	if err != nil {
		t.Fatal(err)
	}
	return c, drawTimeline(c, in)[0]
}

// The brief's word stands between the brief's limits, and on no mean, no session
// and no limit.
func TestBriefIsNamedOffTheMeans(t *testing.T) {
	named := 0
	for name, in := range timelines() {
		for _, half := range []float64{.8, 1.2, 2, 4} {
			if len(in.Numbers) == 0 || in.Numbers[0].Number != analysis.Face || len(in.Numbers[0].Points) == 0 {
				continue
			}
			low, high := -half*analysis.Degree, half*analysis.Degree
			in.Briefs = []analysis.Brief{{Number: analysis.Face, Low: &low, High: &high}}
			c, first := drawnTimeline(t, in)
			for _, l := range c.labels {
				if l.text != "brief" {
					continue
				}
				named++
				if b := l.box; b.top < first.y(high) || b.bottom > first.y(low) {
					t.Errorf("%s, within %v°: the word stands outside the brief", name, half)
				}
				e := in.Numbers[0].Effect
				at := first.days.x(e.Lesson.At)
				from, to := first.days.x(in.Numbers[0].Points[0].At), first.days.x(in.Numbers[0].Points[len(in.Numbers[0].Points)-1].At)
				for mean, over := range map[float64][2]float64{e.MeanBefore: {from, at}, e.MeanAfter: {at, to}} {
					y := first.y(mean)
					if l.box.overlaps(box{over[0], y - 3, over[1], y + 3}) {
						t.Errorf("%s, within %v°: the word stands on a mean", name, half)
					}
				}
				for _, p := range allPoints(in.Numbers[0]) {
					x := first.days.x(p.At)
					if l.box.overlaps(box{x - 4, first.y(p.Mean.High), x + 4, first.y(p.Mean.Low)}) {
						t.Errorf("%s, within %v°: the word stands on the session of %v", name, half, p.At)
					}
				}
			}
		}
	}
	if named < 8 {
		t.Errorf("the brief is named %d times", named)
	}
}

// Each setup has its own mark, the same in every panel and named once at the
// top; the marks stand apart from the usual one's of the same day.
func TestTimelineNamesItsSetups(t *testing.T) {
	in := timelines()["setup"]
	c, first := drawnTimeline(t, in)
	for _, want := range []string{"usual setup", "“strong grip”"} {
		n := 0
		for _, l := range c.labels {
			if l.text == want {
				n++
			}
		}
		if n != 1 {
			t.Errorf("%q is written %d times", want, n)
		}
	}
	s := in.Numbers[0].Setups[0]
	for _, p := range s.Points {
		at := point{first.across(p, first.markOf(s.Label)), first.y(p.Mean.Mean)}
		if got := rgb(colourAt(c, at)); got != rgb(setColour(1)) {
			t.Errorf("the setup's session of %v is drawn in %v", p.At, got)
		}
	}
	without := in
	without.Numbers = []timeline.Result{in.Numbers[0]}
	without.Numbers[0].Setups = nil
	if c, _ := drawnTimeline(t, without); written(c, "usual setup") {
		t.Error("without another setup the usual one is named")
	}
}
