package timeline_test

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"rangepost/analysis"
	"rangepost/analysis/timeline"
)

// Whatever the sessions are, figures are figures, limits lie around what they
// limit, and slices that a picture draws are as long as the points.
func TestAnySessions(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		value := rapid.OneOf(rapid.Float64Range(-1e6, 1e6), rapid.Float64Range(-1, 1), rapid.SampledFrom([]float64{0, 0, 1, 1e-9}))
		sessions := make([]analysis.SessionValues, rapid.IntRange(0, 14).Draw(t, "sessions"))
		for i := range sessions {
			sessions[i].At = day(rapid.IntRange(0, 20).Draw(t, "day"))
			sessions[i].Values = rapid.SliceOfN(value, 0, 4).Draw(t, "values")
		}
		lessons := make([]analysis.Lesson, rapid.IntRange(0, 3).Draw(t, "lessons"))
		for i := range lessons {
			lessons[i].At = day(rapid.IntRange(-2, 22).Draw(t, "lesson"))
		}
		r := timeline.Of(analysis.Face, iron, sessions, lessons)
		figures := []float64{r.Mean.Mean, r.Mean.Low, r.Mean.High, r.Mean.SD, r.Between, r.Within, r.Drift.Target, r.Drift.Target, r.Trend.PerDay, r.Trend.Low, r.Trend.High, r.Trend.P}
		for _, e := range r.Effects {
			figures = append(figures, e.MeanBefore, e.MeanAfter, e.Difference, e.Low, e.High, e.P, e.Left, e.LeftLow, e.LeftHigh)
			if told := e.Change == timeline.Changed || e.Change == timeline.NotYet; told && !(e.Low <= e.Difference && e.Difference <= e.High) {
				t.Fatalf("effect out of its limits: %+v", e)
			}
			if (e.Change == timeline.Changed) != (e.Found > 0) || (e.Change == timeline.Changed) != (e.Lasts != "") {
				t.Fatalf("found and not found: %+v", e)
			}
		}
		for _, p := range r.Points {
			figures = append(figures, p.Mean.Mean, p.Mean.Low, p.Mean.High)
		}
		figures = append(append(append(figures, r.Drift.EWMA...), r.Drift.Low...), r.Drift.High...)
		for _, v := range figures {
			if math.IsNaN(v) || math.IsInf(v, 0) {
				t.Fatalf("not a figure in %+v", r)
			}
		}
		if r.Mean.OK && !(r.Mean.Low <= r.Mean.Mean && r.Mean.Mean <= r.Mean.High) {
			t.Fatalf("mean out of its limits: %+v", r.Mean)
		}
		if r.Trend.OK && !(r.Trend.Low <= r.Trend.PerDay && r.Trend.PerDay <= r.Trend.High) {
			t.Fatalf("slope out of its limits: %+v", r.Trend)
		}
		if d := r.Drift; d.OK && (len(d.EWMA) != len(r.Points) || len(d.Low) != len(r.Points) || len(d.High) != len(r.Points)) || d.Out >= len(r.Points) {
			t.Fatalf("chart and %d points do not fit: %+v", len(r.Points), d)
		}
	})
}
