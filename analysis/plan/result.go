package plan

import (
	"rangepost/analysis/trial"
)

// A Status is how a plan stands.
type Status string

// The states of a plan. Moved, held and futile end it.
const (
	Going  Status = "going"
	Moved  Status = "moved"  // the number of interest moved in some set, and every other set has its answer too
	Held   Status = "held"   // in every set it is inside the change that matters
	Futile Status = "futile" // some set has no answer, and the balls left will hardly bring one
)

// Result is how a plan stands after some visits.
type Result struct {
	Status Status

	// Blocks counts the blocks that were compared, Ended those it took to end
	// the plan, 0 while it goes on, and Visit says with the balls of which visit
	// it ended. What comes after that changes rows, never the status.
	Blocks, Ended, Visit int

	// Incomplete counts blocks that a turn is missing of, or whose turns lie on
	// different days: they are not compared. Late counts balls of turns that
	// had been compared before they came.
	Incomplete, Late int

	// Rows are as a trial's, set by set: Set is an index into the plan's Labels.
	// Low and High hold the truth of all rows together with 95 %, whenever one
	// looks; Low90 and High90 are exceeded by it with at most 5 % on either
	// side, likewise. P is the least the evidence against no difference has ever
	// allowed, PAdjusted the same for the row's share of the 5 %, and PHeld what
	// it allowed for a true difference outside Zero. Nothing is said of shuffles,
	// nor of more balls.
	Rows []trial.Row

	// While it goes on: the chance that the balls left bring an answer, and how
	// many more balls a set that is expected to take.
	Chance    float64
	MoreBalls int

	// Compensations are those of one labelled trial of the balls compared, with
	// the limits of one look. None without worths.
	Compensations []trial.Compensation
}

// Worths are what a radian of face and of path is worth, as in trial.Config. The
// zero value is not known.
type Worths struct {
	Face, Path float64 // m of carry lateral a rad, positive right
	Doubt      float64 // standard deviation of Path over Face
}
