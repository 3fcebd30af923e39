package sessionfile

import (
	"slices"
	"strings"
	"unicode/utf8"
)

// looksUnder is how many rows under a row are looked at to tell whether it is
// a heading over figures.
const looksUnder = 8

// figuresUnder is how many columns of figures stand under the texts of row i: a
// row of headings is text as wide as the numbers below it, whatever its words
// say. It is 0 for a row that is no row of texts.
func figuresUnder(g grid, i int, numbered bool) int {
	texts, others := 0, 0
	for _, c := range g.rows[i].cells {
		switch text := plainText(c); {
		case isMissing(text):
		case digit(text[0]) || isFigure(text), utf8.RuneCountInString(text) < len(text) && namesSide(text): // numbers, times, days, clubs, 左
			others++
		default:
			texts++
		}
		if others*4 > len(g.rows[i].cells) {
			break // of figures, whatever the rest is
		}
	}
	if (texts == 0 || others*4 > texts || isUnitRow(g.rows[i])) && !numbered {
		return 0
	}
	filled, figures := make([]int, len(g.rows[i].cells)), make([]int, len(g.rows[i].cells))
	seen, beyond := 0, 0
	for _, r := range g.rows[i+1:] {
		if r.blank() || isUnitRow(r) {
			continue
		}
		if seen++; seen > looksUnder {
			break
		}
		for k, c := range r.cells {
			text := plainText(c)
			switch {
			case isMissing(text):
			case k >= len(filled) || isMissing(plainText(g.rows[i].cells[k])):
				beyond++
			default:
				filled[k]++
				if isFigure(text) {
					figures[k]++
				}
			}
		}
	}
	n := 0
	for k := range filled {
		if figures[k] > 0 && figures[k]*2 > filled[k] {
			n++
		}
	}
	if beyond > 2*seen {
		return 0 // the rows are wider than the texts
	}
	return n
}

// unheaded is a grid of bare figures with names put over its columns, as a
// spreadsheet names them; ok is false unless most rows are figures of one
// width.
func unheaded(g grid) (named grid, ok bool) {
	width := 0
	for _, r := range g.rows {
		width = max(width, len(r.cells))
	}
	full, rows, first := 0, 0, -1
	for i, r := range g.rows[:min(len(g.rows), headerWithin)] {
		if r.blank() {
			continue
		}
		rows++
		n := 0
		for _, c := range r.cells {
			if isFigure(plainText(c)) {
				n++
			}
		}
		if n >= 2 && 2*n > len(r.cells) && 2*len(r.cells) > width {
			full++
			if first < 0 {
				first = i
			}
		}
	}
	if full < 3 || 4*full < 3*rows || width > 60 {
		return g, false
	}
	names := row{at: g.rows[first].at, cells: placeNames(width)}
	g.rows = slices.Concat(g.rows[:first], []row{names}, g.rows[first:])
	return g, true
}

// placeNames names n columns as a spreadsheet does.
func placeNames(n int) (names []string) {
	for k := range n {
		name := string(rune('A' + k%26))
		if k >= 26 {
			name = string(rune('A'+k/26-1)) + name
		}
		names = append(names, "column "+name)
	}
	return names
}

// isFigure reports whether a plain text is a number, perhaps with a unit or a
// side beside it.
func isFigure(text string) bool {
	n, ok := splitNumeral(text)
	if !ok {
		return false
	}
	for _, beside := range []string{n.before, n.after} {
		for w := range strings.FieldsFuncSeq(beside, func(r rune) bool { return strings.ContainsRune(" ()[],;", r) }) {
			if w = strings.Trim(w, "."); w == "" || isUnit(w) || len(sideBySpelling()[squeezed(w)]) > 0 ||
				isPaired(squeezed(w)) {
				continue
			}
			return false
		}
	}
	return true
}
