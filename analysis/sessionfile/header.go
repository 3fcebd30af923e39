package sessionfile

import (
	"fmt"
	"slices"
	"strings"
	"sync"
)

// A meaning is what a header word says its column holds: usually one field,
// several when the word is loose.
type meaning struct {
	fields    []field
	definite  bool     // the header says which of what its field can be: see definitely
	languages []string // that have the word
}

// definitely are the keys of lines whose words leave no doubt about their field: a
// face against the target and no face-to-path, a target's own distance and not
// what is left to it.
var definitely = map[string]string{"face_to_target": "face", "target_distance": "target"}

// lexiconBySpelling is the lexicon as it is looked up. A word that stands in
// several lines means all of them.
var lexiconBySpelling = sync.OnceValue(func() map[string]meaning {
	m := map[string]meaning{}
	for _, line := range headingWords() {
		for word := range strings.SplitSeq(line.words, ", ") {
			entry := m[squeezed(word)]
			entry.languages = append(entry.languages, line.language)
			for key := range strings.FieldsSeq(line.holds) {
				which, definite := definitely[key]
				if definite {
					key = which
				}
				f, ok := fieldByKey(key)
				if !ok {
					panic(fmt.Sprintf("sessionfile: lexicon names no field %q", key))
				}
				entry.definite = entry.definite || definite
				if !slices.Contains(entry.fields, f) {
					entry.fields = append(entry.fields, f)
				}
			}
			m[squeezed(word)] = entry
		}
	}
	return m
})

// A heading is one header cell understood.
type heading struct {
	text    string // as written, trimmed
	meaning meaning
	loosely bool       // only after leaving out a remark in brackets
	guesses []guess    // what it may mean if the lexicon does not hold it, the likeliest first
	other   bool       // it is known to be nothing of ours
	units   []string   // spellings of units found in it
	marks   []signMark // what it says of its signs
}

// readHeading takes a header cell apart: the words, a unit at the end or in
// brackets, and what a plus means ("R+", "+ right", "- = left").
func readHeading(cell string) heading {
	h := heading{text: shown(plainText(cell))}
	text := plainText(cell)
	if text == "" || digit(text[0]) || text[0] == '-' {
		return h // nothing, or data
	}
	outside, inside := brackets(text)
	var remark []string
	for _, in := range inside {
		switch {
		case isUnit(in):
			h.units = append(h.units, in)
		case signMarks(in) != nil:
			h.marks = signMarks(in)
		default:
			remark = append(remark, h.remark(in)...)
		}
	}
	words := append(spelled(outside), remark...)
	m, ok := lookUp(&h, words)
	if !ok {
		marked := h
		marked.units = slices.Clone(h.units)
		words = append(spelled(marked.afterMark(outside)), remark...)
		if m, ok = lookUp(&marked, words); ok {
			h = marked
		}
	}
	if ok {
		h.meaning = m
	} else if m, ok := lookUp(&h, spelled(outside)); ok && len(remark) > 0 {
		h.meaning, h.loosely = m, true
	}
	return h
}

// guessing is a heading with what it may mean if the lexicon does not hold it.
func (h heading) guessing() heading {
	whole := h
	h.meaning.fields = slices.DeleteFunc(slices.Clone(h.meaning.fields), func(f field) bool { return !h.unitFits(f) })
	if h.text == "" || len(h.meaning.fields) > 0 && !h.loosely {
		return h
	}
	outside, inside := brackets(h.text)
	text := h.text
	for _, in := range inside {
		if signMarks(in) != nil {
			text = strings.Replace(text, in, "", 1)
		}
	}
	h.units = slices.Clone(h.units)
	if h.loosely {
		outside = "" // the lexicon knows that
	}
	h.guess(spelled(text), spelled(outside))
	if h.loosely {
		// A remark that is a part of the name takes nothing from it, or makes
		// it another: "launch angle (left right)".
		if len(h.guesses) > 0 && h.guesses[0].weight >= understoodAt {
			if h.loosely = false; len(h.meaning.fields) == 1 && h.guesses[0].field == h.meaning.fields[0] {
				h.guesses = nil
			} else {
				h.meaning = meaning{languages: h.meaning.languages}
			}
		} else {
			h.guesses = nil
		}
		h.other = false
	}
	fits := func(g guess) bool { return h.unitFits(g.field) }
	if len(whole.meaning.fields) > len(h.meaning.fields) && !slices.ContainsFunc(h.guesses, fits) {
		return whole // of another unit than its words: that is asked
	}
	return h
}

// unitFits reports whether the units in the heading suit field f.
func (h *heading) unitFits(f field) bool {
	return f.text() || f == shotField || !slices.ContainsFunc(h.units, func(u string) bool {
		_, ok := unitFor(u, f.dimension())
		return !ok
	})
}

// guess makes out what words may mean that the lexicon does not hold: all of
// them, or for less without what stands in brackets; a unit may be the last.
func (h *heading) guess(words, outside []string) {
	for _, mark := range h.units {
		last := len(words) - 1
		words = slices.Clone(words)
		if of := spelled(mark); len(of) > 0 && len(of) <= last && slices.Equal(words[len(words)-len(of):], of) {
			words = words[:len(words)-len(of)]
		}
		words = slices.DeleteFunc(words, func(w string) bool { return len(w) > 1 && w == squeezed(mark) })
	}
	if unit, ok := isLettered(words); ok {
		if len(h.units) == 0 && (len(unit) > 1 || unit == "m") {
			h.units = append(h.units, unit)
		}
		return
	}
	for _, way := range []struct {
		words []string
		share float64
	}{{words, 1}, {outside, 0.8}} {
		if len(h.guesses) > 0 || len(way.words) == 0 || way.share < 1 && len(outside) == len(words) {
			continue
		}
		for cut := min(2, len(way.words)-1); cut > 0 && len(h.units) == 0 && len(h.guesses) == 0; cut-- {
			head, tail := way.words[:len(way.words)-cut], way.words[len(way.words)-cut:]
			unit := strings.Join(tail, "/")
			if !isUnit(unit) {
				unit = strings.Join(tail, "")
			}
			if !isUnit(unit) || len(unit) == 1 && letterParts[unit] != nil && unit != "m" && unit != "s" {
				continue
			}
			guesses, _ := guessed(head, []string{unit})
			guesses = slices.DeleteFunc(guesses, func(g guess) bool {
				_, ok := unitFor(unit, g.field.dimension())
				return !ok
			})
			if len(guesses) > 0 {
				h.guesses, h.units = guesses, append(h.units, unit)
			}
		}
		if len(h.guesses) == 0 {
			h.guesses, h.other = guessed(way.words, h.units)
		}
		if last := way.words[len(way.words)-1]; len(h.guesses) == 0 && !h.other && len(h.units) == 0 && len(way.words) > 1 && len(last) > 1 && isUnit(last) && len(partsBySpelling()[last]) == 0 {
			h.units = append(h.units, last) // "Ballechw. mph"
		}
		for i := range h.guesses {
			h.guesses[i].weight *= way.share
		}
	}
}

// isLettered reports whether words are a letter with or without a unit: a column's
// place, "H m", and no abbreviation.
func isLettered(words []string) (unit string, ok bool) {
	if len(words) == 0 || len(words[0]) != 1 || digit(words[0][0]) {
		return "", false
	}
	tail := words[1:]
	for _, unit := range []string{strings.Join(tail, "/"), strings.Join(tail, "")} {
		if len(tail) == 0 || isUnit(unit) {
			return unit, true
		}
	}
	return "", false
}

// afterMark takes a unit or a sign's meaning off the end of a text where a
// mark sets it apart: "Carry, yd", "Side: +R".
func (h *heading) afterMark(text string) string {
	for _, mark := range []string{",", "/", "|", " - ", ":"} {
		i := strings.LastIndex(text, mark)
		if i <= 0 {
			continue
		}
		switch tail := strings.TrimSpace(text[i+len(mark):]); {
		case isUnit(tail):
			h.units, text = append(h.units, tail), text[:i]
		case signMarks(tail) != nil:
			h.marks, text = signMarks(tail), text[:i]
		}
	}
	return text
}

// remark takes the parts of a bracket apart: "deg, + right".
func (h *heading) remark(in string) (words []string) {
	for part := range strings.FieldsFuncSeq(in, func(r rune) bool { return r == ',' || r == ';' }) {
		switch {
		case isUnit(part):
			h.units = append(h.units, strings.TrimSpace(part))
		case signMarks(part) != nil:
			h.marks = signMarks(part)
		default:
			words = append(words, spelled(part)...)
		}
	}
	return words
}

// lookUp finds words in the lexicon, if need be without a unit at their end.
func lookUp(h *heading, words []string) (meaning, bool) {
	for cut := 0; cut < min(3, len(words)); cut++ {
		head, tail := words[:len(words)-cut], words[len(words)-cut:]
		if cut > 0 {
			if len(tail) > 1 && (tail[0] == "in" || tail[0] == "en") {
				tail = tail[1:]
			}
			if !isUnit(strings.Join(tail, "/")) && !isUnit(strings.Join(tail, "")) {
				continue
			}
		}
		m, ok := lexiconBySpelling()[strings.Join(head, "")]
		if !ok {
			continue
		}
		if cut > 0 {
			unit := strings.Join(tail, "/") // "m/sec" before a thousandth of a second
			if !isUnit(unit) {
				unit = strings.Join(tail, "")
			}
			if len(unit) == 1 && !slices.ContainsFunc(m.fields, func(f field) bool { _, fits := unitFor(unit, f.dimension()); return fits }) {
				continue // "Smash f."
			}
			h.units = append(h.units, unit)
		}
		return m, true
	}
	return meaning{}, false
}

// brackets takes what stands in brackets of any kind out of a text.
func brackets(s string) (outside string, inside []string) {
	var out, in strings.Builder
	depth := 0
	for _, r := range s {
		switch {
		case strings.ContainsRune("([{<【", r):
			depth++
		case strings.ContainsRune(")]}>】", r):
			if depth > 0 {
				depth--
				if depth == 0 {
					inside = append(inside, strings.TrimSpace(in.String()))
					in.Reset()
				}
			}
		case depth > 0:
			in.WriteRune(r)
		default:
			out.WriteRune(r)
		}
	}
	if depth > 0 && in.Len() > 0 {
		inside = append(inside, strings.TrimSpace(in.String()))
	}
	return strings.TrimSpace(out.String()), slices.DeleteFunc(inside, func(s string) bool { return s == "" })
}

// A signMark is a word of a heading that stands with a sign: what a plus, or a
// minus, means.
type signMark struct {
	word  string
	minus bool
}

// signMarks reads what a header says of its signs: "R+", "+R", "+ = right",
// "- left", "R+/L-", "[D+ G-]". It is nil unless that is all the text says.
func signMarks(s string) (marks []signMark) {
	sign, word := "", ""
	add := func() {
		if sign != "" && word != "" {
			marks = append(marks, signMark{word, sign == "-"})
			sign, word = "", ""
		}
	}
	for w := range strings.FieldsFuncSeq(strings.ToLower(plainText(s)), func(r rune) bool { return strings.ContainsRune(" /,;|=", r) }) {
		bare := strings.Trim(w, "+-")
		signs := strings.Replace(w, bare, "", 1)
		switch {
		case len(signs) > 1, signs == "" && word != "", signs != "" && sign != "", bare != "" && word != "", bare != "" && !namesSide(bare):
			return nil
		case signs != "":
			sign = signs
		}
		if bare != "" {
			word = bare
		}
		add()
	}
	if sign != "" || word != "" {
		return nil
	}
	return marks
}

// namesSide reports whether a word can name a side in some column.
func namesSide(w string) bool {
	return len(sideBySpelling()[squeezed(w)]) > 0 || isPaired(squeezed(w))
}

// plusOf is what a plus means in a column of field f by the marks of its
// heading, in a file that uses this pair of letters.
func plusOf(marks []signMark, f field, pair int) side {
	found := noSide
	for _, m := range marks {
		said := sideOf(m.word, f, pair)
		if m.minus {
			said = said.opposite()
		}
		if said == noSide || found != noSide && said != found {
			return noSide
		}
		found = said
	}
	return found
}

func (s side) opposite() side {
	switch s {
	case rightOfTarget:
		return leftOfTarget
	case leftOfTarget:
		return rightOfTarget
	case open:
		return closed
	case closed:
		return open
	case upward:
		return downward
	case downward:
		return upward
	}
	return noSide
}

// understood scores how well a header is understood: two for every different
// thing it names, one where the word is loose. Without a number it is none.
func understood(hs []heading) (score, numbers int) {
	seen := map[field]bool{}
	for _, h := range hs {
		if len(h.guesses) > 0 && h.guesses[0].weight > loose && !seen[h.guesses[0].field] {
			f := h.guesses[0].field
			seen[f] = true
			score++
			if !f.text() && f != shotField {
				numbers++
			}
			continue
		}
		for _, f := range h.meaning.fields {
			if f == ignored || seen[f] {
				continue
			}
			seen[f] = true
			score++
			if len(h.meaning.fields) == 1 {
				score++
			}
			if !f.text() && f != shotField {
				numbers++
			}
			break
		}
	}
	return score, numbers
}

// maxHeading is how long a header cell can be, in bytes; longer ones are prose.
const maxHeading = 160

// headerWithin is how many rows at the top are searched for the header.
const headerWithin = 100

// findHeader is the index of the row that is the header, -1 if none is, with its
// cells: the one over most figures whose words are understood best. A cell is read together with the heading of its group in
// the row above, if there is one and the two make a word ("Club" over "Speed").
func findHeader(g grid) (at, score int, hs []heading) {
	at = -1
	known := map[string]heading{} // cells of data repeat
	read := func(cell string) heading {
		h, ok := known[cell]
		if !ok && len(cell) <= maxHeading {
			h = readHeading(cell)
			known[cell] = h
		}
		return h
	}
	for i, r := range g.rows[:min(len(g.rows), headerWithin)] {
		if at >= 0 && repeats(r, g.rows[at]) {
			continue
		}
		numbered := isNumbered(r)
		figures := figuresUnder(g, i, numbered)
		if figures == 0 && !numbered && mostUnderstood(r) <= score {
			continue // a row of figures
		}
		alone := make([]heading, len(r.cells))
		for k, c := range r.cells {
			alone[k] = read(c)
		}
		ways := [][]heading{alone}
		if numbered {
			ways = [][]heading{numberedHeadings(r)}
		} else if i > 0 && len(g.rows[i-1].cells) > 1 {
			ways = append(ways, readGrouped(g.rows[i-1], r, alone, read))
		}
		for _, way := range ways {
			s, numbers := understood(way)
			if figures >= 2 || figures == 1 && numbers > 0 {
				for k, h := range way {
					if !numbered {
						way[k] = h.guessing()
					}
				}
				s, numbers = understood(way)
				s, numbers = s+figures, max(numbers, figures/2)
			}
			if numbers >= 1 && s > score {
				at, score, hs = i, s, way
			}
		}
	}
	return at, score, hs
}

// mostUnderstood is the most a row can score by its words alone: nothing that
// begins with a digit is one.
func mostUnderstood(r row) (score int) {
	for _, c := range r.cells {
		if c != "" && !digit(c[0]) {
			score += 2
		}
	}
	return score
}

// repeats reports whether a row says mostly what another does.
func repeats(r, of row) bool {
	same, filled := 0, 0
	for i, c := range of.cells {
		if c = strings.TrimSpace(c); c != "" {
			filled++
			if strings.EqualFold(c, strings.TrimSpace(r.cell(i))) {
				same++
			}
		}
	}
	return same*2 > filled
}

// readGrouped reads a header under a row of group headings, each of which
// counts until the next.
func readGrouped(above, r row, alone []heading, read func(string) heading) []heading {
	hs := slices.Clone(alone)
	group := ""
	for i, c := range r.cells {
		if a := above.cell(i); a != "" {
			group = a
		}
		if group == "" || c == "" || digit(c[0]) || digit(group[0]) || namesSide(c) {
			continue
		}
		if h := read(group + " " + c); len(h.meaning.fields) == 1 {
			hs[i] = h
		}
	}
	return hs
}

// languagesOf are those of a word, or of the longest it begins with.
func languagesOf(w string) (of []string) {
	r := []rune(w)
	for n := len(r); n > 2 || n == len(r); n-- {
		for _, p := range partsBySpelling()[string(r[:n])] {
			of = append(of, p.language)
		}
		if of != nil || n == 0 {
			break
		}
	}
	return of
}

// languages are those that most of a header's words belong to; none if English
// is among them.
func languages(cs []column) []string {
	count := map[string]int{}
	most := 0
	for _, c := range cs {
		of := slices.Clone(c.meaning.languages)
		if len(of) == 0 {
			for _, w := range spelled(c.text) {
				of = append(of, languagesOf(w)...)
			}
		}
		for _, l := range slices.Compact(slices.Sorted(slices.Values(of))) {
			count[l]++
			most = max(most, count[l])
		}
	}
	var best []string
	for l, n := range count {
		if n == most {
			best = append(best, l)
		}
	}
	if slices.Contains(best, "en") {
		return nil
	}
	return best
}
