package shapes

import (
	"math"
	"math/rand/v2"
	"strconv"
	"strings"
	"unicode"

	"golang.org/x/text/unicode/norm"
	"golang.org/x/text/width"

	"rangepost/analysis"
)

// heading is a heading for the number, of the tier. Wordless headings are
// made by wordless, for all columns at once.
func (l *language) heading(r *rand.Rand, n analysis.Number, t Tier) string {
	full := l.full[n]
	if t == Ordinary {
		// Mostly the first, as everybody does.
		if chance(r, 0.5) {
			return full[0]
		}
		return pick(r, full)
	}
	rare := l.rare[n]
	if len(rare) > 0 && chance(r, 0.55) {
		h := pick(r, rare)
		if chance(r, 0.3) {
			h = l.disguise(r, h)
		}
		return h
	}
	return l.disguise(r, pick(r, full))
}

// disguise writes a heading the way a device, a spreadsheet or a hurried hand
// would. What it meant can still be read.
func (l *language) disguise(r *rand.Rand, h string) string {
	if l.code == "ja" || l.code == "ko" {
		return pick(r, []func(*rand.Rand, string) string{spaced, joined, narrow, slip})(r, h)
	}
	was := h
	for range 4 {
		h = pick(r, []func(*rand.Rand, string) string{
			camel, snake, kebab, shout, whisper, dotted, joined, doubled, slip, slips, bare, clipped, clipped, reversed, decomposed,
		})(r, h)
		if h != was {
			break
		}
	}
	return h
}

func fields(h string) []string {
	return strings.FieldsFunc(h, func(c rune) bool { return unicode.IsSpace(c) || strings.ContainsRune("-_/()", c) })
}

func camel(_ *rand.Rand, h string) string {
	w := fields(strings.NewReplacer(".", "", "'", "").Replace(h))
	for i := range w {
		c := []rune(strings.ToLower(w[i]))
		if i > 0 {
			c[0] = unicode.ToUpper(c[0])
		}
		w[i] = string(c)
	}
	return strings.Join(w, "")
}

func snake(_ *rand.Rand, h string) string {
	return strings.ToLower(strings.Join(fields(strings.ReplaceAll(h, ".", "")), "_"))
}

func kebab(_ *rand.Rand, h string) string {
	return strings.ToLower(strings.Join(fields(strings.ReplaceAll(h, ".", "")), "-"))
}

func dotted(_ *rand.Rand, h string) string { return strings.Join(fields(h), ".") }

func shout(_ *rand.Rand, h string) string { return strings.ToUpper(h) }

func whisper(_ *rand.Rand, h string) string { return strings.ToLower(h) }

func joined(_ *rand.Rand, h string) string { return strings.Join(strings.Fields(h), "") }

func doubled(_ *rand.Rand, h string) string {
	return " " + strings.Join(strings.Fields(h), "  ") + " "
}

func decomposed(_ *rand.Rand, h string) string { return norm.NFD.String(h) }

// bare drops the accents.
func bare(_ *rand.Rand, h string) string {
	return strings.Map(func(c rune) rune {
		if unicode.Is(unicode.Mn, c) {
			return -1
		}
		return c
	}, norm.NFD.String(h))
}

func reversed(_ *rand.Rand, h string) string {
	w := strings.Fields(h)
	if len(w) != 2 {
		return h
	}
	return w[1] + " " + w[0]
}

// clipped cuts words of five letters or more, long ones less, so that
// "Launch Angle" is "Laun. Ang." and no two words of the trade fall together.
func clipped(r *rand.Rand, h string) string {
	stop := pick(r, []string{"", ".", "."})
	w := strings.Fields(h)
	for i := range w {
		c := []rune(w[i])
		if len(c) >= 5 && !strings.HasSuffix(w[i], ".") && !strings.ContainsAny(w[i], "/-") {
			keep := 0.6
			if len(c) >= 8 { // often two words in one, and both have to be seen
				keep = 0.75
			}
			w[i] = string(c[:max(3, int(math.Ceil(keep*float64(len(c)))))]) + stop
		}
	}
	return strings.Join(w, " ")
}

// slip is one wrong letter in the longest word, if it has five: two changed
// round, one lost, one doubled, or another struck.
func slip(r *rand.Rand, h string) string { return slipIn(r, h, 5) }

// slipIn is slip where the longest word has at least so many letters.
func slipIn(r *rand.Rand, h string, least int) string {
	c := []rune(h)
	start, end, from := 0, 0, 0
	for i := 0; i <= len(c); i++ {
		if i == len(c) || !unicode.IsLetter(c[i]) {
			if i-from > end-start {
				start, end = from, i
			}
			from = i + 1
		}
	}
	if end-start < least {
		return h
	}
	i := start + 1 + r.IntN(end-start-2) // never the first letter
	switch r.IntN(4) {
	case 0:
		c[i], c[i+1] = c[i+1], c[i]
	case 1:
		c = append(c[:i], c[i+1:]...)
	case 2:
		c = append(c[:i], append([]rune{c[i]}, c[i:]...)...)
	default:
		if c[i] < 0x250 {
			c[i] = rune('a' + r.IntN(26))
		} else {
			c = append(c[:i], c[i+1:]...)
		}
	}
	return string(c)
}

func slips(r *rand.Rand, h string) string {
	return slip(r, slipIn(r, h, 9))
}

// spaced puts a space where none belongs.
func spaced(r *rand.Rand, h string) string {
	c := []rune(h)
	if len(c) < 4 {
		return h
	}
	i := 2 + r.IntN(len(c)-3)
	return string(c[:i]) + " " + string(c[i:])
}

// narrow writes half-width letters where there are some: of Japanese, the
// katakana, whose voicing marks then stand apart.
func narrow(_ *rand.Rand, h string) string {
	var b strings.Builder
	for _, c := range h {
		if unicode.Is(unicode.Katakana, c) {
			b.WriteString(strings.NewReplacer("\u3099", "\uff9e", "\u309a", "\uff9f").Replace(norm.NFD.String(string(c))))
			continue
		}
		b.WriteRune(c)
	}
	return width.Narrow.String(b.String())
}

// wordless is n headings that say nothing.
func wordless(r *rand.Rand, n int) []string {
	style := r.IntN(5)
	h := make([]string, n)
	for i := range h {
		switch style {
		case 0:
			h[i] = string(rune('A' + i))
			if i >= 26 {
				h[i] = "A" + string(rune('A'+i-26))
			}
		case 1:
			h[i] = "Col" + strconv.Itoa(i+1)
		case 2:
			h[i] = "Column " + strconv.Itoa(i+1)
		case 3:
			h[i] = "F" + strconv.Itoa(i+1)
		default:
			h[i] = "x" + strconv.Itoa(i+1)
		}
	}
	return h
}
