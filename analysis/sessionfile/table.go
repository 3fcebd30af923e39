package sessionfile

import (
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"slices"
	"strings"
	"unicode"

	"rangepost/analysis"
)

// A table is a grid in which the header was found: columns, and the rows that
// are shots.
type table struct {
	name      string
	typed     bool
	score     int // how well the header was understood
	header    row
	columns   []column // every non-empty header cell, file order
	unitRow   row      // units under the header, empty if there is none
	rows      []row    // shots
	clubs     []string // club of each row by a heading row above it, "" if none
	clubAbove string   // club the lines above the header name, "" if none
	preamble  []row

	unitsAbove map[dimension]unit // of distances and speeds, by the preamble
	figured    []bool             // by position: nearly every cell has a digit or is a club
	full       []bool             // by position: nearly every row has a cell
	summaries  int
	notes      int // rows without a single number
}

// findTable finds header, unit row and shots in a grid.
func findTable(g grid) (table, *analysis.Refusal) {
	if len(g.rows) == 0 || !slices.ContainsFunc(g.rows, func(r row) bool { return !r.blank() }) {
		return table{}, refuse("empty", "Export the session again and look into the file before posting it.", "The file is empty.")
	}
	bare := g
	at, score, hs := findHeader(g)
	if at < 0 {
		named, ok := unheaded(g)
		if !ok {
			return table{}, noHeader(bare)
		}
		g = named
		at, score, hs = findHeader(g)
		if at < 0 {
			return table{}, noHeader(bare)
		}
	}
	t := table{name: g.name, typed: g.typed, score: score, header: g.rows[at], preamble: g.rows[:at], unitsAbove: unitsAbove(g.rows[:at])}
	for i, h := range hs {
		if h.text != "" {
			t.columns = append(t.columns, column{heading: h, at: i})
		}
	}
	rest := g.rows[at+1:]
	for len(rest) > 0 && rest[0].blank() {
		rest = rest[1:]
	}
	if len(rest) > 0 && isUnitRow(rest[0]) {
		t.unitRow, rest = rest[0], rest[1:]
	}
	t.figured, t.full = figured(rest, len(hs))
	club := ""
	for _, r := range rest {
		switch {
		case r.blank(), t.isHeader(r), isUnitRow(r):
		case t.isSummary(r):
			t.summaries++
		case isClubRow(r):
			club, _ = onlyCell(r)
		case !t.isShot(r):
			t.notes++
		default:
			if refusal := t.checkRow(r); refusal != nil {
				return t, refusal
			}
			t.rows = append(t.rows, r)
			t.clubs = append(t.clubs, club)
		}
	}
	if len(t.rows) == 0 {
		return t, refuse("no_shots", "Export a session with at least one shot in it.", "There is a header but no shot under it.").At(t.header.at, "")
	}
	if !slices.ContainsFunc(t.columns, func(c column) bool { return len(c.guesses)+len(c.meaning.fields) > 0 }) && !t.looksMeasured() {
		return t, noHeader(bare)
	}
	return t, nil
}

// looksMeasured reports whether a table without a word of the trade has figures
// as shots have: three columns at least that hang together as numbers of ours,
// or two if some say a side in words, or turn so many times a minute, or are in
// a unit of speeds or angles; or one if there are clubs beside them.
func (t table) looksMeasured() bool {
	t.columns = slices.Clone(t.columns)
	for i := range t.columns {
		t.columns[i].field = ignored
	}
	v := t.newVote(Options{})
	if v == nil {
		return false
	}
	held, sided, measured, clubs := 0, 0, 0, 0
	way := v.claimed()
	if len(way) <= 8 {
		way = v.best()
	} else { // many columns hang together, whatever they are
		way, _ = v.climb(way)
	}
	for i, at := range way {
		if v.candidates[i].fields[at] != ignored {
			held++
		}
		given := func(of ...dimension) bool {
			return slices.ContainsFunc(t.unitsOf(v.candidates[i].column), func(u string) bool {
				return slices.ContainsFunc(of, func(d dimension) bool { _, ok := unitFor(u, d); return ok })
			})
		}
		if v.candidates[i].figures.sided || given(rate) {
			sided = 1
		}
		if given(speed, angle) {
			measured = 1
		}
	}
	if slices.ContainsFunc(t.columns, func(c column) bool { return c.field == clubField }) || slices.ContainsFunc(t.preamble, isClubRow) {
		clubs = 2
	}
	if len(way) == 3 && t.header.cell(0) == placeNames(1)[0] {
		sided = 1 // typed by hand, with nothing above it: two of three will do
	}
	return held+sided+measured+clubs >= 3
}

func noHeader(g grid) *analysis.Refusal {
	var sample []string
	for _, r := range g.rows[:min(len(g.rows), headerWithin)] {
		for _, c := range r.cells {
			if len(sample) < 3 && plainText(c) != "" {
				sample = append(sample, "'"+shown(plainText(c))+"'")
			}
		}
	}
	if len(g.rows) == 1 {
		return refuse("no_header", "Typed by hand it takes two balls at least, a line each, such as: 7i, carry 152, 8 right, launch 17. A file has a row of column names above its balls.",
			"There is one row only, and it has no column names; it begins with %s.", strings.Join(sample, ", "))
	}
	return refuse("no_header", "The file needs a row of column names such as Club, Ball speed, Face angle, Carry. If it has one in another language or wording, tell us the words.",
		"No row of column names was found in the first %d rows; the file begins with %s.", headerWithin, strings.Join(sample, ", "))
}

// isUnitRow reports whether every cell of a row is a unit or empty.
func isUnitRow(r row) bool {
	n := 0
	for _, c := range r.cells {
		text := strings.Trim(plainText(c), "()[]")
		switch {
		case text == "" || text == "-":
		case isUnit(text):
			n++
		default:
			return false
		}
	}
	return n > 0
}

// isHeader reports whether a row repeats the header.
func (t *table) isHeader(r row) bool {
	same := 0
	for _, c := range t.columns {
		if strings.EqualFold(strings.TrimSpace(r.cell(c.at)), strings.TrimSpace(t.header.cell(c.at))) {
			same++
		}
	}
	return same*2 > len(t.columns)
}

// isShot reports whether a row has something in a column of measured numbers,
// even if it turns out to be none. A lone text is a note.
func (t *table) isShot(r row) bool {
	written, figures := false, 0
	for _, c := range t.columns {
		if len(c.meaning.fields) == 0 && isFigure(plainText(r.cell(c.at))) {
			if figures++; figures > 1 || len(c.guesses) > 0 && !c.guesses[0].field.text() && c.guesses[0].field != shotField {
				return true
			}
		}
		for _, f := range c.meaning.fields {
			if f.text() || f == shotField {
				continue
			}
			text := plainText(r.cell(c.at))
			if strings.ContainsAny(text, "0123456789") {
				return true
			}
			written = written || !isMissing(text)
		}
	}
	_, alone := onlyCell(r)
	return written && !alone
}

// isClubRow reports whether a row is the heading of the shots with one club.
func isClubRow(r row) bool {
	only, ok := onlyCell(r)
	if !ok || !strings.ContainsFunc(only, unicode.IsLetter) && !strings.HasSuffix(only, "°") {
		return false
	}
	_, ok = parseClub(only)
	return ok
}

// onlyCell is the one cell of a row that is not empty.
func onlyCell(r row) (string, bool) {
	only := ""
	for _, c := range r.cells {
		if p := plainText(c); !isMissing(p) {
			if only != "" {
				return "", false
			}
			only = p
		}
	}
	return only, only != ""
}

// checkRow refuses a shot with cells beyond the header: its numbers cannot be
// told apart.
func (t *table) checkRow(r row) *analysis.Refusal {
	for i := len(t.header.cells); i < len(r.cells); i++ {
		if plainText(r.cells[i]) != "" {
			return refuse("ragged", "If numbers have a decimal comma, the columns need another separator than a comma.",
				"The row has %d cells, the header only %d, so it is unclear which number is which.", len(r.cells), len(t.header.cells)).At(r.at, "")
		}
	}
	return nil
}

// resolve decides what every column holds. Questions are asked only about
// columns that could matter.
func (t *table) resolve(o Options) (decisions []string, questions []analysis.Question) {
	taken := map[field]bool{}
	for i := range t.columns {
		c := &t.columns[i]
		c.field = ignored
		if answer, ok := o.Answers["column:"+c.key()]; ok {
			if f, known := fieldByKey(answer); known {
				c.field, c.meaning = f, meaning{fields: []field{f}, definite: true}
				c.loosely = false
				taken[f] = true
			}
			continue
		}
		c.meaning.fields = slices.DeleteFunc(slices.Clone(c.meaning.fields), func(f field) bool { return !t.unitFits(c, f) })
		if len(c.meaning.fields) == 1 && !c.loosely {
			c.field = c.meaning.fields[0]
			if c.field == ballKind && t.isNumbered(c) {
				c.field = shotField
			}
			taken[c.field] = true
		}
	}
	for i := range t.columns {
		c := &t.columns[i]
		if _, answered := o.Answers["column:"+c.key()]; answered || c.field != ignored || len(c.meaning.fields) == 0 {
			continue
		}
		open := slices.DeleteFunc(slices.Clone(c.meaning.fields), func(f field) bool { return taken[f] || f == timeField })
		switch {
		case slices.Contains(c.meaning.fields, timeField) && t.hasTimes(c.at):
			c.field = timeField // beside a column of dates, it may be the clock
		case len(open) == 1 && (!c.loosely || open[0] == windFrom): // against what is asked anyhow
			c.field = open[0]
			if len(c.meaning.fields) > 1 {
				decisions = append(decisions, fmt.Sprintf("column '%s' read as %s, the one its name can mean that no other column holds", c.text, c.field.name()))
			}
		}
		taken[c.field] = true
	}
	lines, questions := t.elect(o)
	decisions = append(decisions, lines...)
	lines, asked := t.findSets(o)
	decisions, questions = append(decisions, lines...), append(questions, asked...)
	var unknown []string
	for i := range t.columns {
		c := &t.columns[i]
		_, answered := o.Answers["column:"+c.key()]
		if answered || c.field != ignored || c.asked || slices.Contains(c.meaning.fields, ignored) || slices.ContainsFunc(asked, func(q analysis.Question) bool { return q.Key == "column:"+c.key() }) {
			continue
		}
		open := slices.DeleteFunc(slices.Clone(c.meaning.fields), func(f field) bool { return taken[f] || f == timeField })
		if len(open) > 0 && !slices.ContainsFunc(t.columns, func(o column) bool { return slices.Contains(open, o.field) }) {
			questions = append(questions, whatIs(*c, open))
			continue
		}
		unknown = append(unknown, "'"+c.text+"'")
	}
	if len(unknown) > 0 {
		slices.Sort(unknown)
		more := ""
		if len(unknown) > mostNamed {
			more = fmt.Sprintf(" and %d more", len(unknown)-mostNamed)
			unknown = unknown[:mostNamed]
		}
		decisions = append(decisions, "not needed or not recognised, and left out: "+strings.Join(unknown, ", ")+more)
	}
	return decisions, questions
}

// mostNamed is how many columns that are left out are named.
const mostNamed = 30

func whatIs(c column, fields []field) analysis.Question {
	q := analysis.Question{Key: "column:" + c.key(), Text: fmt.Sprintf("What does column '%s' hold?", c.text)}
	for _, f := range fields {
		q.Choices = append(q.Choices, analysis.Choice{Value: f.key(), Text: f.name()})
	}
	q.Choices = append(q.Choices, analysis.Choice{Value: ignored.key(), Text: "none of these, leave it out"})
	return q
}

// unitsOf lists the units a column's header and the unit row give it.
func (t *table) unitsOf(c *column) []string {
	said := slices.Clone(c.units)
	if u := strings.Trim(plainText(t.unitRow.cell(c.at)), "()[]"); u != "" && u != "-" {
		said = append(said, u)
	}
	if len(said) == 0 {
		return t.unitBeside(c)
	}
	return said
}

// unitBeside is the unit that stands beside a column's first values, nil if
// there is none.
func (t *table) unitBeside(c *column) []string {
	for _, r := range t.rows[:min(len(t.rows), 4)] {
		n, ok := splitNumeral(plainText(r.cell(c.at)))
		if !ok {
			continue
		}
		for _, w := range strings.Fields(n.before + " " + n.after) {
			if w = strings.Trim(w, ".()[]"); (len(w) > 1) && isUnit(w) && len(sideBySpelling()[squeezed(w)]) == 0 {
				return []string{w}
			}
		}
	}
	return nil
}

// unitFits reports whether the units given for a column suit field f.
func (t *table) unitFits(c *column, f field) bool {
	if f.text() || f == shotField {
		return true
	}
	for _, u := range t.unitsOf(c) {
		if _, ok := unitFor(u, f.dimension()); !ok {
			return false
		}
	}
	return true
}

func (t *table) hasTimes(at int) bool {
	for _, r := range t.rows {
		if text := plainText(r.cell(at)); !isMissing(text) {
			return looksLikeTime(text)
		}
	}
	return false
}

// columnUnit finds the unit a numeric column's header or unit row gives, or
// else the lines above the table.
func (t *table) columnUnit(c *column) {
	for _, s := range t.unitsOf(c) {
		if u, ok := unitFor(s, c.field.dimension()); ok {
			c.unit = u
			return
		}
	}
	if u, ok := t.unitAbove(c.field); ok {
		c.unit, c.above = u, true
	}
}

// fingerprint names the header, whatever order its columns stand in: the words
// and units of every column.
func (t *table) fingerprint() string {
	var cells []string
	for _, c := range t.columns {
		s := strings.Join(strings.Fields(strings.ToLower(c.text)), " ")
		cells = append(cells, s+"\x00"+unitSpelling(t.unitRow.cell(c.at)))
	}
	slices.Sort(cells)
	sum := sha256.Sum256([]byte(strings.Join(cells, "\x01")))
	return hex.EncodeToString(sum[:12])
}

// merge settles columns that claim the same number. Where they hold the same
// values one is enough; otherwise the golfer says which it is.
func merge(cs []column, rows []row, o Options) (kept []column, questions []analysis.Question, refusal *analysis.Refusal) {
	for f := field(0); int(f) < numFields; f++ {
		var same []column
		for _, c := range cs {
			if c.field == f && f != ignored {
				same = append(same, c)
			}
		}
		slices.SortStableFunc(same, func(a, b column) int { return strings.Compare(a.text, b.text) })
		if len(same) < 2 || f == timeField || f == shotField {
			kept = append(kept, same...)
			continue
		}
		if answer, ok := o.Answers["which:"+f.key()]; ok {
			if i := slices.IndexFunc(same, func(c column) bool { return c.key() == answer }); i >= 0 {
				kept = append(kept, same[i])
				continue
			}
		}
		best, differ := same[0], false
		for _, c := range same[1:] {
			differ = differ || !agree(best, c, rows)
			if c.count() > best.count() {
				best = c
			}
		}
		if !differ {
			kept = append(kept, best)
			continue
		}
		q := analysis.Question{Key: "which:" + f.key(), Text: fmt.Sprintf("Which column holds the %s?", f.name())}
		seen := map[string]bool{}
		for _, c := range same {
			if seen[c.key()] {
				return nil, nil, refuse("duplicate_column", "Rename or remove one of them.",
					"Column '%s' is there twice, with different values.", c.text).At(0, c.text)
			}
			seen[c.key()] = true
			if len(q.Choices) < maxChoices {
				q.Choices = append(q.Choices, analysis.Choice{Value: c.key(), Text: c.text})
			}
		}
		questions = append(questions, q)
	}
	return kept, questions, nil
}

// maxChoices is the most a question may offer: a menu has no more lines.
const maxChoices = 25

// agree reports whether two columns say the same wherever both have a value:
// the same words, or numbers equal up to rounding once their units are known.
func agree(a, b column, rows []row) bool {
	if a.field.text() {
		for _, r := range rows {
			x, y := plainText(r.cell(a.at)), plainText(r.cell(b.at))
			if !isMissing(x) && !isMissing(y) && x != y {
				return false
			}
		}
		return true
	}
	for i := range a.cells {
		x, y := a.cells[i], b.cells[i]
		if !x.ok || !y.ok {
			continue
		}
		u, w := 1.0, 1.0
		if a.unitKnown() && b.unitKnown() {
			u, w = a.unit.scale, b.unit.scale
		}
		if d := x.v*u - y.v*w; max(d, -d) > 0.006*max(x.v*u, -x.v*u)+0.06*max(u, w) || x.side != y.side && x.v != 0 {
			return false
		}
	}
	return true
}
