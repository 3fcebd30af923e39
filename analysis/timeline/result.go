package timeline

import (
	"time"

	"rangepost/analysis"
)

// A Point is one session's mean of the number.
type Point struct {
	Session    string // opaque id of the session
	At         time.Time
	Mean       analysis.Estimate // SI; N is the session's used balls
	Inferred   bool
	Normalised bool
}

// A Change is what the data say since the last lesson.
type Change string

// The changes.
const (
	NoLesson Change = "no lesson"   // none marked after the first session
	TooEarly Change = "too early"   // fewer than three sessions on a side
	Changed  Change = "changed"     // limits of the difference exclude zero
	NotYet   Change = "cannot tell" // limits of the difference include zero
)

// Effect is before and after a lesson on the sessions' own spread.
type Effect struct {
	Change        Change
	Lesson        analysis.Lesson
	Before, After int     // sessions on each side
	MeanBefore    float64 // SI
	MeanAfter     float64 // 0, like Difference, while there is no session after
	Difference    float64
	Low, High     float64 // 95 % Knapp-Hartung; 0 when too early
	P             float64
	WorstBefore   bool // the lesson followed the worst session: some of it would have come anyway
}

// Result is a number over sessions.
type Result struct {
	Number   analysis.Number
	Club     analysis.Club
	Points   []Point           // by time
	Lessons  []analysis.Lesson // by time
	Mean     analysis.Estimate // over sessions: N is sessions, SD that of a session's mean
	Between  float64           // between-session standard deviation, SI; 0 if it cannot be told
	Within   float64           // standard deviation of one ball in its session, SI
	Effect   Effect
	Drift    Drift
	Trend    Trend
	Warnings []analysis.Warning
}

// Drift is an EWMA chart of session means since the last lesson. The slices
// are as long as Result.Points; before From, where the chart starts, they hold
// the target.
type Drift struct {
	OK        bool // eight sessions at least since the last lesson
	Watch     bool // fewer than 20 sessions: limits are estimates
	From      int
	Target    float64 // mean of the charted sessions
	EWMA      []float64
	Low, High []float64
	Out       int // index of the point since which the chart has stayed outside, -1 if it is inside now
}

// Trend is Theil-Sen with Mann-Kendall over sessions in order.
type Trend struct {
	OK        bool    // eight sessions at least, not all on one day
	PerDay    float64 // SI a day
	Low, High float64
	P         float64
}

// The codes of warnings.
const (
	OtherAir    = "other_air"     // Count sessions could not be brought to the air the other distances are in
	OtherBall   = "other_ball"    // Count sessions with another kind of ball were left out of a distance
	SpansLesson = "spans_lesson"  // the sessions before the lesson reach back past Count earlier lessons
	OneBall     = "single_values" // no session has two balls: nothing is known of the spread of one
)
