package timeline_test

import (
	"math"
	"math/rand/v2"
	"testing"
	"time"

	"rangepost/analysis"
	"rangepost/analysis/timeline"
)

var start = time.Date(2026, 3, 2, 18, 0, 0, 0, time.UTC)

func day(n int) time.Time { return start.AddDate(0, 0, n) }

var iron = analysis.Club{Family: analysis.Iron, Number: 7}

func near(t *testing.T, what string, got, want, tol float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tol) {
		t.Errorf("%s = %.10g, want %.10g within %g", what, got, want, tol)
	}
}

// Eight invented sessions, 61 balls, a lesson after the fourth. R: metafor's
// rma(mods = ~after, test = "knha") p = .2008, lmer with Kenward and Roger's
// degrees of freedom .2006, the naive Welch test on the balls .0046 [C]. The
// lesson must not be said to have changed anything.
func TestLessonEffectRestsOnSessions(t *testing.T) {
	var sessions []analysis.SessionValues
	for i, values := range [][]float64{
		{7.1, 12.2, 7.6, 13.5, 12.4, 7.6},
		{7.3, 3.7, 0.3, 1.8, 2.5, 5, 4.7, 4.3, 5.8},
		{-0.3, 6.4, 3.6, 5.1, 4.6},
		{1.1, 2.8, 1.3, 5.3, 3.8, 3.3, 2.5, 2.1, 6, 0.7, 3.2, 4.3},
		{4.4, -0.4, 0.6, -1.9, 0.4, 0.3, 4.7},
		{2.8, 1.6, 3.7, 0.7, 1.3, 2.3, 5.6, 3.2, 2.6, -2.6},
		{4.2, 3.8, 1.2, 3.6},
		{2.8, 3.7, 4.1, 3.2, 5.1, 4.3, 5.2, 5.5},
	} {
		sessions = append(sessions, analysis.SessionValues{At: day(7 * i), Values: values})
	}
	r := timeline.Of(analysis.Face, iron, sessions, []analysis.Lesson{{At: day(24)}})
	e := r.Effect
	if e.Change != timeline.NotYet || e.Before != 4 || e.After != 4 {
		t.Fatalf("Change, Before, After = %q, %d, %d; want %q, 4, 4", e.Change, e.Before, e.After, timeline.NotYet)
	}
	// A player who may walk is told less of than one who may not, and the
	// latest sessions before count for more.
	if e.P < 0.2006 || e.Low > -6.8132 || e.High < 1.7722 {
		t.Errorf("p %.3f, limits %.2f to %.2f: narrower than with a level that stands still", e.P, e.Low, e.High)
	}
	near(t, "within", r.Within*r.Within, 4.2502, 1e-4)
}

func season(rng *rand.Rand, sessions, balls int) []analysis.SessionValues {
	var all []analysis.SessionValues
	for i := range sessions {
		s := analysis.SessionValues{At: day(i), Values: make([]float64, balls)}
		off := rng.NormFloat64()
		for j := range s.Values {
			s.Values[j] = off + 2*rng.NormFloat64()
		}
		all = append(all, s)
	}
	return all
}

func BenchmarkOf(b *testing.B) {
	sessions := season(rand.New(rand.NewPCG(1, 1)), 500, 60)
	lessons := []analysis.Lesson{{At: day(100)}, {At: day(250)}}
	b.ReportAllocs()
	for b.Loop() {
		timeline.Of(analysis.Face, iron, sessions, lessons)
	}
}
