// Package label reads what a golfer types to name sets of shots,
//
//	1-10 normal, 11-20 strong grip; 3 was a shank
//
// and applies it to a session.
//
// # Grammar
//
//	text   = piece { ("," | ";" | line end) piece }
//	piece  = (["shot" | "shots" | "#"] range { ("," | "and" | "&") range } | "all") [":" | "="] words
//	range  = number [("-" | "to") number]
//
// Any dash does for "-". A comma between ranges belongs to them, so "1-5, 9
// weak grip" names six shots. Words are free text without a comma or
// semicolon: a label is only ever a label, whatever it claims. Only where the
// words say no more than that the ball was mishit ("was a shank", "topped")
// hit to get warm ("warm-up") or besides ("extra") are the shots set aside instead, with the
// golfer's own word; the words for it are tables in aside.go.
package label

import (
	"fmt"
	"slices"
	"strconv"
	"strings"
	"unicode"

	"rangepost/analysis"
)

// Labels is a text understood: what each piece says of which shots.
type Labels []Piece

// A Piece names some shots, or sets them aside.
type Piece struct {
	Text   string // as typed, trimmed
	Ranges []Range
	All    bool           // every shot that no other piece names; Ranges is then empty
	Label  string         // name of the set; "" if set aside
	Aside  analysis.Aside // why: Mishit, WarmUp or Extra; Used if a label
	Word   string         // the golfer's for it; "" if a label
}

// A Range is shots First to Last, by Shot.N, both included.
type Range struct{ First, Last int }

const example = "Write shot numbers and a name, as in: 1-10 normal, 11-20 strong grip; 3 was a shank."

func wrong(piece, hint, format string, args ...any) *analysis.Refusal {
	return analysis.Refuse(hint, format, args...).In(piece)
}

const (
	maxText  = 4000    // bytes
	maxLabel = 100     // characters
	maxShot  = 1000000 // keeps a slip of the finger from becoming a big number
)

// Parse reads a text. A piece without shot numbers belongs to the name before it
// where one of goesOn says that the two are one: "start 3 right, curve 8 left".
// The error, if any, is an *analysis.Refusal.
func Parse(text string, goesOn ...func(name string) bool) (Labels, error) {
	if strings.TrimSpace(text) == "" {
		return nil, analysis.Refuse(example, "There is nothing to read.")
	}
	if len(text) > maxText {
		return nil, analysis.Refuse(fmt.Sprintf("Name the sets in at most %d characters.", maxText), "The text is too long.")
	}
	var labels Labels
	var ranges []Range // of pieces that so far had no words
	var typed []string
	for raw := range strings.FieldsFuncSeq(text, func(r rune) bool { return strings.ContainsRune(",;、，；\n\r", r) }) {
		piece := strings.Join(strings.Fields(raw), " ")
		if piece == "" {
			continue
		}
		if p, ok := allOf(piece); ok && len(ranges) == 0 {
			if err := checkName(piece, p.Label); err != nil {
				return nil, err
			}
			if slices.ContainsFunc(labels, func(p Piece) bool { return p.All }) {
				return nil, wrong(piece, "Say all once.", "the others have a name already.")
			}
			labels = append(labels, p)
			continue
		}
		rs, words, err := parsePiece(piece)
		if err != nil && len(ranges) == 0 && labels.goOn(piece, goesOn) {
			continue
		}
		if err != nil {
			return nil, err
		}
		ranges, typed = append(ranges, rs...), append(typed, piece)
		if words == "" {
			continue
		}
		p := Piece{Text: strings.Join(typed, ", "), Ranges: ranges}
		if p.Aside, p.Word = aside(words); p.Aside == analysis.Used {
			p.Label = words
		}
		labels = append(labels, p)
		ranges, typed = nil, nil
	}
	switch {
	case len(ranges) > 0:
		return nil, wrong(strings.Join(typed, ", "), "Put the name of the set after the numbers, as in: 11-20 strong grip.", "these shots have no name.")
	case len(labels) == 0:
		return nil, analysis.Refuse(example, "There is nothing to read.")
	}
	return labels, nil
}

// allOf reads a piece about every shot.
func allOf(piece string) (p Piece, ok bool) {
	name, ok := cutWord(strings.Replace(piece, ":", " ", 1), "all")
	name = strings.TrimSpace(strings.TrimLeft(name, ":= "))
	return Piece{Text: piece, All: true, Label: name}, ok && name != ""
}

// goOn takes a piece for more of the name before it, where it is.
func (ls Labels) goOn(piece string, goesOn []func(string) bool) bool {
	if len(ls) == 0 {
		return false
	}
	p := &ls[len(ls)-1]
	whole := p.Label + ", " + piece
	if p.Label == "" || len([]rune(whole)) > maxLabel || !slices.ContainsFunc(goesOn, func(is func(string) bool) bool { return is(whole) }) {
		return false
	}
	p.Label, p.Text = whole, p.Text+", "+piece
	return true
}

// parsePiece reads the ranges at the start of a piece and the words after
// them.
func parsePiece(piece string) (ranges []Range, words string, err error) {
	rest := piece
	for _, prefix := range []string{"shots", "shot", "balls", "ball", "nos.", "no.", "#"} {
		if len(rest) >= len(prefix) && strings.EqualFold(rest[:len(prefix)], prefix) {
			rest = strings.TrimSpace(rest[len(prefix):])
			break
		}
	}
	for {
		var r Range
		r, rest, err = parseRange(piece, rest)
		if err != nil {
			return nil, "", err
		}
		ranges = append(ranges, r)
		next, joined := cutWord(rest, "and", "&", "+")
		if !joined || !startsWithDigit(strings.TrimPrefix(next, "#")) {
			break
		}
		rest = strings.TrimPrefix(next, "#")
	}
	words = strings.TrimSpace(strings.TrimLeft(rest, ":= "))
	return ranges, words, checkName(piece, words)
}

func checkName(piece, name string) error {
	if len([]rune(name)) > maxLabel {
		return wrong(piece, fmt.Sprintf("Use at most %d characters.", maxLabel), "the name is too long.")
	}
	if strings.ContainsFunc(name, unicode.IsControl) {
		return wrong(piece, "Type the name again.", "the name holds a character that cannot be shown.")
	}
	return nil
}

// dashes are the characters people's keyboards make of a hyphen between
// numbers.
const dashes = "-\u2010\u2011\u2012\u2013\u2014\u2212\uff0d~\u301c\uff5e"

func parseRange(piece, s string) (r Range, rest string, err error) {
	r.First, rest, err = parseNumber(piece, s)
	if err != nil {
		return r, "", err
	}
	r.Last = r.First
	next, to := cutWord(rest, "to")
	if !to {
		trimmed := strings.TrimSpace(rest)
		for _, d := range dashes {
			if after, ok := strings.CutPrefix(trimmed, string(d)); ok {
				next, to = strings.TrimSpace(after), true
				break
			}
		}
	}
	if !to || !startsWithDigit(next) {
		return r, rest, nil
	}
	r.Last, rest, err = parseNumber(piece, next)
	if err == nil && r.Last < r.First {
		err = wrong(piece, fmt.Sprintf("Write %d-%d.", r.Last, r.First), "the range runs backwards.")
	}
	return r, rest, err
}

// parseNumber reads a shot number from the start of s.
func parseNumber(piece, s string) (n int, rest string, err error) {
	end := 0
	for end < len(s) && s[end] >= '0' && s[end] <= '9' {
		end++
	}
	if end == 0 {
		return 0, "", wrong(piece, example, "a piece begins with shot numbers, this one does not.")
	}
	n, convErr := strconv.Atoi(s[:end])
	if convErr != nil || n < 1 || n > maxShot {
		return 0, "", wrong(piece, "Shots are counted from 1.", "%s is not the number of a shot.", s[:end])
	}
	// "7i" or "10yd" is a word, not the number of a shot.
	if r := []rune(s[end:] + " ")[0]; unicode.IsLetter(r) || r == '.' {
		return 0, "", wrong(piece, example, "%s is not the number of a shot.", strings.Fields(s)[0])
	}
	return n, s[end:], nil
}

func startsWithDigit(s string) bool { return s != "" && s[0] >= '0' && s[0] <= '9' }

// cutWord cuts one of the words, whole, from the start of s.
func cutWord(s string, words ...string) (rest string, ok bool) {
	trimmed := strings.TrimSpace(s)
	for _, w := range words {
		if len(trimmed) > len(w) && strings.EqualFold(trimmed[:len(w)], w) && trimmed[len(w)] == ' ' {
			return strings.TrimSpace(trimmed[len(w):]), true
		}
	}
	return s, false
}

// Apply returns the session with the labels given to its shots. Shots no piece
// names keep the label they had; one that is called a mishit, a warm-up or extra
// keeps its label and is set aside, unless it already was. The session handed in is not changed. The
// error, if any, is an *analysis.Refusal: a piece names a shot the session has not, or a
// shot gets two names.
func (ls Labels) Apply(s analysis.Session) (analysis.Session, error) {
	at := make(map[int]int, len(s.Shots))
	low, high := 0, 0
	for i, shot := range s.Shots {
		at[shot.N] = i
		if i == 0 {
			low = shot.N
		}
		low, high = min(low, shot.N), max(high, shot.N)
	}
	out := s
	out.Shots = slices.Clone(s.Shots)
	named := map[int]string{}
	for _, p := range ls {
		for _, r := range p.Ranges {
			found := false
			if r.Last > high || r.First < low {
				return s, wrong(p.Text, "Use the numbers of the session's own shots.", "%s", whichShots(r, low, high))
			}
			for n := r.First; n <= r.Last; n++ {
				i, ok := at[n]
				if !ok {
					continue
				}
				found = true
				shot := &out.Shots[i]
				if p.Aside != analysis.Used {
					if shot.Aside == analysis.Used {
						shot.Aside, shot.Why = p.Aside, p.Word
					}
					continue
				}
				if before, twice := named[n]; twice && before != p.Label {
					return s, wrong(p.Text, "Give every shot one name.", "shot %d is already named '%s'.", n, before)
				}
				named[n] = p.Label
				shot.Label = p.Label
			}
			if !found {
				return s, wrong(p.Text, "Use the numbers of the session's own shots.", "%s", whichShots(r, low, high))
			}
		}
	}
	for _, p := range ls {
		for i := range out.Shots {
			if _, done := named[out.Shots[i].N]; p.All && !done {
				out.Shots[i].Label = p.Label
			}
		}
	}
	return out, nil
}

func whichShots(r Range, low, high int) string {
	if high == 0 {
		return "the session has no shots."
	}
	names := fmt.Sprintf("shot %d", r.First)
	if r.Last != r.First {
		names = fmt.Sprintf("shots %d to %d", r.First, r.Last)
	}
	return fmt.Sprintf("the session has no %s; its shots are %d to %d.", names, low, high)
}
