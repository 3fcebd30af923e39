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

// A Change is what the data say of a lesson.
type Change string

// The changes.
const (
	NoLesson Change = "no lesson"   // none marked after the first session
	TooEarly Change = "too early"   // fewer than three sessions on a side
	Changed  Change = "changed"     // found at one of the looks, and stays found
	NotYet   Change = "cannot tell" // not found at any look so far
)

// A Lasting is what is left of a change that was found.
type Lasting string

// What is left of it. The zero Lasting is of no change.
const (
	Stays Lasting = "kept"
	Fades Lasting = "fading"
	Gone  Lasting = "gone"
)

// Effect is what a lesson did to the number, or several that had too few
// sessions between them to be told apart.
type Effect struct {
	Change        Change
	Lesson        analysis.Lesson // the last of them
	Together      int             // lessons that share the effect: 1 for one that stands alone
	Before, After int             // sessions on each side, to the lessons before and after
	MeanBefore    float64         // SI, of the sessions as they were
	MeanAfter     float64         // likewise of the sessions since; 0, like Difference, while there is none
	Difference    float64         // the effect at its largest, by the model
	Low, High     float64         // 95 %; 0 when too early
	P             float64         // two-sided, of all looks together; 1 when too early

	// Credited says that the sessions tell the change from a number that was
	// moving that way anyway. One that is not credited is found all the same: it
	// changed with the lesson, or was moving already.
	Credited bool

	Found   int       // sessions after it at which the change was found, 0 if it was not
	FoundAt time.Time // when the last of those was hit
	Next    int       // sessions after it at which it is judged next, 0 if never again

	Shape             Shape
	Left              float64 // of the effect in the latest session after it
	LeftLow, LeftHigh float64 // 95 %
	Lasts             Lasting

	Improving   bool // the number was moving this way before: that is taken off
	WorstBefore bool // the lesson followed the session farthest from where the number went
}

// Result is a number over sessions.
type Result struct {
	Number   analysis.Number
	Club     analysis.Club
	Points   []Point           // by time, of the usual setup where sets name setups
	Setups   []Setup           // the others, in the order they were first hit
	Lessons  []analysis.Lesson // by time
	Mean     analysis.Estimate // over sessions: N is sessions, SD that of a session's mean
	Between  float64           // between-session standard deviation, SI; 0 if it cannot be told
	Within   float64           // standard deviation of one ball in its session, SI
	Effects  []Effect          // of all lessons that have a session before them, by time
	Effect   Effect            // the last of them
	Drift    Drift
	Trend    Trend
	Warnings []analysis.Warning
}

// Drift is the level followed from session to session, and the shift of it
// that stands. The slices are as long as Result.Points.
type Drift struct {
	OK        bool      // eight sessions at least
	Watch     bool      // fewer than 20 sessions: limits are estimates
	Target    float64   // the level before the shift that stands, else that of a dozen sessions ago
	EWMA      []float64 // the level after each session
	Low, High []float64 // where it would be, had it but walked since it was the target
	Out       int       // index of the point with which the shift began, -1 if none stands
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
	OtherAir  = "other_air"     // Count sessions could not be brought to the air the other distances are in
	OtherBall = "other_ball"    // Count sessions with another kind of ball were left out of a distance
	OneBall   = "single_values" // no session has two balls: nothing is known of the spread of one
)
