package shapes

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"strconv"
	"strings"

	"rangepost/analysis"
)

// A table is a session before it is given a format: text in cells.
type table struct {
	above [][]string // lines above the headings
	heads []string
	units []string // nil if there is no row of units
	lines []line
}

type line struct {
	kind  lineKind
	cells []string
}

type lineKind int8

const (
	ballLine lineKind = iota
	summaryLine
	headingLine
	unitLine
	blankLine
	blockLine // the club of the balls below
)

// options is what the format allows a table to be.
type options struct {
	tier      Tier
	comma     bool // decimals may be commas
	plain     bool // nothing above, between or below the balls but headings
	maxShots  int
	few       bool // few columns: a table made to be pasted
	noGrouped bool // no thousands
}

// make is a table and its truth.
func makeTable(r *rand.Rand, l *language, o options) (table, Truth) {
	g := newGolfer(r)
	t := Truth{Language: l.code, Tier: o.tier, Hand: g.hand, Ball: g.ball}
	f := figures{minus: "-", plus: chance(r, 0.15), comma: o.comma && l.comma && chance(r, 0.85)}
	if chance(r, 0.04) {
		f.minus = "\u2212"
	}
	if !o.noGrouped && chance(r, 0.18) {
		f.thousand = pick(r, l.thousands)
		if f.thousand == "." && !f.comma || f.thousand == "," && !o.comma {
			f.thousand = ""
		}
	}

	// Who hit what.
	clubs := pickBag(r)
	n := 10 + r.IntN(51)
	if o.maxShots > 0 {
		n = min(n, o.maxShots)
	}
	if n < 10*len(clubs) && chance(r, 0.6) {
		clubs = clubs[:max(1, n/10)]
	}
	type ball struct {
		club   analysis.Club
		values map[analysis.Number]float64
	}
	var balls []ball
	for i := range n {
		b := clubs[i*len(clubs)/n]
		balls = append(balls, ball{b.club, g.hit(r, b)})
	}

	// What is measured, in which units, under which headings.
	numbers := measured(r)
	if o.few {
		numbers = few(r, numbers)
	}
	sys := l.system(r)
	unitsIn := pick(r, []Where{InHeading, InHeading, InHeading, InRow, InValue, Nowhere, Nowhere, InPreamble})
	if o.plain && unitsIn != InValue && unitsIn != Nowhere {
		unitsIn = InHeading
	}
	forgetful := chance(r, 0.12) // a unit here and there is not written
	spelt := map[string]string{}
	var cols []column
	for _, num := range numbers {
		u := sys.of(num)
		c := column{Column: Column{Number: num, Known: true, Unit: u, Decimals: decimals(r, num, u)}}
		c.Quantum = inSI[u] * math.Pow(10, -float64(c.Decimals))
		if u != "" {
			if _, ok := spelt[u]; !ok {
				spelt[u] = l.spell(r, u)
			}
			c.spelt, c.UnitIn = spelt[u], unitsIn
			if forgetful && chance(r, 0.3) || unitsIn == InPreamble && u != sys.far && u != sys.fast {
				c.UnitIn = Nowhere
			}
		}
		cols = append(cols, c)
	}
	tight := chance(r, 0.3)
	for i := range cols {
		cols[i].tight = tight
	}
	sides(r, l, g.hand, cols)
	cols = addNoise(r, l, cols, o)

	// Where the club is said.
	t.ClubIn = pick(r, []Where{InColumn, InColumn, InColumn, InColumn, InBlocks, InPreamble, Nowhere})
	if o.plain && t.ClubIn != InColumn {
		t.ClubIn = Nowhere
	}
	if len(clubs) > 1 && (t.ClubIn == InPreamble || t.ClubIn == Nowhere) {
		t.ClubIn = InColumn
	}
	if t.ClubIn == InColumn {
		at := min(len(cols), pick(r, []int{0, 0, 1, 1, len(cols)}))
		cols = slices.Insert(cols, at, column{Column: Column{Club: true}})
	}
	nameHeadings(r, l, o.tier, cols)

	// The rows.
	var tab table
	style := pick(r, []int{0, 0, 0, 0, 0, 1, 2, 3}) // summaries: none, at the end, after each club, at the top
	again := chance(r, 0.08) && len(clubs) > 1      // headings over each club
	gaps := chance(r, 0.12)                         // a blank line over each club
	both := chance(r, 0.5)                          // averages with deviations
	missing := chance(r, 0.25)                      // cells here and there are empty
	dash := pick(r, []string{"", "-", "--", "n/a", "—", ""})
	if o.plain {
		style, again, gaps = 0, false, false
	}
	label := slices.IndexFunc(cols, func(c column) bool { return c.Club || !c.Known && c.noise != nil })
	summarise := func(from, to int) {
		rows := []string{pick(r, l.average)}
		if both {
			rows = append(rows, pick(r, l.deviation))
		}
		for k, name := range rows {
			cells := make([]string, len(cols))
			for i := range cols {
				if !cols[i].Known {
					continue
				}
				var vs []float64
				for _, s := range t.Shots[from:to] {
					if v, ok := s.Values[cols[i].Number]; ok && !s.Misread {
						vs = append(vs, v)
					}
				}
				if len(vs) == 0 {
					continue
				}
				m, sd := moments(vs)
				if k == 1 {
					m = sd
				}
				c := cols[i]
				if k == 1 {
					c.Lettered, c.Positive = false, NoSide
				}
				cells[i], _ = c.cell(f, g.hand, m)
			}
			cells[max(0, label)] = name
			tab.lines = append(tab.lines, line{summaryLine, cells})
			t.Summaries++
		}
	}
	misread := map[int]bool{}
	if chance(r, 0.3) && !o.few {
		for range 1 + r.IntN(2) {
			misread[r.IntN(n)] = true
		}
	}
	clock := 9*3600 + r.IntN(30000)
	from := 0
	for i, b := range balls {
		if i == 0 || balls[i-1].club != b.club {
			if i > 0 {
				if style == 2 {
					summarise(from, i)
				}
				from = i
				if gaps {
					tab.lines = append(tab.lines, line{kind: blankLine})
				}
				if again {
					tab.lines = append(tab.lines, line{kind: headingLine})
				}
			}
			if t.ClubIn == InBlocks {
				cells := make([]string, len(cols))
				cells[0] = l.clubName(b.club)
				tab.lines = append(tab.lines, line{blockLine, cells})
			}
		}
		clock += 20 + r.IntN(60)
		shot := Shot{Club: b.club, Misread: misread[i], Values: map[analysis.Number]float64{}}
		cells := make([]string, len(cols))
		kind := r.IntN(3)
		for j := range cols {
			c := &cols[j]
			switch {
			case c.Club:
				cells[j] = l.clubName(b.club)
			case c.backSpin:
				back := b.values[analysis.Spin] * math.Cos(b.values[analysis.SpinAxis])
				cells[j], _ = f.write(back/analysis.RevPerMinute, 0)
			case c.noise != nil:
				cells[j] = c.noise.text(r, i, clock, f)
			case shot.Misread:
				cells[j] = c.nonsense(r, f, g.hand, kind, b.values[c.Number])
			case missing && chance(r, 0.03) && c.Number != analysis.BallSpeed && c.Number != analysis.Carry:
				cells[j] = dash
			default:
				cells[j], shot.Values[c.Number] = c.cell(f, g.hand, b.values[c.Number])
			}
		}
		t.Shots = append(t.Shots, shot)
		tab.lines = append(tab.lines, line{ballLine, cells})
	}
	switch style {
	case 1:
		if chance(r, 0.4) {
			tab.lines = append(tab.lines, line{kind: blankLine})
		}
		summarise(0, n)
	case 2:
		summarise(from, n)
	case 3:
		at := len(tab.lines)
		summarise(0, n)
		tab.lines = append(slices.Clone(tab.lines[at:]), tab.lines[:at]...)
	}

	for i := range cols {
		tab.heads = append(tab.heads, cols[i].Heading)
	}
	if unitsIn == InRow {
		bracket := r.IntN(3)
		tab.units = make([]string, len(cols))
		for i := range cols {
			if cols[i].UnitIn == InRow {
				tab.units[i] = []string{"%s", "(%s)", "[%s]"}[bracket]
				tab.units[i] = fmt.Sprintf(tab.units[i], cols[i].spelt)
			}
		}
	}
	if !o.plain {
		tab.above = preamble(r, l, t, sys, unitsIn == InPreamble)
	}
	for i := range cols {
		t.Columns = append(t.Columns, cols[i].Column)
	}
	t.settle()
	return tab, t
}

// pickBag is one to four clubs, longest last or first.
func pickBag(r *rand.Rand) []build {
	n := pick(r, []int{1, 1, 1, 2, 2, 3, 4})
	var out []build
	for _, i := range r.Perm(len(bag))[:n] {
		out = append(out, bag[i])
	}
	return out
}

// few is three to six of the numbers, as somebody copies them.
func few(r *rand.Rand, all []analysis.Number) []analysis.Number {
	n := 3 + r.IntN(4)
	keep := map[analysis.Number]bool{}
	for _, i := range r.Perm(len(all))[:min(n, len(all))] {
		keep[all[i]] = true
	}
	return slices.DeleteFunc(slices.Clone(all), func(n analysis.Number) bool { return !keep[n] })
}

func moments(v []float64) (mean, sd float64) {
	for _, x := range v {
		mean += x
	}
	mean /= float64(len(v))
	for _, x := range v {
		sd += (x - mean) * (x - mean)
	}
	return mean, math.Sqrt(sd / float64(max(1, len(v)-1)))
}

// addNoise puts columns in that are no number of a ball.
func addNoise(r *rand.Rand, l *language, cols []column, o options) []column {
	if chance(r, 0.08) && !o.few {
		at := slices.IndexFunc(cols, func(c column) bool { return c.Known && c.Number == analysis.Spin })
		if at >= 0 {
			c := column{backSpin: true, Column: Column{Accept: []analysis.Number{analysis.Spin}}}
			cols = slices.Insert(cols, at+1, c)
		}
	}
	if chance(r, 0.5) {
		var numbers []noise
		for _, n := range l.noise {
			if n.kind == ballNumber {
				numbers = append(numbers, n)
			}
		}
		n := pick(r, numbers)
		cols = slices.Insert(cols, 0, column{noise: &n})
	}
	if o.few {
		return cols
	}
	for _, i := range r.Perm(len(l.noise)) {
		if n := l.noise[i]; n.kind != ballNumber && chance(r, 0.12) {
			cols = slices.Insert(cols, pick(r, []int{0, len(cols), len(cols), r.IntN(len(cols) + 1)}), column{noise: &n})
		}
	}
	return cols
}

func (n *noise) text(r *rand.Rand, i, clock int, f figures) string {
	switch n.kind {
	case ballNumber:
		return strconv.Itoa(i + 1)
	case timeOfDay:
		return fmt.Sprintf("%02d:%02d:%02d", clock/3600, clock/60%60, clock%60)
	case temperature:
		s, _ := f.write(18+float64(i%7)/10, 1)
		return s
	case humidity:
		return strconv.Itoa(55 + i%4)
	case link:
		return fmt.Sprintf("clip-%04d.mp4", 100+i)
	case yes:
		return pick(r, []string{"0", "0", "0", "1"})
	}
	return pick(r, []string{"", "", "", "x", "test"})
}

// nonsense is a cell of a row the device got wrong.
func (c *column) nonsense(r *rand.Rand, f figures, h analysis.Hand, kind int, v float64) string {
	switch {
	case kind == 0: // nothing seen
		s, _ := f.write(0, c.Decimals)
		return s
	case kind == 1 && c.Number != analysis.BallSpeed: // only the ball seen
		return pick(r, []string{"", "-"})
	}
	if c.Number == analysis.BallSpeed || c.Number == analysis.Smash {
		v *= 2.6
	}
	s, _ := c.cell(f, h, v)
	return s
}

// nameHeadings gives every column its heading, no two alike.
func nameHeadings(r *rand.Rand, l *language, t Tier, cols []column) {
	bracket := r.IntN(6)
	blank := wordless(r, len(cols))
	used := map[string]bool{}
	for i := range cols {
		c := &cols[i]
		for try := 0; ; try++ {
			h := blank[i]
			if t != Wordless {
				switch {
				case c.Club:
					h = pick(r, l.club)
				case c.backSpin:
					h = l.backSpin
				case c.noise != nil:
					h = c.noise.heading
				default:
					tier := t
					if try > 20 {
						tier = Ordinary
					}
					h = l.heading(r, c.Number, tier)
				}
			}
			if used[strings.ToLower(h)] && try < 40 {
				continue
			}
			used[strings.ToLower(h)] = true
			c.Heading = h
			break
		}
		if c.SideSaid {
			c.Heading += sideSaid(r, c)
		}
		if c.UnitIn == InHeading {
			form := []string{"%s (%s)", "%s [%s]", "%s, %s", "%s %s", "%s(%s)", "%s_%s"}[bracket]
			if bracket == 5 && strings.ContainsAny(c.spelt, "°/.") {
				form = "%s (%s)"
			}
			c.Heading = fmt.Sprintf(form, c.Heading, c.spelt)
		}
	}
}

// sideSaid is how a heading says which way is positive.
func sideSaid(r *rand.Rand, c *column) string {
	plus, minus := c.words[0], c.words[1]
	if c.Positive == Left {
		plus, minus = minus, plus
	}
	return pick(r, []string{" (+" + plus + ")", " (+" + plus + "/-" + minus + ")", " [" + plus + "+ " + minus + "-]"})
}

// preamble is the lines above the table.
func preamble(r *rand.Rand, l *language, t Truth, sys system, units bool) [][]string {
	var out [][]string
	if chance(r, 0.35) {
		out = append(out, []string{l.session})
		if chance(r, 0.7) {
			out = append(out, []string{pick(r, l.player), pick(r, []string{"A. N. Golfer", "Wren", "Tern"})})
		}
		if chance(r, 0.7) {
			out = append(out, []string{pick(r, l.date), fmt.Sprintf("2026-%02d-%02d", 1+r.IntN(12), 1+r.IntN(28))})
		}
		if chance(r, 0.4) {
			out = append(out, []string{pick(r, l.place), "Saltmarsh Links"})
		}
	}
	if t.ClubIn == InPreamble {
		out = append(out, []string{l.club[0], l.clubName(t.Shots[0].Club)})
	}
	if units {
		out = append(out, []string{pick(r, []string{"Units", "Unit"}), l.spell(r, sys.far), l.spell(r, sys.fast)})
	}
	if len(out) > 0 && chance(r, 0.6) {
		out = append(out, nil)
	}
	return out
}
