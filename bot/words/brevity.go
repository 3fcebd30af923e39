package words

import (
	"regexp"
	"slices"
	"strings"
)

// Within joins lines, the first of them always, and of the others those that
// there are words left for.
func Within(most int, lines ...string) string {
	var out []string
	for i, line := range lines {
		n := len(strings.Fields(line))
		if i > 0 && n > most {
			continue
		}
		most -= n
		out = append(out, line)
	}
	return strings.Join(out, "\n")
}

// unbracketed is a sentence without what it says in brackets outside of
// quotations.
func unbracketed(text string) string {
	var b strings.Builder
	depth, quoted := 0, false
	for _, r := range text {
		switch {
		case r == '"':
			quoted = !quoted
		case r == '(' && !quoted:
			depth++
			continue
		case r == ')' && !quoted && depth > 0:
			depth--
			continue
		}
		if depth == 0 {
			b.WriteRune(r)
		}
	}
	text = strings.Join(strings.Fields(b.String()), " ")
	return strings.NewReplacer(" ,", ",", " .", ".", " ;", ";", " :", ":").Replace(text)
}

// figures counts the figures in lines.
func figures(lines []string) (n int) {
	for _, line := range lines {
		for _, word := range strings.Fields(line) {
			if strings.IndexFunc(word, func(r rune) bool { return r >= '0' && r <= '9' }) == 0 {
				n++
			}
		}
	}
	return n
}

var counted = regexp.MustCompile(`\b\d+ balls`)

// numeral is a number under a hundred in letters, which is read and not counted.
func numeral(n int) string {
	letters := []string{
		"no", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven", "twelve",
		"thirteen", "fourteen", "fifteen", "sixteen", "seventeen", "eighteen", "nineteen",
	}
	tens := []string{"", "", "twenty", "thirty", "forty", "fifty", "sixty", "seventy", "eighty", "ninety"}
	switch {
	case n < 0 || n > 99:
		return figure(float64(n), 1)
	case n < len(letters):
		return letters[n]
	case n%10 == 0:
		return tens[n/10]
	}
	return tens[n/10] + "-" + letters[n%10]
}

// Lines joins those of some lines that say something.
func Lines(lines ...string) string { return strings.Join(nonEmpty(lines...), "\n") }

func nonEmpty(lines ...string) []string {
	return slices.DeleteFunc(lines, func(line string) bool { return line == "" })
}
