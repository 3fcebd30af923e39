package timeline_test

import (
	"testing"

	"rangepost/analysis"
	"rangepost/analysis/flight"
	"rangepost/analysis/timeline"
)

func at(altitude, kelvin float64) analysis.Conditions {
	return analysis.Conditions{Altitude: &altitude, Temperature: &kelvin}
}

var midIron = analysis.Launch{Speed: 53, Angle: 16.5 * analysis.Degree, Spin: 6800 * analysis.RevPerMinute}

// One golfer who never changes, at sea level and at 1600 m. Measured, the
// carry jumps by some ten metres; brought to one air, it does not move.
func TestCarryInOneAir(t *testing.T) {
	low, high := at(0, 288.15), at(1600, 277.75)
	var sessions []analysis.SessionValues
	for i := range 8 {
		air := low
		if i >= 4 {
			air = high
		}
		m := flight.Of(air)
		carry := m.Fly(midIron).Carry
		sessions = append(sessions, analysis.SessionValues{
			At: day(i), Values: []float64{carry - 3, carry, carry + 3}, Ball: analysis.NewBall, Conditions: air, Launch: midIron,
		})
	}
	lesson := []analysis.Lesson{{At: day(4)}}
	r := timeline.Of(analysis.Carry, iron, sessions, lesson)
	if !r.Points[0].Normalised || len(r.Warnings) != 0 {
		t.Errorf("Normalised, warnings = %v, %v; want true, none", r.Points[0].Normalised, r.Warnings)
	}
	near(t, "difference in one air", r.Effect.Difference, 0, 1e-6)
	near(t, "carry, in the latest session's air", r.Points[0].Mean.Mean, r.Points[7].Mean.Mean, 1e-6)

	for i := range sessions {
		sessions[i].Conditions = analysis.Conditions{}
	}
	raw := timeline.Of(analysis.Carry, iron, sessions, lesson)
	if raw.Points[0].Normalised || raw.Effect.Difference < 5 {
		t.Errorf("as measured: Normalised, difference = %v, %.1f m; want false, over 5 m", raw.Points[0].Normalised, raw.Effect.Difference)
	}

	// What the club did is not touched by air.
	sessions[0].Conditions = high
	if face := timeline.Of(analysis.Face, iron, sessions, nil); face.Points[0].Normalised {
		t.Error("a face angle was brought to another air")
	}
	mixed := timeline.Of(analysis.Carry, iron, sessions, nil)
	if len(mixed.Warnings) != 1 || mixed.Warnings[0].Code != timeline.OtherAir || mixed.Warnings[0].Count != 7 {
		t.Errorf("one session of eight says its air: warnings %v, want 7 of other air", mixed.Warnings)
	}
}

// Range balls fly shorter: a distance is followed with the ball most sessions
// were hit with, what the club did with all.
func TestOneKindOfBall(t *testing.T) {
	var sessions []analysis.SessionValues
	for i := range 7 {
		s := analysis.SessionValues{At: day(i), Values: []float64{150, 152}, Ball: analysis.NewBall}
		if i%2 == 1 {
			s.Values, s.Ball = []float64{138, 140}, analysis.RangeBall
		}
		sessions = append(sessions, s)
	}
	carry := timeline.Of(analysis.Carry, iron, sessions, nil)
	if len(carry.Points) != 4 || carry.Warnings[0] != (analysis.Warning{Code: timeline.OtherBall, Count: 3, Number: analysis.Carry}) {
		t.Errorf("carry: %d points, warnings %v; want 4 and 3 left out", len(carry.Points), carry.Warnings)
	}
	if path := timeline.Of(analysis.Path, iron, sessions, nil); len(path.Points) != 7 || len(path.Warnings) != 0 {
		t.Errorf("path: %d points, warnings %v; want 7, none", len(path.Points), path.Warnings)
	}
}
