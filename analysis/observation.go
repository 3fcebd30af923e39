package analysis

// An Observation is what one trial saw a setup tool do to one number.
type Observation struct {
	Club       Club
	Tool       Tool
	Number     Number
	Difference float64 // set minus baseline, SI
	SE         float64 // of a normal with limits as wide as the trial's 90 %, SI
	Balls      int     // in the set
}
