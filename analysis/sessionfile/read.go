package sessionfile

import (
	"cmp"
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"maps"
	"slices"
	"strings"

	"rangepost/analysis"
)

// Read reads the bytes of a session file. The error, if any, is a
// *analysis.Refusal. The same bytes and options always give the same reading;
// data is not kept and not changed.
func Read(name string, data []byte, o Options) (Reading, error) {
	f, err := Open(name, data)
	if err != nil {
		return Reading{}, err
	}
	return f.Read(o)
}

// An Opened file is one whose tables were found and which is not read yet:
// what was answered about such files before can be looked up by its
// Fingerprint first.
type Opened struct {
	file   File
	tables []table
}

// Open finds the tables in the bytes of a session file. The error, if any, is a
// *analysis.Refusal.
func Open(name string, data []byte) (*Opened, error) {
	if len(data) > maxBytes {
		return nil, refuse("too_large", "Split it: one session a file.", "The file is larger than %d MiB.", maxBytes>>20)
	}
	gs, refusal := openFile(data)
	if refusal != nil {
		return nil, refusal
	}
	tables, refusal := findTables(gs)
	if refusal != nil {
		return nil, refusal
	}
	sum := sha256.Sum256(data)
	return &Opened{File{Name: shown(name), SHA256: hex.EncodeToString(sum[:])}, tables}, nil
}

// Fingerprint is that of the header of the table that is read if nothing is
// answered.
func (f *Opened) Fingerprint() string {
	t, _ := chooseTable(f.tables, Options{})
	return t.fingerprint()
}

// Read reads the file. The error, if any, is a *analysis.Refusal.
func (f *Opened) Read(o Options) (Reading, error) {
	r, refusal := f.read(o)
	if refusal != nil {
		return Reading{}, refusal
	}
	return r, nil
}

func (f *Opened) read(o Options) (Reading, *analysis.Refusal) {
	t, questions := chooseTable(f.tables, o)
	t.columns, t.rows = slices.Clone(t.columns), slices.Clone(t.rows) // read again, it is the same
	r := Reading{
		File:        f.file,
		Fingerprint: f.Fingerprint(),
		Session:     analysis.Session{Hand: o.Hand},
		Questions:   questions,
	}
	r.add(t.resolve(o))
	r.add(nil, t.onlyPlayer(o))
	cs, decisions, refusal := t.readColumns()
	if refusal != nil {
		return Reading{}, refusal
	}
	r.add(decisions, nil)
	cs, questions, refusal = merge(cs, t.rows, o)
	if refusal != nil {
		return Reading{}, refusal.At(t.header.at, refusal.Column)
	}
	r.add(nil, questions)
	if len(r.Questions) == 0 && !slices.ContainsFunc(cs, func(c column) bool { return !c.field.text() && c.field != shotField }) {
		return Reading{}, refuse("no_numbers", "Export the session with its measured numbers.", "None of the columns holds a measured number.").At(t.header.at, "")
	}
	r.Written = t.written(cs, o)
	if line := oddLine(cs); line != "" {
		r.add([]string{line}, nil)
		t.dropOdd(cs)
	}
	r.add(dropZeros(cs, len(t.rows)), nil)
	t.addUsual(cs)
	r.add(settleUnits(cs, asksOf(r.Questions, carry, ballSpeed), o))
	t.dropStatistics(cs)
	if len(t.rows) > maxShots {
		return Reading{}, refuse("too_many_shots", "Split the file: one session a file.", "The file has %d shots; %d are the most.", len(t.rows), maxShots)
	}
	t.fill(&r, cs, o)
	r.File.RowsRead, r.File.SummaryRowsDropped = len(t.rows), t.summaries
	r.add([]string{t.countLine()}, nil)
	r.Questions = inOrder(once(r.Questions))
	return r, nil
}

// add takes over what one stage of the reading decided and what it asks.
func (r *Reading) add(decisions []string, questions []analysis.Question) {
	r.Decisions = append(r.Decisions, decisions...)
	r.Questions = append(r.Questions, questions...)
}

// fill turns the rows into the session's shots.
func (t *table) fill(r *Reading, cs []column, o Options) {
	numbers, decisions := t.order(cs)
	r.add(decisions, nil)
	shots := make([]analysis.Shot, len(t.rows))
	for i := range shots {
		shots[i] = analysis.Shot{N: numbers[i], Row: t.rows[i].at}
	}
	t.above(&r.Session, o)
	r.add(t.fillWhen(shots, cs, &r.Session, o), nil)
	r.judgeDate(o)
	var questions []analysis.Question
	r.Session.Conditions, decisions, questions = conditions(cs, o)
	r.add(decisions, questions)
	r.add(nil, t.fillClubs(shots, cs, o))
	r.Labelled = t.fillLabels(shots, cs)
	r.Session.Ball, decisions = t.kindOfBall(cs, o)
	r.add(decisions, nil)

	r.Targets, decisions = targets(cs, shots)
	r.add(decisions, nil)

	cs = combineSpin(cs)
	sky := newSky()
	decisions, questions, customary := settleSigns(cs, clubsOf(shots), sky, t.unheard(), asksOf(r.Questions, sideways...), o)
	r.add(decisions, questions)
	r.Customary = customary
	for _, c := range cs {
		fillNumbers(shots, c)
		if c.field == strikeToe && c.plus == noSide && !c.sided() {
			r.add([]string{fmt.Sprintf("+ read as toward the toe in '%s'", c.text)}, nil)
		}
	}
	decisions, r.LeftOut, questions = setAside(shots, sky, o)
	r.add(decisions, questions)
	r.add(r.LeftOut, nil)
	r.Session.Shots = shots
}

// asksOf reports whether a column is asked about that may well hold one of these.
func asksOf(qs []analysis.Question, fields ...field) bool {
	return slices.ContainsFunc(qs, func(q analysis.Question) bool {
		return strings.HasPrefix(q.Key, "column:") && slices.ContainsFunc(q.Choices, func(c analysis.Choice) bool {
			f, ok := fieldByKey(c.Value)
			return ok && slices.Contains(fields, f)
		})
	})
}

// asksFirst are the beginnings of questions' keys in the order in which their
// answers settle what comes after: which table, what its columns hold, in which
// units, and which way they count.
var asksFirst = []string{"part", "player", "column:", "which:", "unit:", "signs", "club:", dateKey, doubtPrefix}

// inOrder puts questions in the order in which they settle each other, and
// keeps what is asked in one go. The rest is asked once these are answered, if
// it is still open then.
func inOrder(qs []analysis.Question) []analysis.Question {
	place := func(q analysis.Question) int {
		return slices.IndexFunc(asksFirst, func(key string) bool { return strings.HasPrefix(q.Key, key) })
	}
	slices.SortStableFunc(qs, func(a, b analysis.Question) int {
		if in := place(a) - place(b); in != 0 || !strings.HasPrefix(a.Key, "column:") {
			return in
		}
		return cmp.Or(len(a.Key)-len(b.Key), strings.Compare(a.Key, b.Key)) // whatever order they stand in, 2 before 10
	})
	return qs[:min(len(qs), MaxQuestions)]
}

// once drops questions asked twice: two columns of one name raise one question.
func once(qs []analysis.Question) []analysis.Question {
	seen := map[string]bool{}
	return slices.DeleteFunc(qs, func(q analysis.Question) bool {
		again := seen[q.Key]
		seen[q.Key] = true
		return again
	})
}

// readColumns parses every column that was resolved, under the file's one
// decimal mark and its one pair of side letters.
func (t *table) readColumns() (cs []column, decisions []string, refusal *analysis.Refusal) {
	letters, marked, open := map[string]bool{}, map[string]bool{}, map[string]bool{}
	var numeric, others []column
	// What is said beside the shots never costs the session.
	left := func(c *column, refusal *analysis.Refusal) bool {
		if refusal == nil || !c.field.besides() {
			return false
		}
		decisions = append(decisions, fmt.Sprintf("column '%s' left out: %s", c.text, strings.TrimSuffix(refusal.What(), ".")))
		return true
	}
	for i := range t.columns {
		c := &t.columns[i]
		switch {
		case c.asked: // what it holds; its letters may show what those of others mean
			k := *c
			k.field = spinAxis
			k.splitCells(t.rows, t.typed)
			k.letters(open)
			others = append(others, *c)
		case c.field.text():
			others = append(others, *c)
		case c.field == shotField:
			c.readNumbers(t.rows)
			others = append(others, *c)
		default:
			if c.field.sideways() && (c.plus == upward || c.plus == downward) {
				c.plus = noSide // an H is no heel there
			}
			t.columnUnit(c)
			c.splitCells(t.rows, t.typed)
			if refusal := c.unlike(); left(c, refusal) {
				continue
			} else if refusal != nil {
				return nil, nil, refusal
			}
			c.letters(letters)
			c.letteredMarks(marked)
			numeric = append(numeric, *c)
		}
	}
	mark, refusal := decimalMark(numeric, t.rows)
	if refusal != nil {
		shots := slices.DeleteFunc(slices.Clone(numeric), func(c column) bool { return c.field.besides() })
		if mark, refusal = decimalMark(shots, t.rows); refusal != nil {
			return nil, nil, refusal
		}
	}
	pair := pairOf(letters, languages(t.columns))
	if maps.DeleteFunc(open, func(l string, _ bool) bool { return !isPaired(l) }); pair < 0 && len(letters) > 0 {
		maps.Copy(open, letters)
		pair = pairOf(open, nil)
	}
	pairMarked := pairOf(marked, languages(slices.DeleteFunc(slices.Clone(t.columns), func(c column) bool { return c.marks == nil })))
	for i := range numeric {
		c := &numeric[i]
		c.plus = plusOf(c.marks, c.field, pairMarked)
		if refusal := c.readCells(t.rows, mark, pair); left(c, refusal) {
			continue
		} else if refusal != nil {
			return nil, nil, refusal
		}
		cs = append(cs, *c)
	}
	return append(cs, others...), decisions, nil
}

// countLine says how many rows became shots and what was left out.
func (t *table) countLine() string {
	s := plural(len(t.rows), "shot", "shots") + " read"
	if t.summaries > 0 {
		s += ", " + plural(t.summaries, "summary row", "summary rows") + " left out"
	}
	if t.notes > 0 {
		s += ", " + plural(t.notes, "row that is no shot", "rows that are no shots") + " left out"
	}
	return s
}
