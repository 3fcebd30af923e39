package sessionfile

import (
	"strconv"
	"strings"
	"unicode"
)

// Columns that nobody named are called by their place: "A, B, C", "Column 1,
// Column 2", "F1 (mph), F2 (deg)". Such a row is a heading though it says
// nothing, and the letters in it mean nothing.

// leastNumbered is how many names a numbered row has at least: two in order may
// be anything.
const leastNumbered = 3

// isNumbered reports whether a row's cells are names that count: one word
// before all the numbers, or single letters, each after the one before it.
func isNumbered(r row) bool {
	n, filled, last, word := 0, 0, -1, ""
	for _, c := range r.cells {
		text := plainText(c)
		if text == "" {
			continue
		}
		filled++
		if digit(text[0]) {
			continue // a figure names no place
		}
		w, at, _, ok := placeName(text)
		switch {
		case !ok:
		case n == 0:
			n, last, word = 1, at, w
		case w == word && at > last:
			n, last = n+1, at
		}
	}
	return n >= leastNumbered && n*4 >= filled*3
}

// placeName takes a name that is a place apart: the word before it, the place,
// and what follows it. A single letter has no word: "C (yd)" is place 3.
func placeName(text string) (word string, at int, rest string, ok bool) {
	text = strings.TrimSpace(text)
	end := strings.IndexFunc(text, func(r rune) bool { return !unicode.IsLetter(r) })
	if end < 0 {
		end = len(text)
	}
	word, rest = text[:end], text[end:]
	digits := strings.TrimLeft(rest, " _.-#")
	if letter := strings.TrimPrefix(rest, " "); len(letter) > 0 && len(letter) < 3 && len(rest) > len(letter) && strings.Trim(letter, "ABCDEFGHIJKLMNOPQRSTUVWXYZ") == "" {
		_, at, rest, ok = placeName(letter) // "column A"
		return strings.ToLower(word), at, rest, ok
	}
	n := 0
	for n < len(digits) && digit(digits[n]) {
		n++
	}
	switch {
	case word != "" && n > 0 && n < 4 && len(word) <= 20:
		at, _ = strconv.Atoi(digits[:n])
		word, rest = strings.ToLower(word), digits[n:]
	case len(word) == 1 && word[0] >= 'A' && word[0] <= 'Z':
		at, word = int(word[0]-'A')+1, ""
	case len(word) == 2 && word[0] >= 'A' && word[0] <= 'C' && word[1] >= 'A' && word[1] <= 'Z':
		at, word = 26*int(word[0]-'A'+1)+int(word[1]-'A')+1, ""
	default:
		return "", 0, "", false
	}
	next := strings.TrimLeft(rest, " ")
	ok = next == "" || !unicode.IsLetter([]rune(next)[0]) && !digit(next[0]) && next[0] != '.' || next != rest && isUnit(next)
	return word, at, rest, ok
}

// numberedHeadings reads a numbered row: of each name only what follows the
// place says something, a unit or what a plus means.
func numberedHeadings(r row) []heading {
	hs := make([]heading, len(r.cells))
	for i, c := range r.cells {
		text := plainText(c)
		_, _, rest, ok := placeName(text)
		if !ok {
			hs[i] = readHeading(c).guessing()
			continue
		}
		hs[i].text = shown(text)
		outside, inside := brackets(rest)
		for _, said := range append(inside, strings.Trim(outside, " _,;:/|-")) {
			if said != "" {
				hs[i].remark(said)
			}
		}
	}
	return hs
}
