package analysis

// A Gist is what a session was found to say, in figures: as much as a coach's
// desk says of it without the file being read again.
type Gist struct {
	Set    SetGist
	Others int        // sets besides it that were judged
	Trial  *TrialGist // nil without one

	Control []ControlGist // over the shots that were asked for
}

// A ControlGist is the share of the change that the shots of a session asked of a
// number which the golfer made.
type ControlGist struct {
	Club   Club
	Number Number
	Made   Estimate
}

// A SetGist is one set: the baseline of a trial, else the set with the most
// balls.
type SetGist struct {
	Club       Club
	Label      string // untrusted text
	Used       int
	Verdict    string   // of package cause
	Miss       Estimate // lateral, m, right of target positive
	Face, Path Estimate // rad, right of target positive; N is 0 where not known
	Inferred   bool     // the two were worked back from the ball
	Width      float64  // that holds 80 % of the balls, m; 0 where it cannot be told
	Wide       bool     // that is more than the target is wide
	MoreBalls  int      // that too few wait for, 0 when more would not do
}

// A TrialGist is what a trial found of each of its sets.
type TrialGist struct {
	Club Club
	Base string // label of the baseline, untrusted text
	Sets []TrialSetGist
}

// A TrialSetGist is what one set showed against the baseline.
type TrialSetGist struct {
	Label     string // untrusted text
	Tool      Tool   // that the label names, "" if none
	Used      int
	Asked     int      // balls that were asked for a shot, 0 where none was
	Done      int      // of those, balls that did it
	Moved     []Change // in the order of the table of numbers
	Held      int      // numbers that are known not to have
	Untold    int      // numbers of which neither can be said
	MoreBalls int      // in each set, that would settle where the ball goes or the face points; 0 when none or none would do
	Follow    Follow
	Cancelled float64 // of Cancels: which part of what the one did the other undid
	Lead      Number  // Face or Path: which one the setup leads with
}

// A Change is a number that a set moved.
type Change struct {
	Number                Number
	Difference, Low, High float64 // set minus baseline, SI, with the trial's limits
	Little                bool    // too little to matter
}

// Follow is what the path did about a face that a setup moved, or the face
// about a path.
type Follow string

// What it did. The zero Follow is of a setup that moved neither.
const (
	Follows  Follow = "follows"   // it moved the other way, how much of it cannot be told
	Cancels  Follow = "cancels"   // and how much can
	Adds     Follow = "adds"      // it moved the same way
	Stands   Follow = "stands"    // it held
	NotKnown Follow = "not known" // whether it moved cannot be told
)

// Of is the change of a number; ok is false if it is not known to have moved.
func (t TrialSetGist) Of(n Number) (c Change, ok bool) {
	for _, c := range t.Moved {
		if c.Number == n {
			return c, true
		}
	}
	return c, false
}
