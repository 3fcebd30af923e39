// Package trial compares labelled sets with a baseline set: did the change
// move the club, or only the picture?
package trial

import "rangepost/analysis"

// A Verdict says what the data show of one number in one set.
type Verdict string

// The verdicts.
const (
	Moved       Verdict = "moved"          // adjusted limits exclude zero
	MovedLittle Verdict = "moved a little" // they do, and the difference is inside the practical zero
	Held        Verdict = "held"           // inside the practical zero by two one-sided tests
	CannotTell  Verdict = "cannot tell"
)

// Row is one number of one set against the baseline.
type Row struct {
	Set        int // index into Result.Sets
	Number     analysis.Number
	Difference float64 // set minus baseline, SI
	Low, High  float64 // 95 % simultaneous limits; equal to Difference when OK is false
	OK         bool    // both sides have at least two balls
	P          float64 // Welch, unadjusted
	PAdjusted  float64 // Holm over sets x numbers
	Zero       float64 // practical zero, SI
	Verdict    Verdict
	MoreBase   int // balls more in the baseline that would settle it, 0 if none
	MoreSet    int
}

// Compensation is how far path moved to cancel what face did.
type Compensation struct {
	Set       int
	FaceM     float64 // lateral change had only the face moved, m
	PathM     float64
	Opposed   bool    // they pull opposite ways; Cancelled means something only then
	Cancelled float64 // fraction of the face's effect the path cancelled
	Low, High float64 // 95 % limits
}

// Side is the description of one set of a trial.
type Side struct {
	Club  analysis.Club
	Label string
	Balls int
	Used  int
}

// Result is a whole trial: Sets[0] is the baseline.
type Result struct {
	Sets          []Side
	Rows          []Row
	Compensations []Compensation
	Warnings      []analysis.Warning
}
