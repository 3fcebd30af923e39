package sessionfile

import (
	"slices"
	"unicode/utf8"
)

// A spelling is one way to read a word of a heading.
type spelling struct {
	parts   uint64
	quality float64 // 1 for words as they are, less for slips and abbreviations
}

// spellings lists what one word can be: itself, a compound of words, an
// abbreviation, or a slip of one; the better kind hides the worse, so that a
// word that exists is never taken for a slip of another.
func spellings(w string) []spelling {
	if of := exact(w, 1); of != nil {
		return of
	}
	if c := compound([]rune(w), unspaced(w), 4); c != nil {
		return c
	}
	if unspaced(w) {
		if s := slips(w); s != nil {
			return s
		}
		if s := misspelt(w); s != nil {
			return s
		}
		return partly([]rune(w))
	}
	if a := abbreviated(w); a != nil {
		return a
	}
	of, others := append(cutOff(w), headCutShort(w)...), []func(string) []spelling{slips, cutShort, misspelt, slippedShort}
	if of != nil {
		others = []func(string) []spelling{slips, misspelt} // what is cut off may be a slip all the same
	}
	for _, read := range others {
		if more := read(w); more != nil {
			return append(of, more...)
		}
	}
	return of
}

func exact(w string, quality float64) (of []spelling) {
	for _, p := range partsBySpelling()[w] {
		s := spelling{1 << p.part, quality}
		if !slices.Contains(of, s) {
			of = append(of, s)
		}
	}
	if of == nil && (utf8.RuneCountInString(w) > 1 || unspaced(w)) {
		for _, s := range sideBySpelling()[w] {
			of = append(of, spelling{1 << s.part(), quality})
		}
	}
	return of
}

// part is what a heading speaks of that names a side: "Heel/Toe", "Down/Up".
func (s sideWord) part() part {
	if s.where == nil {
		return sidePart
	}
	switch s.where[0] {
	case face:
		return facePart
	case path:
		return pathPart
	case spinAxis:
		return axisPart
	case strikeToe:
		return toePart
	}
	return verticalPart
}

// unspaced reports whether a word is written without spaces between its parts.
func unspaced(w string) bool {
	r, _ := utf8.DecodeRuneInString(w)
	return r >= 0x2e80
}
