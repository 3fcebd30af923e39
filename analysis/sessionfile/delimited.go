package sessionfile

import (
	"bytes"
	"encoding/csv"
	"errors"
	"io"
	"slices"
	"strings"
	"unicode/utf8"

	"rangepost/analysis"
)

// separators in the order they are preferred when none is understood better.
var separators = []rune{',', ';', '\t', '|'}

// sniffed is how much of a text is read to tell its encoding and separator.
const sniffed = 64 << 10

// readText reads CSV and its cousins. Encoding and separator are those under
// which the header is understood best, and of encodings under which it is
// understood alike that in which more cells are clubs or names of statistics;
// nothing else is known of the layout.
func readText(data []byte) (grid, *analysis.Refusal) {
	candidates, refusal := decodings(data)
	if refusal != nil {
		return grid{}, refusal
	}
	best := struct {
		encoding   int
		separator  rune
		score, fit int
		words      int
		clean      bool
	}{separator: separators[0], score: -1}
	for e, enc := range candidates {
		head := data[:min(len(data), sniffed)&^1]
		if len(candidates) == 1 && len(data) <= sniffed {
			head = data
		}
		text, refusal := decode(head, enc)
		if refusal != nil {
			continue
		}
		text = tidied(text)
		if len(data) > sniffed { // drop the line cut short
			if i := bytes.LastIndexAny(text, "\r\n"); i > 0 {
				text = text[:i]
			}
		}
		if refusal := checkLines(text); refusal != nil {
			return grid{}, refusal
		}
		for _, sep := range separators {
			if sep != separators[0] && !bytes.ContainsRune(text, sep) {
				continue
			}
			g, _ := split(text, sep) // what stood before any error tells enough
			at, score, _ := findHeader(g)
			words := 0
			if len(candidates) > 1 {
				words = g.words()
			}
			if fit := fitting(g, at, emptied); score > best.score || score == best.score && (fit > best.fit || fit == best.fit && e > best.encoding && words > best.words) {
				best.encoding, best.separator, best.score, best.fit, best.words, best.clean = e, sep, score, fit, words, clean(g, at)
			}
		}
		if len(data) > maxPasted || best.score >= 4 && best.clean && !bytes.Contains(text, []byte("  ")) && !bytes.Contains(text, []byte("```")) {
			continue
		}
		if best.encoding == e && best.clean && best.fit >= wellParted {
			if g, _ := split(text, best.separator); parted(g, best.fit) {
				continue // a heading may have two spaces in it
			}
		}
		gaps := false // part the cells of every row
		for _, way := range []rune{byGaps, byColumns, bySpaces, byWords, byFigures} {
			if gaps && (way == byColumns || way == bySpaces) {
				continue // a cell may have a space in it
			}
			if way != byWords && bytes.Count(text, []byte{'|'}) > 2*bytes.Count(text, []byte{'\n'}) {
				continue // drawn between the cells, it parts them
			}
			g := cut(text, way)
			at, score, _ := findHeader(g)
			fit := fitting(g, at, 0)
			gaps = gaps || way == byGaps && fit >= wellParted && partsAll(g, at)
			if way == bySpaces && (fit == 0 || fit < best.fit || at >= 0 && slices.ContainsFunc(g.rows[at].cells, isCutOff)) {
				continue // it cuts headings of two words into two, and sayings to bits
			}
			if score > best.score || score == best.score && fit > best.fit {
				best.encoding, best.separator, best.score, best.fit = e, way, score, fit
			}
		}
	}
	text, refusal := decode(data, candidates[best.encoding])
	if refusal != nil {
		return grid{}, refusal
	}
	text = tidied(text)
	if refusal := checkNUL(text); refusal != nil {
		return grid{}, refusal
	}
	if !utf8.Valid(text) {
		text = bytes.ToValidUTF8(text, []byte("\ufffd"))
	}
	if refusal := checkLines(text); refusal != nil {
		return grid{}, refusal
	}
	if best.separator < 0 {
		return cut(text, best.separator), nil
	}
	return split(text, best.separator)
}

// words counts the cells that hold a club or name a statistic: what stands under
// headings that say nothing tells the encoding too.
func (g grid) words() (n int) {
	for _, r := range g.rows[:min(len(g.rows), mostFigures)] {
		for _, c := range r.cells {
			text := plainText(c)
			if _, club := parseClub(text); club || namesSummary(text) {
				n++
			}
		}
	}
	return n
}

// isCutOff reports whether a cell of a heading shows that its row should be cut
// otherwise: it is a figure, or ends with a mark, or is one that parts cells.
func isCutOff(cell string) bool {
	return isFigure(cell) || strings.TrimRight(cell, ",;") != cell || cell == "/" || cell == "-" || cell == "|"
}

// emptied is how many cells may be missing at the end of a row that separators
// part: they are empty there.
const emptied = 2

// fitting counts the rows that are cut into as many cells as the header, or so
// many less, or where there is none the rows of figures that are all cut alike.
func fitting(g grid, header, less int) (n int) {
	if header < 0 {
		named, ok := unheaded(g)
		if !ok {
			return 0
		}
		at := slices.IndexFunc(named.rows, isNumbered)
		for _, r := range named.rows[at+1:] {
			if !slices.ContainsFunc(r.cells, func(c string) bool { return !isFigure(plainText(c)) }) && len(r.cells) > 0 {
				n++ // nothing else is in it, no mark that should have parted
			}
		}
		return n + fitting(named, at, less)
	}
	if len(g.rows[header].cells) < 2 {
		return 0
	}
	for _, r := range g.rows[header+1:] {
		if k := len(g.rows[header].cells) - len(r.cells); k == 0 || k > 0 && k <= less && len(r.cells) > 2 {
			n++
		}
	}
	return n
}

// partsAll reports whether every row under the header is cut into as many cells
// as it, three at least.
func partsAll(g grid, header int) bool {
	if header < 0 || len(g.rows[header].cells) < 3 {
		return false
	}
	for _, r := range g.rows[header+1:] {
		if !r.blank() && len(r.cells) != len(g.rows[header].cells) {
			return false
		}
	}
	return true
}

// wellParted is how many rows at least show that a separator parts the cells.
const wellParted = 3

// parted reports whether nearly all of a grid's rows are cut into as many cells
// as its header, at least three, if so many are.
func parted(g grid, fit int) bool {
	rows, narrow := 0, 0
	for _, r := range g.rows {
		if r.blank() {
			continue
		}
		if rows++; len(r.cells) < 3 {
			narrow++
		}
	}
	return 4*fit >= 3*(rows-narrow) && fit > narrow
}

// clean reports whether the first rows under a header are cut into as many
// cells as it, none with two figures in it.
func clean(g grid, header int) bool {
	if header < 0 {
		return false
	}
	rows := g.rows[header+1:]
	for _, r := range rows[:min(len(rows), 4)] {
		for _, c := range r.cells {
			if isFigure(plainText(c)) {
				continue // "6 186"
			}
			n := 0
			for w := range strings.FieldsSeq(c) {
				if isFigure(w) && strings.ContainsAny(w, "0123456789") {
					n++
				}
			}
			if n > 1 {
				return false
			}
		}
	}
	return fitting(g, header, emptied) > 0
}

// checkLines refuses lines with so many cells that merely splitting them would
// cost more memory than the file deserves.
func checkLines(text []byte) *analysis.Refusal {
	row := 0
	for line := range bytes.SplitSeq(text, []byte{'\n'}) {
		row++
		for _, sep := range separators {
			if n := bytes.Count(line, []byte(string(sep))); n >= 4*maxColumns {
				return tooWide(n+1).At(row, "")
			}
		}
	}
	return nil
}

// split cuts a text into rows and cells. Quotes are read strictly if they can
// be, and as ordinary characters if not.
func split(text []byte, sep rune) (grid, *analysis.Refusal) {
	text = closeUp(text, sep)
	g, err := splitQuoted(text, sep, false)
	if err != nil && err.Code == "quotes" {
		return splitQuoted(text, sep, true)
	}
	return g, err
}

// closeUp takes the spaces away that stand between quoted cells and their
// separator: `"Club" | "Carry"`. In a quoted cell a quote stands twice, so that
// nothing else is like it.
func closeUp(text []byte, sep rune) []byte {
	if sep == '\t' || !bytes.Contains(text, []byte(`" `+string(sep))) && !bytes.Contains(text, []byte(string(sep)+` "`)) {
		return text
	}
	text = bytes.ReplaceAll(text, []byte(`" `+string(sep)), []byte(`"`+string(sep)))
	return bytes.ReplaceAll(text, []byte(string(sep)+` "`), []byte(string(sep)+`"`))
}

func splitQuoted(text []byte, sep rune, lazy bool) (grid, *analysis.Refusal) {
	text = bytes.TrimPrefix(text, []byte("\ufeff"))
	r := csv.NewReader(bytes.NewReader(text))
	r.Comma, r.FieldsPerRecord, r.LazyQuotes = sep, -1, lazy
	var g grid
	for {
		cells, err := r.Read()
		if errors.Is(err, io.EOF) {
			return g, nil
		}
		var syntax *csv.ParseError
		if errors.As(err, &syntax) {
			return g, refuse("quotes", "Open the file in a spreadsheet program and export it again.",
				"A quotation mark opens here and is not closed.").At(syntax.StartLine, "")
		}
		if err != nil {
			return g, refuse("not_a_table", "Export the session again as CSV, XLSX or JSON.", "This is no table: %v.", err)
		}
		at, _ := r.FieldPos(0)
		if len(g.rows) >= maxRows {
			return g, tooManyRows().At(at, "")
		}
		for len(cells) > 0 && cells[len(cells)-1] == "" {
			cells = cells[:len(cells)-1]
		}
		for _, c := range cells {
			if len(c) > maxCell {
				return g, longCell(len(c)).At(at, "")
			}
		}
		if len(cells) > maxColumns {
			return g, tooWide(len(cells)).At(at, "")
		}
		g.rows = append(g.rows, row{at: at, cells: cells})
	}
}
