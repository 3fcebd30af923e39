package sessionfile

import (
	"slices"
	"strings"
	"unicode"
)

// Figures that somebody typed line by line, all lines alike, perhaps under a
// line of names: "carry, offline, launch" over "152 8R 17". What parts the names
// need not be what parts the figures, and a unit or a side may stand glued to
// its figure or beside it.

// partings are the marks that part what is typed in a line, those that stand for
// nothing else first; the blank is tried when none of them does.
var partings = []string{";", " / ", "|", "\t", " - ", ", ", "  ", ","}

// leastRows is how many lines of figures there are at least.
const leastRows = 3

// readFigures cuts lines into figures: those that all have as many as most lines
// have. A line of as many names above them is the heading. It is empty where
// fewer than leastRows lines are figures, or fewer than half.
func readFigures(all []row) (g grid) {
	var best [][]string
	most, wide := 0, 0
	filled := 0
	for _, r := range all {
		if strings.TrimSpace(r.cells[0]) != "" {
			filled++
		}
	}
	take := func(cut [][]string) {
		n, k := alike(cut)
		if n > most || n == most && k > wide {
			best, most, wide = cut, n, k
		}
	}
	for _, part := range partings {
		take(cutAll(all, func(line string) []string { return figureCells(line, part) }))
	}
	if 2*most < filled {
		after := cutAll(all, func(line string) []string { return blankCells(line, false) })
		before := cutAll(all, func(line string) []string { return blankCells(line, true) })
		if beforeFits(all, before, after) {
			before, after = after, before
		}
		take(after)
		take(before)
	}
	if most < leastRows || wide < 2 || 2*most < filled {
		return grid{}
	}
	headed := false
	for i, r := range all {
		line := plainText(r.cells[0])
		switch cells := best[i]; {
		case len(cells) == wide:
			headed = true
			g.rows = append(g.rows, row{r.at, cells})
		case headed || line == "":
			g.rows = append(g.rows, row{r.at, nonEmpty(line)})
		default:
			names := nameCells(r.cells[0], wide)
			headed = names != nil
			if names == nil {
				names = nonEmpty(line)
			}
			g.rows = append(g.rows, row{r.at, names})
		}
	}
	return g
}

func nonEmpty(line string) []string {
	if line == "" {
		return nil
	}
	return []string{line}
}

func cutAll(all []row, cut func(string) []string) [][]string {
	out := make([][]string, len(all))
	for i, r := range all {
		out[i] = cut(r.cells[0])
	}
	return out
}

// alike is how many lines have the same number of cells, more than one, and
// that number.
func alike(cut [][]string) (n, wide int) {
	count := map[int]int{}
	for _, cells := range cut {
		k := len(cells)
		if k < 2 || k > maxColumns {
			continue
		}
		if count[k]++; count[k] > n || count[k] == n && k > wide {
			n, wide = count[k], k
		}
	}
	return n, wide
}

// figureCells cuts a line at one mark; nil unless every cell is a figure.
func figureCells(line, part string) []string {
	if part != "\t" {
		line = plainText(line)
	}
	if !strings.Contains(line, part) {
		return nil
	}
	var cells []string
	for cell := range strings.SplitSeq(line, part) {
		cell = plainText(cell)
		if cell == "" && part == "  " {
			continue
		}
		if !isFigure(cell) && !isMissing(cell) {
			return nil
		}
		cells = append(cells, cell)
	}
	return cells
}

// blankCells cuts a line of figures that only blanks part, with a side before
// its figure or after it; nil if it is no such line.
func blankCells(line string, before bool) []string {
	var cells []string
	side := ""
	for _, w := range strings.Fields(plainText(line)) {
		bare := strings.TrimRight(strings.Trim(w, "()[]"), ",;")
		last := len(cells) - 1
		switch {
		case strings.ContainsFunc(bare, unicode.IsDigit):
			if !isFigure(bare) {
				return nil
			}
			if side != "" && (bare[0] == '-' || bare[0] == '+') {
				return nil // a side says what a sign would
			}
			cells = append(cells, strings.TrimSpace(side+" "+bare))
			side = ""
		case namesSide(bare) && before && side == "":
			side = bare
		case last >= 0 && side == "" && (isUnit(bare) || namesSide(bare)):
			cells[last] += " " + bare
			if !isFigure(cells[last]) {
				return nil
			}
		default:
			return nil
		}
	}
	if side != "" {
		return nil
	}
	return cells
}

// beforeFits reports whether sides stand before their figures rather than after:
// whether they are then of columns whose names are of sideways numbers, or,
// where the names do not say, of the smaller figures.
func beforeFits(all []row, before, after [][]string) bool {
	b, a := sidewaysNames(all, before), sidewaysNames(all, after)
	return b > a || b == a && offSide(before) < offSide(after)
}

// sidewaysNames is how many of the columns that say a side have a name of a
// sideways number over them, less those that have another.
func sidewaysNames(all []row, cut [][]string) (n int) {
	_, wide := alike(cut)
	var names []string
	for i, cells := range cut {
		if len(cells) != wide || wide == 0 {
			if names == nil {
				names = nameCells(all[i].cells[0], wide)
			}
			continue
		}
		if names == nil {
			return 0
		}
		for k, c := range cells {
			if !saysSide(c) {
				continue
			}
			h := readHeading(names[k]).guessing()
			fields := h.meaning.fields
			if len(fields) == 0 && len(h.guesses) > 0 {
				fields = []field{h.guesses[0].field}
			}
			switch {
			case len(fields) == 0:
			case slices.ContainsFunc(fields, field.sideways):
				n++
			default:
				n--
			}
		}
		return n
	}
	return 0
}

// saysSide reports whether a word or letter for a side stands beside a figure.
func saysSide(cell string) bool {
	n, ok := splitNumeral(cell)
	return ok && slices.ContainsFunc(strings.Fields(n.before+" "+n.after), namesSide)
}

// offSide is how far the figures with sides are off to the side, beside the
// largest of their line: what is off to a side is small beside how far it went.
// It is above 1 where no line can be cut so.
func offSide(cut [][]string) float64 {
	var shares []float64
	for _, cells := range cut {
		most, sided := 0.0, 0.0
		for _, c := range cells {
			n, ok := splitNumeral(c)
			if !ok {
				continue
			}
			v, _ := n.value('.')
			if w, ok := n.value(','); ok && v == 0 {
				v = w
			}
			v = max(v, -v)
			most = max(most, v)
			if saysSide(c) {
				sided = max(sided, v)
			}
		}
		if most > 0 {
			shares = append(shares, sided/most)
		}
	}
	if len(shares) == 0 {
		return 2
	}
	return median(shares)
}

// nameCells cuts a line of names into as many as there are columns, nil if no
// mark does.
func nameCells(line string, wide int) []string {
	for _, part := range append(slices.Clone(partings), " ", "/") {
		if !strings.Contains(line, part) {
			continue
		}
		var cells []string
		for cell := range strings.SplitSeq(line, part) {
			if cell = plainText(cell); cell != "" {
				cells = append(cells, cell)
			}
		}
		if len(cells) == wide && !slices.ContainsFunc(cells, func(c string) bool { return isFigure(c) || !strings.ContainsFunc(c, unicode.IsLetter) }) {
			return cells
		}
	}
	return nil
}
