// Package timeline follows a student's numbers over sessions: means with
// honest limits, the effect of lessons, drift, and briefs kept or not.
package timeline

import (
	"time"

	"rangepost/analysis"
)

// A Point is one session's mean of the number.
type Point struct {
	Session  string // opaque id of the session
	When     time.Time
	Mean     analysis.Estimate // SI; N is the session's used balls
	Inferred bool
}

// Lesson is a marked lesson.
type Lesson struct {
	When time.Time
	Note string
}

// A Change is what the data say since the last lesson.
type Change string

// The changes.
const (
	NoLesson Change = "no lesson" // none marked inside the sessions
	TooEarly Change = "too early" // fewer than three sessions on a side
	Changed  Change = "changed"
	NotYet   Change = "cannot tell" // limits of the difference include zero
)

// Effect is before and after a lesson on the sessions' own spread.
type Effect struct {
	Change        Change
	Lesson        Lesson
	Before, After int     // sessions on each side
	MeanBefore    float64 // SI
	MeanAfter     float64
	Difference    float64
	Low, High     float64 // 95 % Knapp-Hartung
	P             float64
	WorstBefore   bool // the lesson followed the worst session: some of it would have come anyway
}

// Brief is the coach's limits on a number. A nil limit is open.
type Brief struct {
	Number    analysis.Number
	Low, High *float64 // SI
	Club      analysis.Club
	Balls     int // 0 if not said
	Until     time.Time
}

// Kept is how a brief was kept by some balls.
type Kept struct {
	Brief               Brief
	Inside, Of          int
	Share               float64
	ShareLow, ShareHigh float64 // 95 % Wilson
}

// Result is a number over sessions.
type Result struct {
	Number   analysis.Number
	Club     analysis.Club
	Points   []Point // by time
	Lessons  []Lesson
	Mean     analysis.Estimate // over sessions, N is sessions
	Between  float64           // between-session standard deviation, SI
	Effect   Effect
	Drift    Drift
	Trend    Trend
	Warnings []analysis.Warning
}

// Drift is an EWMA chart of session means.
type Drift struct {
	OK        bool
	Watch     bool // fewer than 20 sessions: limits are estimates
	EWMA      []float64
	Low, High []float64
	Out       int // index of the first point outside, -1 if none
}

// Trend is Theil-Sen with Mann-Kendall over sessions in order.
type Trend struct {
	OK        bool    // eight sessions at least
	PerDay    float64 // SI a day
	Low, High float64
	P         float64
}
