// Package brief reads what a coach types to say what to work on,
//
//	face to path within 2, 7-iron, 40 balls by Sunday
//
// one number with its limits and, if said, a club, how many balls, and until
// when.
//
// # Grammar
//
//	text   = piece { ("," | ";" | line end) piece }
//	piece  = "set" label | shot count "of" count | { number | limits | ["with" ["the"]] club | count "balls" | until }
//	limits = "within" value ["of" value]
//	       | ["between" | "from"] value ("and" | "to" | "-") value
//	       | ("at least" | "over" | "min" ...) value | value ("or more" | "+")
//	       | ("at most" | "under" | "max" ...) value | value "or less"
//	       | "no" ["further" | "more" | "nearer the"] side "than" value
//	value  = ["-"] figure [unit] [side] | "square" | "straight" | "level" | ...
//	until  = ("by" | "until" | "before") day | ("in" | "for") count ("days" | "weeks")
//	day    = "Sunday" | "tomorrow" | "14 June" | "2026-06-14"
//
// Pieces come in any order, each at most once. A number goes by its name or by
// what golfers call it (names.go); a figure without a unit is in the golfer's
// own. A number with two sides needs to be told which one a figure is on, by a
// word ("2 left", "4 down", "1 open") or by its sign, right, up, toe and high
// being positive; "within 2" means both. With a side, "at least" and "at most"
// speak of the amount on it: "at most 4 down" allows level, and up.
package brief

import (
	"fmt"
	"strings"
	"time"

	"rangepost/analysis"
)

// Options are what a text does not say.
type Options struct {
	Hand  analysis.Hand  // settles open and closed
	Units analysis.Units // of figures without one
	Now   time.Time      // where the coach is: its zone says when a day ends
}

const example = "Write it as: face to path within 2, 7-iron, 40 balls by Sunday."

func wrong(piece, hint, format string, args ...any) *analysis.Refusal {
	return analysis.Refuse(hint, format, args...).In(piece)
}

const (
	maxText  = 400  // characters
	maxBalls = 2000 // more is a slip of the finger
)

// Parse reads a text. Until is the last millisecond of the day. The error, if any, is an *analysis.Refusal.
func Parse(text string, o Options) (analysis.Brief, error) {
	if len([]rune(text)) > maxText {
		return analysis.Brief{}, analysis.Refuse(fmt.Sprintf("One number, its limits, a club, balls and a day fit in %d characters.", maxText), "The text is too long.")
	}
	p := &parser{o: o}
	pieces := split(text)
	if len(pieces) == 0 {
		return analysis.Brief{}, analysis.Refuse(example, "There is nothing to read.")
	}
	for _, piece := range pieces {
		if err := p.piece(piece); err != nil {
			return analysis.Brief{}, err
		}
	}
	whole := strings.Join(strings.Fields(text), " ")
	switch {
	case !p.named:
		return analysis.Brief{}, wrong(whole, "Name one first: face, path, face to path, attack, club speed, carry ...", "which number is it about?")
	case p.limits == nil:
		return analysis.Brief{}, wrong(whole, "Write within, between, at least or at most, as in: face to path within 2.", "the %s needs limits.", p.b.Number)
	}
	if err := p.settle(); err != nil {
		return analysis.Brief{}, err
	}
	return p.b, nil
}

// split cuts a text into pieces. A comma inside a figure is not one.
func split(text string) (pieces []string) {
	var b strings.Builder
	end := func() {
		if piece := strings.Join(strings.Fields(b.String()), " "); piece != "" {
			pieces = append(pieces, piece)
		}
		b.Reset()
	}
	runes := []rune(text)
	digit := func(i int) bool { return i >= 0 && i < len(runes) && runes[i] >= '0' && runes[i] <= '9' }
	for i, r := range runes {
		switch {
		case r == ',' && digit(i-1) && digit(i+1):
			b.WriteRune(r)
		case strings.ContainsRune(",;、，；\n\r", r):
			end()
		default:
			b.WriteRune(r)
		}
	}
	end()
	return pieces
}
