package export

import (
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"maps"
	"math"
	"slices"
	"strings"
	"time"

	"rangepost/analysis"
)

// Read reads the bytes of a session file. The error, if any, is a *Refusal.
// The same bytes and options always give the same reading; data is not kept
// and not changed.
func Read(name string, data []byte, o Options) (Reading, error) {
	r, refusal := read(name, data, o)
	if refusal != nil {
		return Reading{}, refusal
	}
	return r, nil
}

func read(name string, data []byte, o Options) (Reading, *Refusal) {
	if len(data) > maxBytes {
		return Reading{}, refuse("too_large", "Split it: one session a file.", "The file is larger than %d MiB.", maxBytes>>20)
	}
	gs, refusal := openFile(data)
	if refusal != nil {
		return Reading{}, refusal
	}
	t, part, refusal := chooseTable(gs, o)
	if refusal != nil {
		return Reading{}, refusal
	}
	sum := sha256.Sum256(data)
	r := Reading{
		File:        File{Name: shown(name), SHA256: hex.EncodeToString(sum[:])},
		Fingerprint: t.fingerprint(),
		Session:     analysis.Session{Hand: o.Hand, Ball: analysis.UnknownBall},
	}
	r.Decisions, r.Questions = t.resolve(o)
	r.Questions = append(part, r.Questions...)

	r.Questions = append(r.Questions, t.onlyPlayer(o)...)
	numeric, texts, refusal := t.readColumns()
	if refusal != nil {
		return Reading{}, refusal
	}
	kept, questions, refusal := merge(append(numeric, texts...), t.rows, o)
	if refusal != nil {
		if refusal.Row == 0 {
			refusal.Row = t.header.at
		}
		return Reading{}, refusal
	}
	r.Questions = append(r.Questions, questions...)
	if len(numbersOf(kept)) == 0 && len(r.Questions) == 0 {
		return Reading{}, refuse("no_numbers", "Export the session with its measured numbers.", "None of the columns holds a measured number.").at(t.header.at, "")
	}
	decisions, questions := settleUnits(kept, o)
	r.Decisions, r.Questions = append(r.Decisions, decisions...), append(r.Questions, questions...)

	kept = t.dropStatistics(kept)
	r.Decisions = append(r.Decisions, dropZeros(kept, len(t.rows))...)
	if len(t.rows) > maxShots {
		return Reading{}, refuse("too_many_shots", "Split the file: one session a file.", "The file has %d shots; %d are the most.", len(t.rows), maxShots)
	}
	numbers, decisions := t.order(kept)
	r.Decisions = append(r.Decisions, decisions...)
	kept = combineSpin(kept)
	r.Session.Shots = make([]analysis.Shot, len(t.rows))
	for i := range r.Session.Shots {
		r.Session.Shots[i] = analysis.Shot{N: numbers[i], Row: t.rows[i].at}
	}
	t.above(&r)
	r.Session.Conditions, decisions = conditions(kept)
	r.Decisions = append(r.Decisions, decisions...)
	r.Decisions = append(r.Decisions, t.fillWhen(kept, &r.Session)...)
	r.Questions = append(r.Questions, t.fillTexts(kept, o, &r)...)
	clubs := make([]analysis.Club, len(t.rows))
	for i, s := range r.Session.Shots {
		clubs[i] = s.Club
	}
	decisions, questions = settleSigns(kept, clubs, o)
	r.Decisions, r.Questions = append(r.Decisions, decisions...), append(r.Questions, questions...)
	for _, c := range kept {
		fillNumbers(r.Session.Shots, c)
		if c.field == strikeToe && c.plus == noSide && !c.sided() {
			r.Decisions = append(r.Decisions, fmt.Sprintf("+ read as toward the toe in '%s'", c.text))
		}
	}
	for i, s := range r.Session.Shots {
		r.Session.Shots[i] = s.Derived()
	}
	r.Decisions = append(r.Decisions, setAside(r.Session.Shots)...)
	r.File.RowsRead, r.File.SummaryRowsDropped = len(t.rows), t.summaries
	r.Decisions = append(r.Decisions, t.countLine())
	r.Questions = once(r.Questions)
	return r, nil
}

// once drops questions asked twice: two columns of one name raise one question.
func once(qs []Question) []Question {
	seen := map[string]bool{}
	return slices.DeleteFunc(qs, func(q Question) bool {
		again := seen[q.Key]
		seen[q.Key] = true
		return again
	})
}

// onlyPlayer keeps the rows of one player where the file has several, and asks
// which if nobody said.
func (t *table) onlyPlayer(o Options) []Question {
	at := slices.IndexFunc(t.columns, func(c column) bool { return c.field == player })
	if at < 0 {
		return nil
	}
	at = t.columns[at].at
	names := map[string]string{}
	for _, r := range t.rows {
		if name := plainText(r.cell(at)); !isMissing(name) {
			names[squeezed(name)] = shown(name)
		}
	}
	if len(names) < 2 {
		return nil
	}
	if answer := squeezed(o.Answers["player"]); names[answer] != "" {
		keep := func(i int) bool { return squeezed(t.rows[i].cell(at)) == answer }
		t.rows, t.clubs = filtered(t.rows, keep), filtered(t.clubs, keep)
		return nil
	}
	q := Question{Key: "player", Text: "The file has shots of several players. Whose are to be read?"}
	for _, key := range slices.Sorted(maps.Keys(names)) {
		if len(q.Choices) < maxChoices {
			q.Choices = append(q.Choices, Choice{key, names[key]})
		}
	}
	return []Question{q}
}

// readColumns parses every column that was resolved, under the file's one
// decimal mark and its one pair of side letters.
func (t *table) readColumns() (numeric, texts []column, refusal *Refusal) {
	letters := map[string]bool{}
	for i := range t.columns {
		c := &t.columns[i]
		if c.field == shotField {
			c.readNumbers(t.rows)
		}
		if c.field.text() || c.field == shotField {
			texts = append(texts, *c)
			continue
		}
		t.columnUnit(c)
		if refusal := c.splitCells(t.rows, t.typed); refusal != nil {
			return nil, nil, refusal
		}
		c.letters(letters)
		numeric = append(numeric, *c)
	}
	mark, refusal := decimalMark(numeric, t.rows)
	if refusal != nil {
		return nil, nil, refusal
	}
	pair := pairOf(letters, languages(t.columns))
	for i := range numeric {
		if refusal := numeric[i].readCells(t.rows, mark, pair); refusal != nil {
			return nil, nil, refusal
		}
	}
	return numeric, texts, nil
}

// fillWhen reads when the session began from its shots' times.
func (t *table) fillWhen(cs []column, s *analysis.Session) (decisions []string) {
	cells, names := t.stamps(cs)
	times, ambiguous := parseTimes(cells)
	if ambiguous {
		return []string{strings.Join(names, " and ") + " can be read day first or month first, so the day is left open"}
	}
	first := time.Time{} // the rows know better than the lines above
	for _, when := range times {
		if !when.IsZero() && (first.IsZero() || when.Before(first)) {
			first = when
		}
	}
	if !first.IsZero() {
		s.When = first
	}
	return nil
}

// fillTexts reads club and label of every shot.
func (t *table) fillTexts(cs []column, o Options, r *Reading) (questions []Question) {
	shots := r.Session.Shots
	unknown := map[string]string{} // squeezed to shown
	hasClub := false
	for _, c := range cs {
		switch c.field {
		case clubField:
			hasClub = true
			for i := range shots {
				text := plainText(t.rows[i].cell(c.at))
				shots[i].Club = t.club(text, o, unknown)
			}
		case labelField:
			for i := range shots {
				shots[i].Label = label(t.rows[i].cell(c.at))
				r.Labelled = r.Labelled || shots[i].Label != ""
			}
		}
	}
	if !hasClub {
		for i := range shots {
			text := t.clubs[i]
			if text == "" {
				text = t.clubAbove
			}
			shots[i].Club = t.club(text, o, unknown)
		}
	}
	for i := range shots {
		if shots[i].Club.Unknown() {
			shots[i].Club = o.Club
		}
	}
	for _, k := range slices.Sorted(maps.Keys(unknown)) {
		questions = append(questions, whichClub(k, unknown[k]))
	}
	return questions
}

// club reads a club cell; what it cannot read it notes as a question.
func (t *table) club(text string, o Options, unknown map[string]string) analysis.Club {
	if isMissing(text) {
		return analysis.Club{}
	}
	if c, ok := parseClub(text); ok {
		return c
	}
	key := squeezed(text)
	if answer, ok := o.Answers["club:"+key]; ok {
		c, _ := analysis.ParseClub(answer)
		return c
	}
	unknown[key] = shown(text)
	return analysis.Club{}
}

func whichClub(key, text string) Question {
	q := Question{Key: "club:" + key, Text: fmt.Sprintf("Which club is '%s'?", text)}
	for _, c := range strings.Fields("driver 3w 5w 7w 2h 3h 4h 5h 3i 4i 5i 6i 7i 8i 9i pw gw sw lw 52 54 56 58 60") {
		club, _ := analysis.ParseClub(c)
		q.Choices = append(q.Choices, Choice{c, club.String()})
	}
	q.Choices = append(q.Choices, Choice{"", "none of these"})
	return q
}

// label is the text naming a set, on one line.
func label(s string) string {
	s = strings.Join(strings.Fields(s), " ")
	if isMissing(plainText(s)) {
		return ""
	}
	if r := []rune(s); len(r) > 100 {
		s = string(r[:100])
	}
	return s
}

// fillNumbers puts a settled column's values into the shots.
func fillNumbers(shots []analysis.Shot, c column) {
	n, ok := c.field.number()
	if !ok || !c.settled {
		return
	}
	for i, v := range c.cells {
		if v.ok {
			if !v.si {
				v.v = c.unit.si(v.v)
			}
			shots[i] = shots[i].With(n, v.v*c.sign(v))
		}
	}
}

// combineSpin adds spin rate and axis where a file gives back and side spin
// instead: rate = hypot(back, side), axis = atan2(side, back).
func combineSpin(cs []column) []column {
	at := func(f field) int { return slices.IndexFunc(cs, func(c column) bool { return c.field == f }) }
	back, side := at(backSpin), at(sideSpin)
	if back < 0 || side < 0 || !readable(cs[back]) || !readable(cs[side]) {
		return cs
	}
	rateOf, axisOf := cs[side], cs[side]
	rateOf.field, axisOf.field = spin, spinAxis
	rateOf.unit, axisOf.unit = unitNamed("rad/s", rate), unitNamed("rad", angle)
	rateOf.plus = noSide
	rateOf.cells, axisOf.cells = make([]cell, len(cs[side].cells)), make([]cell, len(cs[side].cells))
	for i := range rateOf.cells {
		b, s := cs[back].cells[i], cs[side].cells[i]
		if !b.ok || !s.ok {
			continue
		}
		bv, sv := b.v, s.v
		if !b.si {
			bv = cs[back].unit.si(bv)
		}
		if !s.si {
			sv = cs[side].unit.si(sv)
		}
		rateOf.cells[i] = cell{ok: true, si: true, v: math.Hypot(bv, sv)}
		axisOf.cells[i] = cell{ok: true, si: true, v: math.Atan2(sv, bv), side: s.side}
	}
	if at(spin) < 0 {
		cs = append(cs, rateOf)
	}
	if at(spinAxis) < 0 {
		cs = append(cs, axisOf)
	}
	return cs
}

func readable(c column) bool { return c.unitKnown() || !c.unread() }

// countLine says how many rows became shots and what was left out.
func (t *table) countLine() string {
	s := plural(len(t.rows), "shot", "shots") + " read"
	if t.summaries > 0 {
		s += ", " + plural(t.summaries, "summary row", "summary rows") + " left out"
	}
	if t.notes > 0 {
		s += ", " + plural(t.notes, "row", "rows") + " without numbers left out"
	}
	return s
}
