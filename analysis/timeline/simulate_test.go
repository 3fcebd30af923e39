package timeline_test

import (
	"flag"
	"math/rand/v2"
	"testing"

	"rangepost/analysis"
	"rangepost/analysis/stat"
	"rangepost/analysis/timeline"
)

// The simulations run short by default and longer by hand:
//
//	go test ./analysis/timeline -run Simulated -simulate 100000 -v
var simulate = flag.Int("simulate", 5000, "simulated students in each study")

// student is a golfer whose sessions differ by between, rad, and whose balls in
// a session differ by within. Both are common practice, no source: a
// face-to-path that wanders by 0.8 deg from day to day and 2.5 deg from ball to
// ball.
type student struct {
	between, within float64
	fewest, most    int // balls a session
}

var students = map[string]student{
	"usual":            {0.8 * analysis.Degree, 2.5 * analysis.Degree, 10, 60},
	"day to day":       {1.5 * analysis.Degree, 2 * analysis.Degree, 10, 60},
	"the same daily":   {0, 2.5 * analysis.Degree, 4, 40},
	"few balls":        {0.8 * analysis.Degree, 2.5 * analysis.Degree, 1, 10},
	"from few to many": {0.4 * analysis.Degree, 3 * analysis.Degree, 2, 60},
}

// sessions are n sessions two days apart; from session at on, the number has
// moved by shift.
func (s student) sessions(rng *rand.Rand, n, at int, shift float64) []analysis.SessionValues {
	all := make([]analysis.SessionValues, n)
	for i := range all {
		mean := s.between * rng.NormFloat64()
		if i >= at {
			mean += shift
		}
		values := make([]float64, s.fewest+rng.IntN(s.most-s.fewest+1))
		for j := range values {
			values[j] = mean + s.within*rng.NormFloat64()
		}
		all[i] = analysis.SessionValues{At: day(2 * i), Values: values}
	}
	return all
}

// share prints k of n with 95 % limits and returns the limits.
func share(t *testing.T, what string, k, n int) (low, high float64) {
	t.Helper()
	low, high, _ = stat.Wilson(k, n, 0.95)
	t.Logf("%-40s %.2f %% (%.2f to %.2f, %d of %d)", what, 100*float64(k)/float64(n), 100*low, 100*high, k, n)
	return low, high
}

// A lesson that did nothing: "changed" in at most 5 % of students with 6 to 20
// sessions, the lesson anywhere that leaves three on a side.
func TestSimulatedLessonThatDidNothing(t *testing.T) {
	for name, s := range students {
		rng := rand.New(rand.NewPCG(1, 2))
		changed := 0
		for range *simulate {
			n := 6 + rng.IntN(15)
			at := 3 + rng.IntN(n-5)
			r := timeline.Of(analysis.FaceToPath, iron, s.sessions(rng, n, n, 0), []analysis.Lesson{{At: day(2*at - 1)}})
			if r.Effect.Change == timeline.Changed {
				changed++
			}
		}
		if low, _ := share(t, name+": changed", changed, *simulate); low > 0.05 {
			t.Errorf("%s: a lesson that did nothing is said to have changed something in over 5 %%", name)
		}
	}
}

// A lesson that moved face-to-path by 2 deg, six sessions on each side, in the
// usual student: "changed" in at least 80 %, with limits that hold the 2 deg in
// 93 to 97 %.
func TestSimulatedLessonThatWorked(t *testing.T) {
	rng := rand.New(rand.NewPCG(3, 4))
	const shift = 2 * analysis.Degree
	changed, held := 0, 0
	for range *simulate {
		e := timeline.Of(analysis.FaceToPath, iron, students["usual"].sessions(rng, 12, 6, shift), []analysis.Lesson{{At: day(11)}}).Effect
		if e.Change == timeline.Changed {
			changed++
		}
		if e.Low <= shift && shift <= e.High {
			held++
		}
	}
	if _, high := share(t, "changed", changed, *simulate); high < 0.8 {
		t.Error("a lesson that moved the number by 2 deg is seen in under 80 %")
	}
	if low, high := share(t, "limits hold the 2 deg", held, *simulate); low > 0.97 || high < 0.93 {
		t.Error("the limits of a lesson's effect do not hold the truth in 93 to 97 %")
	}
}

// Nothing drifts: a chart redrawn after every session, from the eighth to the
// sixtieth, is newly out at most once in 200 sessions.
func TestSimulatedStableSessions(t *testing.T) {
	for _, name := range []string{"usual", "day to day", "few balls"} {
		s := students[name]
		rng := rand.New(rand.NewPCG(5, 6))
		alarms, charts := 0, 0
		for range max(1, *simulate/250) {
			all := s.sessions(rng, 60, 60, 0)
			out := false
			for n := 8; n <= len(all); n++ {
				r := timeline.Of(analysis.FaceToPath, iron, all[:n], nil)
				charts++
				if r.Drift.Out >= 0 && !out {
					alarms++
				}
				out = r.Drift.Out >= 0
			}
		}
		if low, _ := share(t, name+": new alarms", alarms, charts); low > 1.0/200 {
			t.Errorf("%s: drift alarms more than once in 200 stable sessions", name)
		}
	}
}

// A drift is seen: 2 deg over the last ten of thirty sessions, in the usual
// student. The chart is for what a lesson's before and after cannot see; the
// figure is what it does, with no promise behind it.
func TestSimulatedDrift(t *testing.T) {
	rng := rand.New(rand.NewPCG(7, 8))
	out, charts := 0, *simulate/10
	for range charts {
		r := timeline.Of(analysis.FaceToPath, iron, students["usual"].sessions(rng, 30, 20, 2*analysis.Degree), nil)
		if r.Drift.Out >= 20 {
			out++
		}
	}
	if _, high := share(t, "2 deg ten sessions ago: out", out, charts); high < 0.5 {
		t.Error("a drift of 2 deg goes unseen")
	}
}
