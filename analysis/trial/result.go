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
	Inferred   bool    // some of the values were worked back, not measured
	Base, Here int     // balls that have the number, in the baseline and in the set
	Difference float64 // set minus baseline, SI
	Low, High  float64 // 95 % simultaneous limits; equal to Difference when OK is false
	Low90      float64 // 90 % limits of this row alone: inside Zero is what held means
	High90     float64
	PHeld      float64 // of two one-sided tests that the true difference is outside Zero
	OK         bool    // both sides have at least two balls, and they differ
	P          float64 // of this row alone
	PAdjusted  float64 // for being one of sets x numbers
	Zero       float64 // practical zero, SI; 0 when the number has none
	Verdict    Verdict

	// Shuffled is the chance of so large a difference when the balls are dealt
	// out to the two sets at random. It takes no shape for granted. Told for
	// rows that moved; 0 otherwise.
	Shuffled float64

	// Finds is the smallest true difference, SI, that balls as many as these
	// show four times in five. 0 when no spread is known.
	Finds float64

	// MoreBase and MoreSet are balls more, in the baseline and in the set, with
	// which a true difference of Look would show four times in five; when
	// there are enough for that, with which no difference at all would show as
	// held four times in five. MoreFor says which, Moved or Held. Zero balls
	// when the row is settled, or when more balls would not settle it; a set
	// of 500 stands for that many or more.
	MoreBase, MoreSet int
	MoreFor           Verdict
	Look              float64
}

// Compensation is how far path moved to cancel what face did, and the reverse.
type Compensation struct {
	Set     int
	FaceM   float64 // lateral change had only the face moved, m, positive right
	PathM   float64
	Opposed bool // they pull opposite ways; Cancelled means something only then

	Cancelled float64 // fraction of the face's effect the path cancelled
	Low, High float64 // 95 % limits
	OK        bool    // the face is known to have moved; without that there is no fraction, and the three are 0

	// Reverse is the fraction of the path's effect the face cancelled: the one
	// to say when the tool moves the path and the face follows.
	Reverse Fraction

	// Lead is the number the set's tool moves first, Face or Path: Face unless
	// the label names a tool of ball position.
	Lead analysis.Number
}

// Led is the number the set leads with, the one that follows, and the fraction of
// what the first did that the second cancelled.
func (c Compensation) Led() (lead, follow analysis.Number, cancelled Fraction) {
	if c.Lead == analysis.Path {
		return analysis.Path, analysis.Face, c.Reverse
	}
	return analysis.Face, analysis.Path, Fraction{OK: c.OK, Value: c.Cancelled, Low: c.Low, High: c.High}
}

// Fraction is a fraction with 95 % limits.
type Fraction struct {
	OK               bool
	Value, Low, High float64
}

// Side is the description of one set of a trial.
type Side struct {
	Club  analysis.Club
	Label string
	Tool  analysis.Tool // that the label names, "" if none
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

// The codes of warnings.
const (
	OtherClub     = "other_club"      // Count sets of another club were left out
	SmallSets     = "small_sets"      // Count sets have under five balls: they prove very little
	OneAfterOther = "one_after_other" // the sets were hit in blocks: warming up looks like a change; alternate them
	NotCompared   = "not_compared"    // Number was measured in the baseline or in Count sets, not in both
	Shape         = "shape"           // Number moved by the bell curve's tails alone: shuffling the balls does not show it
	SpreadsDiffer = "spreads_differ"  // Number's spreads differ, against what EqualSpread takes for granted
	NoCarry       = "no_carry"        // no carry: the practical zero of lateral is 3 yd
)
