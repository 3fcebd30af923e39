package months

// When is when lessons are taken.
type When uint8

// Booked ones are settled beforehand, whatever is hit. A bad run is two sessions
// in a row on the bad side of all before them.
const (
	Never When = iota
	Booked
	AfterBadRun
	Weekly
)

// Form is how an effect comes and goes.
type Form uint8

// Gradual is there in full with the fourth session; Fading begins in full and is
// gone with the seventh.
const (
	Nothing Form = iota
	Sudden
	Gradual
	Fading
)

const (
	gradualOver = 4
	fadedAfter  = 6
)

// Share is how much of an effect there is in a session, the first after the
// lesson being 0.
func (f Form) Share(session int) float64 {
	switch {
	case session < 0 || f == Nothing:
		return 0
	case f == Gradual:
		return min(1, float64(session+1)/gradualOver)
	case f == Fading:
		return max(0, 1-float64(session)/fadedAfter)
	}
	return 1
}

// A Course is a student's months. Sizes are rad, signed, down being better.
type Course struct {
	Before, After int // sessions; after a bad run there may be up to 12 more before
	When          When
	Form          Form
	Size          float64
	Improving     float64 // a session, all the time: negative is better
	Second        int     // sessions after the lesson at which one follows that does nothing; 0 is none
	Shift         float64 // from session ShiftAt on, by no lesson
	ShiftAt       int
}
