package brief

import (
	"strconv"
	"strings"
	"unicode"
)

// A token is a word, a figure or a sign of a piece, in lower case.
type token struct {
	text   string
	figure bool
	value  float64 // of a figure
}

// spellings are signs and units that one word stands for.
var spellings = strings.NewReplacer(
	"±", " within ", "+/-", " within ", "≤", " at most ", "<=", " at most ", "≥", " at least ", ">=", " at least ",
	"<", " at most ", ">", " at least ", "m/s", " mps ", "km/h", " kph ", "°", " degrees ", "º", " degrees ",
	"\u2010", "-", "\u2011", "-", "\u2012", "-", "\u2013", "-", "\u2014", "-", "\u2212", "-", "…", " to ", "..", " to ", "_", " ",
)

// tokens reads a piece: runs of letters, figures with their decimals, and
// every other sign by itself.
func tokens(piece string) (all []token) {
	runes := []rune(spellings.Replace(strings.ToLower(piece)))
	digit := func(i int) bool { return i < len(runes) && runes[i] >= '0' && runes[i] <= '9' }
	for i := 0; i < len(runes); {
		from := i
		switch r := runes[i]; {
		case unicode.IsSpace(r):
			i++
			continue
		case digit(i):
			for digit(i) || i < len(runes) && strings.ContainsRune(".,", runes[i]) && digit(i+1) {
				i++
			}
			text := string(runes[from:i])
			value, err := strconv.ParseFloat(decimal(text), 64)
			all = append(all, token{text, err == nil, value})
			continue
		case unicode.IsLetter(r):
			for i < len(runes) && (unicode.IsLetter(runes[i]) || unicode.IsMark(runes[i])) {
				i++
			}
		default:
			i++
		}
		all = append(all, token{text: string(runes[from:i])})
	}
	return all
}

// decimal writes a figure the way the machine reads it: a comma before three
// digits stands between thousands, any other is a decimal one.
func decimal(text string) string {
	i := strings.LastIndexByte(text, ',')
	if i < 0 {
		return text
	}
	if len(text)-i-1 == 3 || strings.Contains(text, ".") {
		return strings.ReplaceAll(text, ",", "")
	}
	return strings.Replace(text, ",", ".", 1)
}
