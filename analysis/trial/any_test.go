package trial_test

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"rangepost/analysis"
	"rangepost/analysis/trial"
)

// Whatever the balls are, figures are figures: none is NaN or infinite, limits
// lie around the difference, p values inside 0 and 1, and a verdict is said
// only of rows that could be compared.
func TestAnyBalls(t *testing.T) {
	numbers := []analysis.Number{analysis.Face, analysis.Path, analysis.ClubSpeed, analysis.Lateral, analysis.Carry}
	rapid.Check(t, func(t *rapid.T) {
		value := rapid.OneOf(rapid.Float64Range(-1e6, 1e6), rapid.Float64Range(-1, 1), rapid.SampledFrom([]float64{0, 0, 1, 1e-9, 1e6}))
		sets := make([]analysis.Set, rapid.IntRange(2, 4).Draw(t, "sets"))
		for i := range sets {
			sets[i].Label = rapid.SampledFrom([]string{"", "normal", "strong grip", "ball back"}).Draw(t, "label")
			for range rapid.IntRange(0, 6).Draw(t, "balls") {
				s := analysis.Shot{N: rapid.IntRange(0, 99).Draw(t, "n")}
				for _, n := range numbers {
					if rapid.Bool().Draw(t, "measured") {
						s = s.With(n, value.Draw(t, n.String()))
					}
				}
				sets[i].Shots = append(sets[i].Shots, s)
			}
		}
		c := trial.Config{FaceWorth: 200, PathWorth: -80, EqualSpread: rapid.Bool().Draw(t, "equal spread")}
		r, err := trial.Of(sets, 0, c)
		if err != nil {
			t.Fatal(err)
		}
		for _, row := range r.Rows {
			for _, v := range []float64{row.Difference, row.Low, row.High, row.Low90, row.High90, row.P, row.PAdjusted, row.PHeld, row.Finds, row.Zero} {
				if math.IsNaN(v) || math.IsInf(v, 0) {
					t.Fatalf("not a figure in %+v", row)
				}
			}
			if row.Low > row.Difference || row.High < row.Difference || row.P < 0 || row.P > 1 || row.PAdjusted < row.P || row.PAdjusted > 1 {
				t.Fatalf("limits or p out of order in %+v", row)
			}
			if !row.OK && row.Verdict != trial.CannotTell || row.MoreBase < 0 || row.MoreSet < 0 {
				t.Fatalf("more is said than known in %+v", row)
			}
		}
		for _, c := range r.Compensations {
			if c.OK && !(c.Low <= c.Cancelled && c.Cancelled <= c.High) {
				t.Fatalf("fraction out of its limits in %+v", c)
			}
		}
		for _, o := range trial.Observations(r) {
			for _, resp := range trial.Learn([]analysis.Observation{o}, analysis.RightHanded) {
				if math.IsNaN(resp.Mean) || math.IsNaN(resp.Low) || resp.Low > resp.High {
					t.Fatalf("%+v taught %+v", o, resp)
				}
			}
		}
	})
}
