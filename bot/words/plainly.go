package words

import (
	"strings"
)

// A gloss is a trade word and the plain one for it.
type gloss struct{ term, plain string }

// glosses are the trade words that get their plain word beside them once in a
// reply. Longer terms stand before the ones they contain.
var glosses = []gloss{
	{"face-to-path", "where the face pointed against the path"},
	{"club path", "the way the club was moving"},
	{"path", "the way the club was moving"},
	{"attack angle", "how far up or down the club was moving"},
	{"dynamic loft", "how far up the face looked"},
	{"spin loft", "the angle between loft and the club's movement"},
	{"spin axis", "how far the spin was tilted"},
	{"smash factor", "ball speed over club speed"},
	{"launch direction", "where the ball started"},
	{"strike across", "how far toward the toe the ball was struck"},
	{"lateral", "how far to the side it landed"},
	{"descent angle", "how steeply the ball came down"},
}

// alike are terms that share a gloss: explaining one explains the other.
var alike = map[string]string{"club path": "path"}

// Plainly puts the plain word in brackets behind the first of each trade word
// in a whole reply. Text in quotation marks is somebody else's and is left
// alone, and so is the line that only lists what was measured: the lines behind
// it say each number's value. The lines given are not changed.
func Plainly(lines []string) []string {
	said := map[string]bool{}
	out := make([]string, len(lines))
	for i, line := range lines {
		if strings.HasPrefix(line, measuredHead) {
			out[i] = line
			continue
		}
		out[i] = plainly(line, said)
	}
	return out
}

func plainly(line string, said map[string]bool) string {
	var b strings.Builder
	quoted := false
	for i := 0; i < len(line); {
		if line[i] == '"' {
			quoted = !quoted
		}
		g, ok := glossAt(line, i)
		if quoted || !ok {
			b.WriteByte(line[i])
			i++
			continue
		}
		b.WriteString(line[i : i+len(g.term)])
		i += len(g.term)
		key := glossKey(g.term)
		if !said[key] {
			said[key] = true
			b.WriteString(" (" + g.plain + ")")
		}
	}
	return b.String()
}

// glossAt finds the trade word that starts at i as a word of its own.
func glossAt(line string, i int) (gloss, bool) {
	if i > 0 && wordByte(line[i-1]) {
		return gloss{}, false
	}
	for _, g := range glosses {
		end := i + len(g.term)
		if end > len(line) || !strings.EqualFold(line[i:end], g.term) {
			continue
		}
		if end < len(line) && wordByte(line[end]) {
			continue
		}
		return g, true
	}
	return gloss{}, false
}

// wordByte reports whether c continues a word; bytes of other alphabets do.
func wordByte(c byte) bool {
	return c == '-' || c >= 'a' && c <= 'z' || c >= 'A' && c <= 'Z' || c >= '0' && c <= '9' || c >= 0x80
}
