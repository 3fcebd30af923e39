package shapes

import (
	"math/rand/v2"
	"slices"
	"strings"
	"unicode/utf8"
)

// rows is the table as rows of cells, the headings among them.
func (t *table) rows() [][]string {
	out := slices.Clone(t.above)
	out = append(out, t.heads)
	if t.units != nil {
		out = append(out, t.units)
	}
	for _, l := range t.lines {
		switch l.kind {
		case headingLine:
			out = append(out, t.heads)
			if t.units != nil {
				out = append(out, t.units)
			}
		case blankLine:
			out = append(out, nil)
		default:
			out = append(out, l.cells)
		}
	}
	return out
}

// delimited is text whose cells a sign keeps apart.
type delimited struct {
	comma     rune
	crlf      bool
	quoteAll  bool
	spaced    bool // " | "
	trailing  bool // a separator ends each row
	announced bool // a first line "sep=;"
}

func newDelimited(r *rand.Rand, comma rune) delimited {
	return delimited{
		comma: comma, crlf: chance(r, 0.4), quoteAll: chance(r, 0.1), spaced: comma == '|' && chance(r, 0.5),
		trailing: chance(r, 0.04), announced: chance(r, 0.03) && comma != '|',
	}
}

func (d delimited) write(rows [][]string) string {
	var b strings.Builder
	end, sep := "\n", string(d.comma)
	if d.crlf {
		end = "\r\n"
	}
	if d.announced {
		b.WriteString("sep=" + sep + end)
	}
	if d.spaced {
		sep = " " + sep + " "
	}
	for _, row := range rows {
		for i, cell := range row {
			if i > 0 {
				b.WriteString(sep)
			}
			if d.quoteAll || strings.ContainsRune(cell, d.comma) || strings.ContainsAny(cell, "\"\n") {
				cell = `"` + strings.ReplaceAll(cell, `"`, `""`) + `"`
			}
			b.WriteString(cell)
		}
		if d.trailing && len(row) > 0 {
			b.WriteString(sep)
		}
		b.WriteString(end)
	}
	return b.String()
}

// aligned is text whose cells spaces keep apart, at least two of them; single
// spaces inside a cell stay. An empty cell of the table is a dash.
func aligned(rows [][]string, right bool) string {
	var width []int
	clean := make([][]string, len(rows))
	for i, row := range rows {
		for j, cell := range row {
			cell = strings.Join(strings.Fields(cell), " ")
			if cell == "" {
				cell = "-"
			}
			clean[i] = append(clean[i], cell)
			if j == len(width) {
				width = append(width, 0)
			}
			width[j] = max(width[j], utf8.RuneCountInString(cell))
		}
	}
	var b strings.Builder
	for _, row := range clean {
		var line strings.Builder
		for j, cell := range row {
			pad := strings.Repeat(" ", width[j]-utf8.RuneCountInString(cell))
			if right {
				cell = pad + cell
			} else {
				cell += pad
			}
			if j > 0 {
				line.WriteString("  ")
			}
			line.WriteString(cell)
		}
		b.WriteString(strings.TrimRight(line.String(), " ") + "\n")
	}
	return b.String()
}
