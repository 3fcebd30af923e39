package analysis

// Pooled is what a setup tool does to one number over several golfers, as a
// right-hander would read it: a left-hander's trials are mirrored before they are
// pooled, tool and number (Tool.Mirror).
type Pooled struct {
	Club      Club
	Tool      Tool
	Number    Number
	Golfers   int
	Trials    int     // of theirs, in all
	Mean      float64 // of the golfers' effects, SI
	Low, High float64 // 95 % limits of that mean
	Between   float64 // how far golfers differ: the standard deviation of their effects, as expected
	Within    float64 // how far an effect differs from trial to trial of one golfer, likewise
	NewLow    float64 // 95 % prediction limits of the effect on a golfer who is not among them
	NewHigh   float64
}

// Mirror is the tool as it reads in a mirror: a left-hander who aims left does
// what a right-hander does who aims right. The other tools go by the golfer's
// own hand, and stay what they are called.
func (t Tool) Mirror(h Hand) Tool {
	switch {
	case h != LeftHanded:
	case t == AimLeft:
		return AimRight
	case t == AimRight:
		return AimLeft
	}
	return t
}

// Grounds are what an expectation of a tool rests on.
type Grounds string

// The grounds, the weakest first.
const (
	CommonPractice Grounds = "common_practice" // what the trade expects (Tool.Usual)
	CoachStudents  Grounds = "coach_students"  // what it does to the golfer's coach's students
	OwnTrials      Grounds = "own_trials"      // what it did in the golfer's own trials
)
