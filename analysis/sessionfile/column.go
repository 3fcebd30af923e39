package sessionfile

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"rangepost/analysis"
)

// A column is one column of the file with what it was found to hold.
type column struct {
	heading
	at     int // position in the file, from 0
	field  field
	unit   unit // column-wide; the zero unit while it is not known
	likely unit // what does for it where yards or metres make little difference
	plus   side // what a plus means, if the heading says so
	cells  []cell
	beside string // the unit that stands beside its values, "" if none does
	above  bool   // its unit is that of the lines above the table

	usual []map[field]float64 // by row, what its club usually gives, SI, nil where it is not known

	odd []*analysis.Refusal // why values of it were set aside, file order

	asked   bool // it is left out until the golfer says what it holds
	witness bool // it is left out, and counts to two sides

	// settled says that orient, the sign of a value written without a side in
	// words, is known. Columns that mean the same in a mirror are born settled.
	settled bool
	orient  float64
	hand    analysis.Hand
}

// A cell is one value of a numeric column. Its unit, if it wrote one itself,
// is already applied: si says so.
type cell struct {
	ok     bool
	v      float64
	si     bool
	side   side
	step   float64 // what one of its last digit is worth
	exact  bool    // came as a number, so its decimal mark is a dot
	parsed numeral
}

// key is the column's name in questions and answers: the same whatever order
// the columns stand in.
func (c column) key() string { return squeezed(c.text) }

func (c column) unitKnown() bool { return c.unit.dim != noDimension }

// unread reports whether values await a column-wide unit.
func (c column) unread() bool {
	for _, v := range c.cells {
		if v.ok && !v.si {
			return true
		}
	}
	return false
}

// count is how many rows have a value.
func (c column) count() (n int) {
	for _, v := range c.cells {
		if v.ok {
			n++
		}
	}
	return n
}

// raw lists the values as written, without their unit.
func (c column) raw() (vs []float64) {
	for _, v := range c.cells {
		if v.ok && !v.si {
			vs = append(vs, v.v)
		}
	}
	return vs
}

// sided reports whether the column's values carry their side in words, so
// that its sign needs no settling.
func (c column) sided() bool {
	for _, v := range c.cells {
		if v.ok && v.side != noSide {
			return true
		}
	}
	return false
}

// golfersWords reports whether sides are given by the golfer's own hand.
func (c *column) golfersWords() bool {
	return c.plus == open || c.plus == closed ||
		slices.ContainsFunc(c.cells, func(v cell) bool { return v.side == open || v.side == closed })
}

// setAside takes a value away that is none, and keeps why.
func (c *column) setAside(i int, why *analysis.Refusal) {
	c.cells[i] = cell{}
	c.odd = append(c.odd, why)
}

// tolerable is how many values there must be to each that is none: where there
// are fewer, the column is not what it is taken for, or the file is damaged.
const tolerable = 4

// unlike is the complaint about a column in which too much is none of its
// values, nil if it may be read.
func (c *column) unlike() *analysis.Refusal {
	if n := len(c.odd); n > 0 && c.count() < tolerable*n {
		return c.odd[0]
	}
	return nil
}

// oddLine says which values were set aside, "" if none was.
func oddLine(cs []column) string {
	var all []*analysis.Refusal
	for _, c := range cs {
		all = append(all, c.odd...)
	}
	slices.SortStableFunc(all, func(a, b *analysis.Refusal) int { return a.Row - b.Row })
	var said []string
	for _, r := range all[:min(len(all), 3)] {
		said = append(said, strings.TrimSuffix(r.Error(), "."))
	}
	if len(all) > len(said) {
		said = append(said, fmt.Sprintf("and %d more", len(all)-len(said)))
	}
	if len(all) == 0 {
		return ""
	}
	return plural(len(all), "value", "values") + " left out: " + strings.Join(said, "; ")
}

// splitCells takes the cells of a numeric column apart, with the decimal mark
// still open.
func (c *column) splitCells(rows []row, typed bool) {
	c.cells = make([]cell, len(rows))
	for i, r := range rows {
		text := plainText(r.cell(c.at))
		if isMissing(text) {
			continue
		}
		if from, ok := analysis.WindSide(text); ok && c.field == windFrom {
			c.cells[i] = cell{ok: true, si: true, exact: true, v: from}
			continue
		}
		n, ok := splitNumeral(text)
		if !ok {
			c.setAside(i, c.bad(r, ""))
			continue
		}
		exact := typed && n.before == "" && n.after == "" && !strings.ContainsAny(text, ", '")
		c.cells[i] = cell{ok: true, exact: exact, parsed: n}
	}
}

// bad complains about the cell of this column in row r.
func (c *column) bad(r row, because string) *analysis.Refusal {
	text := r.cell(c.at)
	if because == "" {
		because = "is not " + c.field.dimension().article()
		switch p := strings.ToLower(plainText(text)); {
		case strings.HasPrefix(p, "="):
			because = "is a formula, not its result"
		case strings.HasPrefix(p, "#"):
			because = "is a spreadsheet's error, not a value"
		case looksLikeTime(p):
			because = "is a date or a time, not " + c.field.dimension().article()
		}
	}
	return refuse("bad_value", "Remove it or leave it empty.", "'%s' %s.", shown(strings.TrimSpace(text)), because).At(r.at, c.text)
}

// words reads what stands around the number of a cell: a unit, a side, or
// both.
func (c *column) words(n numeral, pair int) (u unit, s side, ok bool) {
	read := func(w string) bool {
		if v, found := unitFor(w, c.field.dimension()); found && u.dim == noDimension {
			u = v
			return true
		}
		if v := sideOf(w, c.field, pair); v != noSide && s == noSide {
			s = v
			return true
		}
		return false
	}
	for _, text := range []string{n.before, n.after} {
		unitBefore, sideBefore := u, s
		words := strings.FieldsFunc(strings.ReplaceAll(text, "°", " ° "), func(r rune) bool { return r == ' ' || r == '(' || r == ')' || r == ',' || r == ';' })
		if !slices.ContainsFunc(words, func(w string) bool { return !read(strings.Trim(w, ".")) }) {
			continue // "yd S" word by word, or it would be yards
		}
		if u, s = unitBefore, sideBefore; !read(text) { // "m s"
			return u, s, false
		}
	}
	return u, s, true
}

// readCells reads the numbers with the file's decimal mark and letters. Values
// that are none are set aside, unless they are too many.
func (c *column) readCells(rows []row, mark byte, pair int) *analysis.Refusal {
	for i := range c.cells {
		if !c.cells[i].ok || c.cells[i].si {
			continue
		}
		read, why := c.readCell(c.cells[i], mark, pair)
		if !read.ok {
			c.setAside(i, c.bad(rows[i], why))
			continue
		}
		c.cells[i] = read
	}
	if c.sided() {
		for i, v := range c.cells {
			if v.ok && v.side == noSide && v.v != 0 {
				c.setAside(i, c.bad(rows[i], "has no side, while other rows of the column do"))
			}
		}
	}
	return c.unlike()
}

// readCell reads one number; why is what is wrong with it, "" if it is merely
// none.
func (c *column) readCell(in cell, mark byte, pair int) (out cell, why string) {
	n := in.parsed
	if in.exact {
		mark = '.'
	}
	v, ok := n.value(mark)
	if !ok {
		other := "comma"
		if mark == ',' {
			other = "dot"
		}
		if strings.ContainsAny(n.body, ".,") && n.mark() != noMark {
			why = "does not fit the rest of the file, where the decimal mark is no " + other
		}
		return cell{}, why
	}
	u, s, ok := c.words(n, pair)
	if !ok {
		return cell{}, ""
	}
	if s != noSide && n.negative {
		if s.positive() {
			return cell{}, "has both a minus and a side, and they disagree"
		}
		v = -v
	}
	out = cell{ok: true, v: v, side: s, step: math.Pow(0.1, float64(n.decimals(mark)))}
	if u.dim != noDimension {
		out.v, out.si, out.step = u.si(v), true, out.step*u.scale
		c.beside = u.name
	}
	return out, ""
}

// positive reports whether the side is one that is written with a plus where
// a file writes signs beside its words.
func (s side) positive() bool { return s == rightOfTarget || s == open || s == upward }

// letters collects the letters and abbreviations that stand beside numbers of
// sideways columns, and whether they stand beside one of a curve.
func (c *column) letters(into map[string]bool) {
	if !c.field.sideways() {
		return
	}
	for _, v := range c.cells {
		for _, text := range []string{v.parsed.before, v.parsed.after} {
			for _, w := range strings.Fields(strings.ReplaceAll(text, "°", " ")) {
				w = squeezed(w)
				if len(w) == 1 || isPaired(w) {
					if _, unit := unitFor(w, c.field.dimension()); !unit {
						into[w] = into[w] || c.field == spinAxis || c.field == sideSpin
					}
				}
			}
		}
	}
}

// letteredMarks collects those that stand beside a sign in their headings, which
// may be others.
func (c *column) letteredMarks(into map[string]bool) {
	for _, m := range c.marks {
		if w := squeezed(m.word); c.field.sideways() && isPaired(w) {
			into[w] = true
		}
	}
}

// decimalMark is the file's decimal mark, told from every number in it. Where
// nothing but "2,650" and the like is seen, only spin rates reach four digits:
// there it groups thousands, elsewhere it is a decimal.
func decimalMark(cs []column, rows []row) (byte, *analysis.Refusal) {
	var dot, comma [2]int // column, row of the first vote
	dots, commas := 0, 0
	vote := func(count *int, first *[2]int, c, r int) {
		if *count == 0 {
			*first = [2]int{c, r}
		}
		*count++
	}
	looseDot, looseComma := [2]int{}, [2]int{} // [grouping, decimal] by kind of column
	for ci := range cs {
		for ri, v := range cs[ci].cells {
			if !v.ok || v.exact {
				continue
			}
			loose := 1
			if f := cs[ci].field; f.dimension() == rate || f == altitude {
				loose = 0
			}
			switch v.parsed.mark() {
			case dotMark:
				vote(&dots, &dot, ci, ri)
			case commaMark:
				vote(&commas, &comma, ci, ri)
			case oneDot:
				looseDot[loose]++
			case oneComma:
				looseComma[loose]++
			}
		}
	}
	switch {
	case dots > 5*tolerable*commas:
		return '.', nil
	case commas > 5*tolerable*dots:
		return ',', nil
	case dots > 0 && commas > 0:
		odd := comma
		if commas > dots {
			odd = dot
		}
		c := cs[odd[0]]
		return 0, refuse("mixed_decimals", "Export the session again with one decimal mark.",
			"'%s' uses another decimal mark than the rest of the file.", shown(rows[odd[1]].cell(c.at))).At(rows[odd[1]].at, c.text)
	case looseComma[1] > 0 || looseDot[0] > 0 && looseDot[1] == 0:
		return ',', nil
	}
	return '.', nil
}

// sign is what a value is multiplied by to come out positive right of target
// (or up, or toward the toe).
func (c *column) sign(v cell) float64 {
	switch v.side {
	case rightOfTarget, upward:
		return 1
	case leftOfTarget, downward:
		return -1
	case open:
		return c.hand.Mirror()
	case closed:
		return -c.hand.Mirror()
	}
	return c.orient
}
