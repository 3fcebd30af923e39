// Package label reads which balls of a session were which, as a golfer types
// it, and labels the session's shots.
//
//	1-10 normal, 11-20 strong grip; 3 was a shank
//
// Pieces stand between commas, semicolons or line breaks. A piece is balls, then
// what they were: a number, or a range with a hyphen, a dash or "to", several
// joined by "and". Balls without a word belong to the word that comes next, so
// "1-5, 9 weak grip" is six balls of one set. A word for a mishit (shank, top,
// fat, ...) names no set: it sets those balls aside, and they stay in the set
// they are in. Everything else is a label, and a label is only ever a label:
// it is never read for what it says of a swing.
package label

import (
	"fmt"
	"regexp"
	"slices"
	"strconv"
	"strings"

	"rangepost/analysis"
)

// An Error says which piece of the text cannot be followed, and what to do.
type Error struct {
	Piece   string // as typed
	Message string
	Hint    string
}

func (e *Error) Error() string {
	return fmt.Sprintf("%q: %s. %s", e.Piece, e.Message, e.Hint)
}

// Ranges are balls and what they were, in the order typed.
type Ranges []Range

// A Range is some balls under one word.
type Range struct {
	Balls  []Span
	Label  string // as typed, "" for a mishit
	Mishit string // the golfer's own word for a mishit, "" for a set
}

// A Span is balls From to To, both counted.
type Span struct{ From, To int }

// MaxBall is the highest number a ball may have.
const MaxBall = 5000

const example = "Write it like this: 1-10 normal, 11-20 strong grip; 3 was a shank."

var (
	separators = regexp.MustCompile(`[,;\n\r]+`)
	// A number, or two with a dash or "to" between, not run into a word: the
	// 7 of "7i" is no ball.
	span    = regexp.MustCompile(`^(?i:balls?|shots?|no\.?|nr\.?|#)?\s*#?(\d+)(?:\s*(?:-|–|—|−|\.\.+|to\b)\s*#?(\d+))?(?:[\s:.=]|$)\s*`)
	joining = regexp.MustCompile(`^(?i:and|&|\+)\s+`)
	copula  = regexp.MustCompile(`^(?i:(?:was|were|is|are|=|:)\s+)?(?i:(?:all|just|both)\s+)?(?i:(?:a|an)\s+)?`)
)

// mishits are the trade's words for a ball that was not struck as meant
// (common practice, no source), in the singular.
var mishits = []string{
	"mishit", "mis-hit", "miss-hit", "shank", "top", "topped", "thin", "thinned", "fat", "chunk", "chunked",
	"duff", "duffed", "skull", "skulled", "sky", "skied", "whiff", "bad strike", "misread",
}

// Parse reads the text. Its error is an *Error.
func Parse(text string) (Ranges, error) {
	var all Ranges
	var waiting []Span
	var last string
	for _, piece := range separators.Split(text, -1) {
		piece = strings.TrimSpace(piece)
		if piece == "" {
			continue
		}
		last = piece
		balls, word, err := parsePiece(piece)
		if err != nil {
			return nil, err
		}
		waiting = append(waiting, balls...)
		if word == "" {
			continue
		}
		r := Range{Balls: waiting}
		if slices.Contains(mishits, singular(word)) {
			r.Mishit = word
		} else {
			r.Label = word
		}
		all = append(all, r)
		waiting = nil
	}
	switch {
	case len(waiting) > 0:
		return nil, &Error{last, "those balls have no name", example}
	case len(all) == 0:
		return nil, &Error{text, "there is nothing in it", example}
	}
	return all, all.check()
}

func parsePiece(piece string) (balls []Span, word string, err error) {
	rest := piece
	for {
		m := span.FindStringSubmatch(rest + " ")
		if m == nil {
			break
		}
		rest = strings.TrimSpace((rest + " ")[len(m[0]):])
		from, err := ball(piece, m[1])
		if err != nil {
			return nil, "", err
		}
		to := from
		if m[2] != "" {
			if to, err = ball(piece, m[2]); err != nil {
				return nil, "", err
			}
		}
		if to < from {
			return nil, "", &Error{piece, fmt.Sprintf("%d comes after %d", from, to), fmt.Sprintf("Write it as %d-%d.", to, from)}
		}
		balls = append(balls, Span{from, to})
		joined := joining.FindString(rest)
		if joined == "" || span.FindString(rest[len(joined):]+" ") == "" {
			break
		}
		rest = rest[len(joined):]
	}
	if len(balls) == 0 {
		return nil, "", &Error{piece, "it does not begin with the numbers of balls", example}
	}
	return balls, strings.TrimSpace(rest[len(copula.FindString(rest)):]), nil
}

func ball(piece, digits string) (int, error) {
	n, err := strconv.Atoi(digits)
	if err != nil || n < 1 || n > MaxBall {
		return 0, &Error{piece, "there is no ball " + digits, fmt.Sprintf("Balls are counted from 1, and %d is the most a session has.", MaxBall)}
	}
	return n, nil
}

func singular(word string) string {
	word = strings.ToLower(word)
	if slices.Contains(mishits, word) {
		return word
	}
	return strings.TrimSuffix(word, "s")
}

// check refuses a ball that is in two sets.
func (r Ranges) check() error {
	in := map[int]string{}
	for _, one := range r {
		if one.Mishit != "" {
			continue
		}
		for _, s := range one.Balls {
			for n := s.From; n <= s.To; n++ {
				if other, taken := in[n]; taken && other != one.Label {
					return &Error{one.Label, fmt.Sprintf("ball %d is in %q too", n, other), "Give each ball to one set."}
				}
				in[n] = one.Label
			}
		}
	}
	return nil
}

// Apply is the session with its shots labelled, and the mishits set aside with
// the golfer's own word. Balls that are not named stay as they are. The session
// given is not changed. Its error is an *Error, for a ball the session does not
// have.
func (r Ranges) Apply(s analysis.Session) (analysis.Session, error) {
	s.Shots = slices.Clone(s.Shots)
	at := map[int]int{}
	highest := 0
	for i, shot := range s.Shots {
		at[shot.N] = i
		highest = max(highest, shot.N)
	}
	for _, one := range r {
		for _, sp := range one.Balls {
			if sp.To > highest {
				return s, &Error{one.Label + one.Mishit, fmt.Sprintf("there is no ball %d", sp.To), fmt.Sprintf("This session has balls 1 to %d.", highest)}
			}
			for n := sp.From; n <= sp.To; n++ {
				i, ok := at[n]
				switch {
				case !ok:
				case one.Mishit == "":
					s.Shots[i].Label = one.Label
				case s.Shots[i].Aside == analysis.Used:
					s.Shots[i].Aside = analysis.Mishit
					s.Shots[i].Why = fmt.Sprintf("called %q when the sets were named", one.Mishit)
				}
			}
		}
	}
	return s, nil
}
