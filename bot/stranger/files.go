package stranger

import (
	"fmt"
	"math/rand/v2"
	"strings"
)

// A style is how one student's files look: a club nobody else plays and a
// word nobody else uses, so that a leak can be recognised in text.
type style struct {
	club, word  string
	spoken      []string // how the club may be written in an answer
	carry, miss float64  // yd; miss positive right
	face, path  float64  // degrees, positive right
}

var styles = []style{
	{"5-iron", "tamarack", []string{"5-iron", "5 iron", "5i", "five iron"}, 171, 21, 3.4, 0.6},
	{"8-iron", "quillwort", []string{"8-iron", "8 iron", "8i", "eight iron"}, 133, -17, -3.1, -0.4},
	{"6-iron", "bladdernut", []string{"6-iron", "6 iron", "6i", "six iron"}, 157, 2, 0.1, 0.2},
}

// signature is the word alone: clubs are also choices of menus, so their names
// count only beside a figure (see leak).
func (s style) signature() []string { return []string{s.word} }

const header = "Club,Ball Speed (mph),Launch Angle (deg),Launch Direction (deg),Spin Rate (rpm),Spin Axis (deg)," +
	"Carry (yd),Lateral (yd),Club Speed (mph),Attack Angle (deg),Club Path (deg),Face Angle (deg)\n"

// session is the CSV of one measured session in a student's style. Direction
// and axis follow face and path by common practice, no source: the ball starts
// mostly where the face looks and its axis leans with face to path.
func session(s style, balls int, r *rand.Rand) []byte {
	var b strings.Builder
	b.WriteString(header)
	for range balls {
		face, path := s.face+0.7*r.NormFloat64(), s.path+0.6*r.NormFloat64()
		club := 62 + s.carry/6 + 0.8*r.NormFloat64()
		axis := 2.6 * (face - path)
		start := 0.8*face + 0.2*path
		carry := s.carry + 4*r.NormFloat64()
		side := carry * (start + 0.55*axis) * 0.0135
		fmt.Fprintf(&b, "%s,%.1f,%.1f,%.1f,%.0f,%.1f,%.1f,%.1f,%.1f,%.1f,%.1f,%.1f\n",
			s.club, club*1.36, 15+0.8*r.NormFloat64(), start, 5400+250*r.NormFloat64(), axis,
			carry, side, club, -3+0.7*r.NormFloat64(), path, face)
	}
	return []byte(b.String())
}
