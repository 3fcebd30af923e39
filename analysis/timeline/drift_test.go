package timeline_test

import (
	"math"
	"testing"

	"rangepost/analysis"
	"rangepost/analysis/timeline"
)

// The chart by hand: equal sessions, so that one standard deviation serves all;
// the recursion of the NIST/SEMATECH e-Handbook, 6.3.2.4.
func TestDriftByHand(t *testing.T) {
	means := []float64{2, 3, 1, 2, 3, 2, 1, 2, 2, 9, 9, 9}
	r := timeline.Of(analysis.Face, iron, flat(means...), nil)
	d := r.Drift
	if !d.OK || !d.Watch || d.From != 0 {
		t.Fatalf("OK, Watch, From = %v, %v, %d", d.OK, d.Watch, d.From)
	}
	target, successive := 0.0, 0.0
	for i, m := range means {
		target += m / 12
		if i > 0 {
			successive += (m - means[i-1]) * (m - means[i-1]) / 11
		}
	}
	// The differences of successive means hold the variance of one mean twice.
	sd := math.Sqrt(successive / 2)
	z, v := target, 0.0
	out := -1
	for i, m := range means {
		z = 0.3*m + 0.7*z
		v = 0.09*sd*sd + 0.49*v
		near(t, "EWMA", d.EWMA[i], z, 1e-12)
		near(t, "high", d.High[i], target+3*math.Sqrt(v), 1e-9)
		near(t, "low", d.Low[i], target-3*math.Sqrt(v), 1e-9)
		if math.Abs(z-target) <= 3*math.Sqrt(v) {
			out = -1
		} else if out < 0 {
			out = i
		}
	}
	if d.Out != out {
		t.Errorf("Out = %d, want %d", d.Out, out)
	}
}

// A lesson is meant to move the number: the chart starts after it.
func TestDriftStartsAtTheLesson(t *testing.T) {
	var means []float64
	for i := range 22 {
		m := 8 + 0.3*float64(i%3)
		if i >= 12 {
			m = 2 + 0.3*float64(i%3)
		}
		means = append(means, m)
	}
	lesson := []analysis.Lesson{{At: day(7*12 - 1)}}
	r := timeline.Of(analysis.Face, iron, flat(means...), lesson)
	if d := r.Drift; !d.OK || d.From != 12 || d.Out != -1 || len(d.EWMA) != 22 {
		t.Errorf("OK, From, Out, length = %v, %d, %d, %d; want true, 12, -1, 22", d.OK, d.From, d.Out, len(d.EWMA))
	}
	if r := timeline.Of(analysis.Face, iron, flat(means...), nil); r.Drift.Out < 0 {
		t.Error("without the lesson the jump is no drift")
	}
	if r := timeline.Of(analysis.Face, iron, flat(means[:19]...), lesson); r.Drift.OK {
		t.Error("a chart of seven sessions since the lesson")
	}
}
