package timeline_test

import (
	"math/rand/v2"
	"testing"

	"rangepost/analysis"
	"rangepost/analysis/flight"
	"rangepost/analysis/timeline"
)

// TestAnotherFlight: golfers whose balls fly by another source's drag and lift
// than the model's, at sea level, and after a lesson that did nothing 1600 m up.
// The air is corrected as well as the model can, and what it cannot is in the
// limits: nothing changed and nothing drifts, in 5 % at most.
func TestAnotherFlight(t *testing.T) {
	low, high := at(0, 288.15), at(1600, 277.75)
	for name, c := range map[string]flight.Coefficients{"smits": flight.SmitsSmith{}, "high": flight.HighSpin{}, "low": flight.LowSpin{}} {
		changed, drifts, holds, differs := 0, 0, 0, 0
		const golfers = 30
		for seed := range uint64(golfers) {
			rng := rand.New(rand.NewPCG(seed, 1600))
			launch := midIron
			launch.Speed += 3 * rng.NormFloat64()
			launch.Spin *= 1 + 0.08*rng.NormFloat64()
			var carries [2][2]float64 // in either air, and more with a m/s more
			for i, air := range []analysis.Conditions{low, high} {
				m, faster := flight.Of(air), launch
				m.Coefficients = c
				faster.Speed++
				carries[i][0] = m.Fly(launch).Carry
				carries[i][1] = m.Fly(faster).Carry - carries[i][0]
			}
			var sessions []analysis.SessionValues
			for i := range 16 {
				air := low
				if i >= 8 {
					air = high
				}
				wander := 0.6 * rng.NormFloat64()
				s := analysis.SessionValues{At: day(i), Session: string(rune('a' + i)), Ball: analysis.NewBall, Conditions: air, Launch: launch}
				for range 20 {
					s.Values = append(s.Values, carries[i/8][0]+carries[i/8][1]*(wander+rng.NormFloat64()))
				}
				sessions = append(sessions, s)
			}
			r := timeline.Of(analysis.Carry, iron, sessions, []analysis.Lesson{{At: day(8)}})
			if r.Effect.Change == timeline.Changed {
				changed++
			}
			if r.Effect.Low <= 0 && 0 <= r.Effect.High {
				holds++
			}
			if d, ok := timeline.Compare(analysis.Carry, sessions[:8], sessions[8:], 0, 1); ok && d.Contrast == timeline.Differ {
				differs++
			}
			if timeline.Of(analysis.Carry, iron, sessions, nil).Drift.Out >= 0 {
				drifts++
			}
		}
		t.Logf("%s: changed %d, limits hold none %d, compared differ %d, drifts %d, of %d", name, changed, holds, differs, drifts, golfers)
		if changed > 1 || drifts > 1 || holds < 28 || differs > 2 {
			t.Errorf("%s: the doubt of the flight is not in the limits", name)
		}
	}
}
