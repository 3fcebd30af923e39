package sessionfile

import (
	"bytes"
	"slices"
	"strconv"
	"strings"
	"unicode"
)

// Ways to cut lines into cells that no separator cuts.
const (
	byGaps    = rune(-1) // two spaces or more stand between cells
	byColumns = rune(-2) // cells stand one under another
	bySpaces  = rune(-3) // every space stands between cells
	byWords   = rune(-4) // "carry 152, 8 right, launch 17": the words are the heading
	byFigures = rune(-5) // a figure is a cell, whatever parts them
)

// maxPasted is the most bytes of a text that is looked at for cells without a
// separator: tables of that kind are pasted or typed by hand.
const maxPasted = 64 << 10

// tidied is a text of that kind without what people and programs put around
// its rows: fences, rules, and the count before every ball ("1. carry 152").
// Every row stays on its line.
func tidied(text []byte) []byte {
	if len(text) > maxPasted {
		return text
	}
	all := strings.Split(string(bytes.TrimPrefix(text, []byte("\ufeff"))), "\n")
	counted := map[int]string{}
	for i, line := range all {
		line = strings.TrimRight(line, " \t\r")
		if strings.HasPrefix(strings.TrimSpace(line), "```") || isRule(line) {
			line = ""
		}
		all[i] = line
		if n, rest, ok := counter(line); ok && n == len(counted)+1 {
			counted[i] = rest
		} else if len(counted) > 0 && strings.TrimSpace(line) != "" {
			return []byte(strings.Join(all, "\n"))
		}
	}
	if len(counted) > 1 {
		for i, rest := range counted {
			all[i] = rest
		}
	}
	return []byte(strings.Join(all, "\n"))
}

// counter is the count that a line begins with, "1. ", "1) ", "1: " or "#1 ",
// and what follows it.
func counter(line string) (n int, rest string, ok bool) {
	word, rest, ok := strings.Cut(strings.TrimSpace(line), " ")
	digits := strings.Trim(word, "#.):")
	n, err := strconv.Atoi(digits)
	return n, strings.TrimSpace(rest), ok && err == nil && len(digits) < len(word) && digits[0] != '-' && digits[0] != '+'
}

// lines cuts a text into its lines.
func lines(text []byte) (all []row) {
	at := 0
	for line := range bytes.SplitSeq(text, []byte{'\n'}) {
		at++
		all = append(all, row{at, []string{strings.TrimRight(string(line), " \t\r")}})
	}
	return all
}

// isRule reports whether a line is drawn rather than written: "|---|:--:|".
func isRule(s string) bool {
	return strings.ContainsAny(s, "-=_") && strings.Trim(s, "|-=_+: \t") == ""
}

// cut cuts a text in one of the ways without a separator.
func cut(text []byte, way rune) grid {
	all := lines(text)
	switch way {
	case byWords:
		return readTyped(all)
	case byFigures:
		return readFigures(all)
	case byColumns:
		return inColumns(all)
	}
	var g grid
	for _, r := range all {
		line := strings.ReplaceAll(r.cells[0], "\t", "  ")
		var cells []string
		if way == bySpaces {
			cells = strings.Fields(line)
		} else {
			for cell := range strings.SplitSeq(line, "  ") {
				if cell = strings.TrimSpace(cell); cell != "" {
					cells = append(cells, cell)
				}
			}
		}
		g.rows = append(g.rows, row{r.at, cells})
	}
	return g
}

// A strip is a stretch of characters in which some line has something.
type strip struct {
	from, to int
	lines    int // that have something in it
}

// inColumns cuts lines where all of them have a space: all that have two
// spaces together somewhere, for the others are talk around the table.
func inColumns(all []row) (g grid) {
	texts := make([][]rune, len(all))
	apart := 0
	for i, r := range all {
		texts[i] = []rune(r.cells[0])
		if isApart(r.cells[0]) {
			apart++
		}
	}
	talk := func(i int) bool { return apart > 2 && !isApart(all[i].cells[0]) }
	var used []bool
	for i := range all {
		if talk(i) {
			continue
		}
		for k, c := range texts[i] {
			for len(used) <= k {
				used = append(used, false)
			}
			used[k] = used[k] || !unicode.IsSpace(c)
		}
	}
	var strips []strip
	for k := 0; k < len(used); k++ {
		if !used[k] {
			continue
		}
		s := strip{from: k}
		for k < len(used) && used[k] {
			k++
		}
		s.to = k
		for i, t := range texts {
			if !talk(i) && strings.TrimSpace(string(t[min(s.from, len(t)):min(s.to, len(t))])) != "" {
				s.lines++
			}
		}
		strips = append(strips, s)
	}
	if strips = joined(strips); len(strips) > maxColumns {
		return g
	}
	for i, r := range all {
		out := row{at: r.at}
		switch {
		case talk(i):
			out.cells = nonEmpty(strings.TrimSpace(r.cells[0]))
		case len(texts[i]) > 0:
			for _, s := range strips {
				out.cells = append(out.cells, strings.TrimSpace(string(texts[i][min(s.from, len(texts[i])):min(s.to, len(texts[i]))])))
			}
		}
		g.rows = append(g.rows, out)
	}
	return g
}

// isApart reports whether two spaces stand together within a line.
func isApart(line string) bool { return strings.Contains(strings.TrimSpace(line), "  ") }

// joined puts the words of a heading together: a strip that one line alone has
// something in, one space from its neighbour, is a part of the heading over
// that: "Carry yd".
func joined(strips []strip) (all []strip) {
	for _, s := range strips {
		n := len(all) - 1
		if n >= 0 && s.from-all[n].to < 2 && min(s.lines, all[n].lines) < 2 {
			all[n].to, all[n].lines = s.to, max(s.lines, all[n].lines)
			continue
		}
		all = append(all, s)
	}
	return all
}

// A saying is one number of a typed line with the words around it.
type saying struct{ name, value string }

// readTyped reads lines that name their numbers themselves, "carry 152, 8
// right, launch 17", as a table: what is said in several lines is a column.
func readTyped(all []row) grid {
	clubs, sides := 0, 0
	for _, r := range all {
		switch said := sayings(r.cells[0], true); {
		case len(said) < 2:
		case said[0].name == "club" && saysSide(said[0].value):
			clubs++
		case said[0].name == "side":
			sides++
		}
	}
	clubFirst := sides == 0 || clubs == 0 // where others say "43 V", "3 H" is a side
	var names []string
	var rows []row
	var unread []row  // lines with figures among them
	var club []saying // of a line that says nothing else, and is of those below it
	for _, r := range all {
		said := sayings(r.cells[0], clubFirst)
		if len(said) == 0 {
			if len(rows) > 0 && figureCount(r.cells[0]) > 1 {
				unread = append(unread, r)
			}
			continue
		}
		if said[0].name == "club" {
			if club = nil; len(said) == 1 {
				club = said
				continue
			}
		}
		said = append(slices.Clone(club), said...)
		out := row{at: r.at}
		for _, s := range said {
			k := slices.Index(names, s.name)
			if k < 0 {
				if k = len(names); k >= maxColumns {
					return grid{}
				}
				names = append(names, s.name)
			}
			for len(out.cells) <= k {
				out.cells = append(out.cells, "")
			}
			if out.cells[k] != "" {
				return grid{} // two numbers of one name: no such line
			}
			out.cells[k] = s.value
		}
		rows = append(rows, out)
	}
	if len(rows) < 2 || len(names) < 2 || len(names) > 3*len(rows)+6 {
		return grid{}
	}
	header := row{at: rows[0].at, cells: names}
	if len(unread) > 0 { // beside the table, so that they are counted as left out
		header.cells = append(header.cells, "")
		for _, r := range unread {
			rows = append(rows, row{r.at, append(make([]string, len(names)), r.cells[0])})
		}
		slices.SortStableFunc(rows, func(a, b row) int { return a.at - b.at })
	}
	return grid{rows: append([]row{header}, rows...)}
}

// figureCount is how many runs of digits stand in a line.
func figureCount(line string) int {
	return len(strings.FieldsFunc(line, func(r rune) bool { return !unicode.IsDigit(r) }))
}

// sayings takes a typed line apart at its commas and the like; a part has one
// number, and a name before or behind it. A side without a name is where the
// ball finished, and a club may stand alone, or first where clubFirst.
func sayings(line string, clubFirst bool) (said []saying) {
	line = plainText(line)
	if bullet := strings.TrimLeft(line, "-*•"); strings.HasPrefix(bullet, " ") { // and no minus
		line = bullet
	}
	line = strings.ReplaceAll(line, " - ", ", ")
	for part := range strings.FieldsFuncSeq(slashes(decimals(line)), func(r rune) bool { return r == ',' || r == ';' || r == '|' || r == '/' || r == '\t' }) {
		part = strings.TrimSpace(unhidden.Replace(part))
		if part == "" {
			continue
		}
		// Further on, "2 I" is two to the left.
		if _, ok := parseClub(part); ok && (strings.ContainsFunc(part, unicode.IsLetter) || part == strings.TrimSpace(line)) && (clubFirst && len(said) == 0 || !saysSide(part)) {
			said = append(said, saying{"club", part})
			continue
		}
		n, ok := splitNumeral(strings.NewReplacer("=", " ", ":", " ").Replace(part))
		if !ok {
			return nil
		}
		var name, beside []string
		all := strings.Fields(n.before + " \x01 " + n.after)
		figure := slices.Index(all, "\x01")
		for i, w := range all {
			bare := strings.Trim(w, ".()[]")
			switch {
			case len(bare) == 1 && (figure-i > 2 || i == 0 && figure == 2 && isName(all[1])), // "h. launch left 2.8", "v. ball 33"
				figure-i > 1 && saysHeight(bare),   // "haut. maxi 18 m"
				i < figure && endsName(name, bare): // "launch v 12"
				name = append(name, w)
			case w == "\x01":
				beside = append(beside, w)
			case isUnit(bare) && (len(bare) > 1 || strings.ContainsAny(bare, "mMsSyY")), len(sideBySpelling()[squeezed(bare)]) > 0,
				isPaired(strings.ToLower(bare)):
				beside = append(beside, bare)
			case bare != "":
				name = append(name, bare)
			}
		}
		if len(name) == 0 {
			if !slices.ContainsFunc(beside, func(w string) bool {
				of := sideBySpelling()[squeezed(w)]
				return w != "s" && isPaired(strings.ToLower(w)) || len(of) > 0 && (of[0].side == rightOfTarget || of[0].side == leftOfTarget)
			}) {
				return nil
			}
			name = []string{"side"}
		}
		sign := ""
		if n.negative {
			sign = "-"
		}
		value := strings.Join(beside, " ")
		value = strings.TrimSpace(strings.Replace(value, "\x01", " "+sign+n.body+" ", 1))
		said = append(said, saying{strings.ToLower(strings.Join(name, " ")), value})
	}
	return said
}

// saysHeight reports whether a word is a side of the strike or the attack, up or
// down, which may as well be of a name.
func saysHeight(w string) bool {
	of := sideBySpelling()[squeezed(w)]
	return len(of) > 0 && (of[0].side == upward || of[0].side == downward)
}

// endsName reports whether a letter ends a name that the lexicon holds, of a
// number without sides.
func endsName(name []string, letter string) bool {
	m, ok := lexiconBySpelling()[squeezed(strings.Join(name, " ")+" "+letter)]
	return ok && len(letter) == 1 && !slices.ContainsFunc(m.fields, field.sideways)
}

// isName reports whether a word is neither a unit nor a side.
func isName(w string) bool {
	w = strings.Trim(w, ".()[]")
	return len(w) > 1 && !isUnit(w) && !namesSide(w)
}

// unhidden brings back what decimals and slashes hid.
var unhidden = strings.NewReplacer("\x00", ",", "\x02", "/")

// slashes hides those of units, which part no sayings: "32 m/s".
func slashes(s string) string {
	for from := 0; ; {
		i := strings.IndexByte(s[from:], '/')
		if i < 0 {
			return s
		}
		i += from
		before, after := s[:i], s[i+1:]
		if before = before[len(strings.TrimRightFunc(before, unicode.IsLetter)):]; before == "" && strings.HasSuffix(s[:i], " 1") {
			before = "1" // "2500 1/min", but "151mi/h"
		}
		after = after[:len(after)-len(strings.TrimLeftFunc(after, unicode.IsLetter))]
		if before != "" && after != "" && isUnit(before+"/"+after) {
			s = s[:i] + "\x02" + s[i+1:]
		}
		from = i + 1
	}
}

// decimals hides the commas between digits, which part no sayings: "152,5".
func decimals(s string) string {
	b := []byte(s)
	for i := 1; i+1 < len(b); i++ {
		if b[i] == ',' && digit(b[i-1]) && digit(b[i+1]) {
			b[i] = 0
		}
	}
	return string(b)
}
