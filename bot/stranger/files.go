package stranger

import (
	"fmt"
	"math/rand/v2"
	"regexp"
	"strings"
)

// A style is how one student's files look: a word nobody else uses in file
// names, and numbers that nobody else has, so that a leak can be recognised in
// text.
type style struct {
	club, word  string
	carry       float64        // yd
	speed       float64        // mph, of the ball
	launch      float64        // degrees
	spin        float64        // revolutions a minute
	face, path  float64        // degrees, positive right
	fingerprint *regexp.Regexp // figures that only this student's answers hold, also with the sides turned round
}

var styles = []style{
	{"5-iron", "tamarack", 171, 127, 13.1, 5300, 3.4, 0.6,
		regexp.MustCompile(`tamarack|5-iron[^\n]*\d(\.\d)?(°| yards)|\b1(69|70|71|72|73) yards|face (pointed )?[234]\.\d° (right|left)`)},
	{"8-iron", "quillwort", 133, 106, 18.4, 7900, -6.6, -0.4,
		regexp.MustCompile(`quillwort|8-iron[^\n]*\d(\.\d)?(°| yards)|\b1(31|32|33|34|35) yards|face (pointed )?[5678]\.\d° (right|left)`)},
	{"6-iron", "bladdernut", 152, 119, 14.7, 6150, 0.1, 4.6,
		regexp.MustCompile(`bladdernut|6-iron[^\n]*\d(\.\d)?(°| yards)|\b1(50|51|52|53|54) yards|path( \(the way the club was moving\))? [3456]\.\d° (right|left) of target`)},
}

const header = "Club,Ball Speed (mph),Launch Angle (deg),Launch Direction (deg),Spin Rate (rpm),Spin Axis (deg)," +
	"Carry (yd),Lateral (yd),Club Speed (mph),Attack Angle (deg),Club Path (deg),Face Angle (deg)\n"

// session is the CSV of one measured session in a student's style. The ball
// starts mostly where the face looks, its axis leans with face to path over
// the spin loft, and it bends about 0.7 % of its carry for each degree of
// lean: common practice, no source. It only has to be a session that a reader
// takes for one; truth about flight is tested elsewhere.
func session(s style, balls int, r *rand.Rand) []byte {
	var b strings.Builder
	b.WriteString(header)
	for range balls {
		face, path := s.face+1.0*r.NormFloat64(), s.path+2.2*r.NormFloat64()
		ball := s.speed + 1.3*r.NormFloat64()
		axis := 2.2*(face-path) + 0.3*r.NormFloat64()
		start := 0.76*face + 0.24*path + 0.1*r.NormFloat64()
		carry := s.carry*(1+1.3*(ball/s.speed-1)) + r.NormFloat64()
		side := carry * (0.01745*start + 0.007*axis)
		fmt.Fprintf(&b, "%s,%.1f,%.1f,%.1f,%.0f,%.1f,%.1f,%.1f,%.1f,%.1f,%.1f,%.1f\n",
			s.club, ball, s.launch+0.8*r.NormFloat64(), start, s.spin+250*r.NormFloat64(), axis,
			carry, side, ball/1.36+0.3*r.NormFloat64(), -3+0.7*r.NormFloat64(), path, face)
	}
	return []byte(b.String())
}
