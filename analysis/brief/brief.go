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
//	piece  = { number | limits | ["with" ["the"]] club | count "balls" | until }
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

// A Brief is a text understood. A nil limit is open; one of the two is set.
type Brief struct {
	Number    analysis.Number
	Low, High *float64      // SI
	Club      analysis.Club // zero if not said
	Balls     int           // 0 if not said
	Until     time.Time     // the last millisecond of the day, zero if not said
}

// Options are what a text does not say.
type Options struct {
	Hand   analysis.Hand // settles open and closed
	Metres bool          // lengths without a unit are metres rather than yards
	MPS    bool          // speeds without a unit are m/s rather than mph
	Now    time.Time     // where the coach is: its zone says when a day ends
}

// An Error says which piece of the text was not understood and what to do.
type Error struct {
	Piece   string // as typed; "" if it is the whole text
	Message string // whole sentence, quoting the piece
	Hint    string // whole sentence
}

func (e *Error) Error() string { return e.Message + " " + e.Hint }

const example = "Write it as: face to path within 2, 7-iron, 40 balls by Sunday."

func wrong(piece, hint, format string, args ...any) *Error {
	if r := []rune(piece); len(r) > 60 {
		piece = string(r[:60]) + "…"
	}
	return &Error{piece, fmt.Sprintf("'%s': ", piece) + fmt.Sprintf(format, args...), hint}
}

const (
	maxText  = 400  // characters
	maxBalls = 2000 // more is a slip of the finger
)

// Parse reads a text. The error, if any, is an *Error.
func Parse(text string, o Options) (Brief, error) {
	if len([]rune(text)) > maxText {
		return Brief{}, &Error{"", "The text is too long.", fmt.Sprintf("One number, its limits, a club, balls and a day fit in %d characters.", maxText)}
	}
	p := &parser{o: o}
	pieces := split(text)
	if len(pieces) == 0 {
		return Brief{}, &Error{"", "There is nothing to read.", example}
	}
	for _, piece := range pieces {
		if err := p.piece(piece); err != nil {
			return Brief{}, err
		}
	}
	whole := strings.Join(strings.Fields(text), " ")
	switch {
	case !p.named:
		return Brief{}, wrong(whole, "Name one first: face, path, face to path, attack, club speed, carry ...", "which number is it about?")
	case p.limits == nil:
		return Brief{}, wrong(whole, "Write within, between, at least or at most, as in: face to path within 2.", "the %s needs limits.", p.b.Number)
	}
	if err := p.settle(); err != nil {
		return Brief{}, err
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
