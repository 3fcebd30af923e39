package sessionfile

import (
	"strings"
	"unicode"

	"rangepost/analysis"
)

func refuse(code, hint, format string, args ...any) *analysis.Refusal {
	return analysis.Refuse(hint, format, args...).Coded(code)
}

// shown is untrusted text, cut to a length fit for a sentence.
func shown(s string) string {
	s = strings.Map(func(r rune) rune {
		if unicode.IsControl(r) || r == unicode.ReplacementChar {
			return -1
		}
		return r
	}, s)
	if r := []rune(s); len(r) > 40 {
		s = string(r[:40]) + "…"
	}
	return s
}

func tooWide(n int) *analysis.Refusal {
	return refuse("too_wide", "Export one row a shot, with the measured numbers only.", "This row has %d columns; %d are the most.", n, maxColumns)
}

func tooManyRows() *analysis.Refusal {
	return refuse("too_many_rows", "Split the file: one session a file.", "The file has more than %d rows.", maxRows)
}

func longCell(n int) *analysis.Refusal {
	return refuse("long_cell", "Remove it. If it runs over several rows, a quotation mark was opened and not closed.", "A cell of this row holds %d bytes; %d are the most.", n, maxCell)
}
