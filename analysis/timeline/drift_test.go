package timeline_test

import (
	"testing"
	"time"

	"rangepost/analysis"
	"rangepost/analysis/timeline"
)

// about are sessions near a level, at 0.3 to either side of it.
func about(level float64, n int) (means []float64) {
	for i := range n {
		means = append(means, level+0.3*float64(i%3-1))
	}
	return means
}

// A shift stands against the level before it, for as long as it lasts and
// nobody has noted it; a level that comes back has not drifted.
func TestDriftStands(t *testing.T) {
	shifted := append(about(2, 12), about(6, 45)...)
	for _, n := range []int{16, 20, 57} {
		d := timeline.Of(analysis.Face, iron, flat(shifted[:n]...), nil).Drift
		if !d.OK || d.Out < 11 || d.Out > 13 || d.Target < 1.5 || d.Target > 2.5 || d.EWMA[n-1] <= d.High[n-1] {
			t.Errorf("%d sessions: OK %v, out since %d against %.2f, level %.2f, limit %.2f; want since 12, against 2, outside",
				n, d.OK, d.Out, d.Target, d.EWMA[n-1], d.High[n-1])
		}
	}
	if d := timeline.Of(analysis.Face, iron, flat(about(2, 30)...), nil).Drift; d.Out >= 0 {
		t.Errorf("nothing moved: out since %d", d.Out)
	}
	back := append(append(about(2, 12), about(6, 10)...), about(2, 12)...)
	if d := timeline.Of(analysis.Face, iron, flat(back...), nil).Drift; d.Out >= 0 {
		t.Errorf("it came back: out since %d", d.Out)
	}
	sessions := flat(shifted...)
	if d := timeline.Of(analysis.Face, iron, sessions, nil, sessions[20].At).Drift; d.Out >= 0 {
		t.Errorf("noted after nine sessions: out since %d", d.Out)
	}
	if d := timeline.Of(analysis.Face, iron, sessions, nil, sessions[12].At).Drift; d.Out < 0 {
		t.Error("noted before it was told: it stands no more")
	}
	again := append(shifted, about(11, 10)...)
	if d := timeline.Of(analysis.Face, iron, flat(again...), nil, sessions[20].At).Drift; d.Out < 55 || d.Target < 5 {
		t.Errorf("moved on after that: out since %d against %.1f; want since 57, against 6", d.Out, d.Target)
	}
	if r := timeline.Of(analysis.Face, iron, flat(about(2, 7)...), nil); r.Drift.OK {
		t.Error("a chart of seven sessions")
	}
}

// A lesson after a pause explains what changed with it; one of many does not.
func TestDriftWithALesson(t *testing.T) {
	shifted := flat(append(about(2, 12), about(6, 12)...)...)
	lessons := func(sessions ...int) (all []analysis.Lesson) {
		for _, i := range sessions {
			all = append(all, analysis.Lesson{At: shifted[i].At.Add(-time.Hour)})
		}
		return all
	}
	if d := timeline.Of(analysis.Face, iron, shifted, lessons(12)).Drift; d.Out >= 0 {
		t.Errorf("the lesson's own change: out since %d", d.Out)
	}
	if d := timeline.Of(analysis.Face, iron, shifted, lessons(3, 6, 9, 12, 15, 18)).Drift; d.Out < 0 {
		t.Error("with a lesson every three sessions nothing is said to drift")
	}
	if d := timeline.Of(analysis.Face, iron, shifted, lessons(16)).Drift; d.Out < 0 {
		t.Error("a lesson four sessions later explains it")
	}
}
