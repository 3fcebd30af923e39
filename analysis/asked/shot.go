package asked

import "rangepost/analysis"

// A Part is one of the things that a shot is asked for by.
type Part uint8

// The parts, in the order of ball.Flight.
const (
	Start Part = iota
	Curve
	Height
	Carry

	// NumParts is how many there are.
	NumParts = int(iota)
)

// Parts lists the parts.
func Parts() [NumParts]Part { return [...]Part{Start, Curve, Height, Carry} }

// Key is the stable name of a part.
func (p Part) Key() string { return [...]string{"start", "curve", "apex", "carry"}[p] }

// Verb is what a ball does of a part: "starts", "curves", "flies", "carries".
func (p Part) Verb() string { return [...]string{"starts", "curves", "flies", "carries"}[p] }

// Number is what of the delivery a part is answered by first.
func (p Part) Number() analysis.Number {
	return [...]analysis.Number{analysis.Face, analysis.FaceToPath, analysis.DynamicLoft, analysis.ClubSpeed}[p]
}

// A Shot is a shot as it was asked for.
type Shot struct {
	Text string // as typed
	Asks [NumParts]Ask
}

// An Ask is what is asked of one part.
type Ask struct {
	OK   bool // something is
	Side int  // -1 left, lower or shorter, 1 right or higher, 0 neither: on line, without a curve, or what the amount says

	// Amount is how much, not negative: rad of a start line, else m. 0 is as much
	// as one means by the word. Metres says that a start line's is m at the end of
	// the carry.
	Amount float64
	Metres bool

	Times float64 // of a word's usual amount: 2 for a hook, 0 is 1
}

// Mirrored is the shot of a golfer seen in a mirror.
func (s Shot) Mirrored() Shot {
	s.Asks[Start].Side *= -1
	s.Asks[Curve].Side *= -1
	return s
}

// Same reports whether two texts ask for the same shot.
func (s Shot) Same(other Shot) bool { return s.Asks == other.Asks }
