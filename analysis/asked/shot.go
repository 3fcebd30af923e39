package asked

import (
	"math"
	"strconv"
	"strings"

	"rangepost/analysis"
)

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

// Said is the shot's text with the unit behind every figure that has none, so that
// it says the same to whoever reads in others.
func (s Shot) Said(u analysis.Units) string {
	name := string(analysis.Yards)
	if u.Distance == analysis.Metres {
		name = string(analysis.Metres)
	}
	var parts []string
	side := func(x int) string { return [...]string{" left", "", " right"}[x+1] }
	amount := func(m float64) string {
		return strconv.FormatFloat(math.Round(m/u.Scale(analysis.Length)*10)/10, 'f', -1, 64) + " " + name
	}
	if a := s.Asks[Start]; a.OK {
		text := "start"
		switch {
		case a.Amount > 0 && a.Metres:
			text += " " + amount(a.Amount)
		case a.Amount > 0:
			text += " " + strconv.FormatFloat(math.Round(a.Amount/analysis.Degree*10)/10, 'f', -1, 64) + "°"
		case a.Side == 0:
			text += " on line"
		}
		parts = append(parts, text+side(a.Side))
	}
	if a := s.Asks[Curve]; a.OK {
		text := map[int]string{-1: "draw", 0: "straight", 1: "fade"}[a.Side]
		if a.Times > 0 {
			text = map[int]string{-1: "hook", 1: "slice"}[a.Side]
		}
		if a.Amount > 0 {
			text += " " + amount(a.Amount)
		}
		parts = append(parts, text)
	}
	if a := s.Asks[Height]; a.OK {
		text := map[int]string{-1: "low", 0: "apex " + amount(a.Amount), 1: "high"}[a.Side]
		parts = append(parts, text)
	}
	if a := s.Asks[Carry]; a.OK {
		text := "short"
		if a.Amount > 0 {
			text = "carry " + amount(a.Amount)
		}
		parts = append(parts, text)
	}
	return strings.Join(parts, ", ")
}

// Same reports whether two texts ask for the same shot.
func (s Shot) Same(other Shot) bool { return s.Asks == other.Asks }
