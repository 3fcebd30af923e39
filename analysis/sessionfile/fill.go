package sessionfile

import (
	"fmt"
	"maps"
	"math"
	"slices"
	"strings"

	"rangepost/analysis"
)

// fillWhen reads when the session began from its shots' times; the rows know
// better than the lines above them; and how long lay between them.
func (t *table) fillWhen(shots []analysis.Shot, cs []column, s *analysis.Session, o Options) (decisions []string) {
	cells, names := t.stamps(cs)
	times, ambiguous := parseTimes(cells, o.Zone)
	if ambiguous {
		return []string{strings.Join(names, " and ") + " can be read day first or month first, so the day is left open"}
	}
	if first := earliest(times); !first.IsZero() {
		s.When, s.Dated = first.Time, first.dated
	}
	fillPauses(shots, times)
	return nil
}

// fillClubs reads which club every shot was hit with: from its row, a heading
// above it, a line above the table, or from what the golfer said.
func (t *table) fillClubs(shots []analysis.Shot, cs []column, o Options) (questions []analysis.Question) {
	unknown := map[string]string{} // squeezed to shown
	at := slices.IndexFunc(cs, func(c column) bool { return c.field == clubField })
	for i := range shots {
		text := t.clubs[i]
		if text == "" {
			text = t.clubAbove
		}
		if at >= 0 {
			text = plainText(t.rows[i].cell(cs[at].at))
		}
		shots[i].Club = t.club(text, o, unknown)
		if shots[i].Club.Unknown() {
			shots[i].Club = o.Club
		}
	}
	for _, k := range slices.Sorted(maps.Keys(unknown)) {
		questions = append(questions, whichClub(k, unknown[k]))
	}
	return questions
}

func clubsOf(shots []analysis.Shot) []analysis.Club {
	clubs := make([]analysis.Club, len(shots))
	for i, s := range shots {
		clubs[i] = s.Club
	}
	return clubs
}

// fillLabels reads the set every shot belongs to, and whether the file names
// any.
func (t *table) fillLabels(shots []analysis.Shot, cs []column) (labelled bool) {
	at := slices.IndexFunc(cs, func(c column) bool { return c.field == labelField })
	if at < 0 {
		return false
	}
	for i, name := range t.labels(cs[at].at) {
		shots[i].Label = name
		labelled = labelled || name != ""
	}
	return labelled
}

// labels are the texts of a column that names sets, by row, each spelt as it was
// first: capitals make no other set.
func (t *table) labels(at int) []string {
	first, names := map[string]string{}, make([]string, len(t.rows))
	for i, r := range t.rows {
		name := label(r.cell(at))
		key := strings.ToLower(name)
		if _, ok := first[key]; !ok {
			first[key] = name
		}
		names[i] = first[key]
	}
	return names
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

func whichClub(key, text string) analysis.Question {
	q := analysis.Question{Key: "club:" + key, Text: fmt.Sprintf("Which club is '%s'?", text)}
	for _, c := range strings.Fields("driver 3w 5w 7w 2h 3h 4h 5h 3i 4i 5i 6i 7i 8i 9i pw gw sw lw 52 54 56 58 60") {
		club, _ := analysis.ParseClub(c)
		q.Choices = append(q.Choices, analysis.Choice{Value: c, Text: club.String()})
	}
	q.Choices = append(q.Choices, analysis.Choice{Value: "", Text: "none of these"})
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
	if !ok || !c.settled || !readable(c) {
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
