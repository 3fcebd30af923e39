package sessionfile

import (
	"encoding/xml"
	"errors"
	"io"
	"slices"
	"strconv"
	"strings"

	"rangepost/analysis"
)

// A sheetCell is a cell on its way from the XML of a sheet.
type sheetCell struct {
	column         int // from 0
	kind           string
	style          int
	value, formula strings.Builder
}

// readRows reads the rows of a sheet that are not blank, to the end of its XML,
// so that one that breaks off is told.
func (w *spreadsheet) readRows(d *xml.Decoder) ([]row, error) {
	var (
		rows  []row
		r     row
		c     sheetCell
		total int
		width int              // of what is more than a formula nobody calculated
		into  *strings.Builder // where text goes: the value, the formula or nowhere
		aside bool             // how a text is pronounced
	)
	for {
		token, err := d.Token()
		if errors.Is(err, io.EOF) {
			for i := range rows {
				rows[i].cells = rows[i].cells[:min(len(rows[i].cells), width)]
			}
			return slices.DeleteFunc(rows, row.blank), nil
		}
		if err != nil {
			return nil, err
		}
		switch e := token.(type) {
		case xml.StartElement:
			switch e.Name.Local {
			case "row":
				r = row{at: r.at + 1}
				if at, ok := attribute(e, "r"); ok {
					if r.at, err = strconv.Atoi(at); err != nil {
						return nil, damaged("workbook")
					}
				}
				c.column = -1
			case "c":
				if refusal := c.begin(e); refusal != nil {
					return nil, refusal.At(r.at, "")
				}
			case "rPh":
				aside = true
			case "v", "t":
				if !aside {
					into = &c.value
				}
			case "f":
				into = &c.formula
			}
		case xml.CharData:
			if into != nil {
				into.Write(e)
			}
		case xml.EndElement:
			switch e.Name.Local {
			case "v", "t", "f":
				into = nil
			case "rPh":
				aside = false
			case "c":
				text, refusal := w.shown(&c)
				if refusal != nil {
					return nil, refusal.At(r.at, "")
				}
				if text == "" {
					continue
				}
				for len(r.cells) < c.column {
					r.cells = append(r.cells, "")
				}
				r.cells = append(r.cells, text)
				if c.value.Len() > 0 {
					width = max(width, len(r.cells))
				}
			case "row":
				if total += len(r.cells); total > maxCells {
					return nil, refuse("too_many_cells", "Split the file: one session a file, with the measured numbers only.", "The sheet has more than %d cells.", maxCells).At(r.at, "")
				}
				if r.blank() {
					continue
				}
				if len(rows) >= maxRows {
					return nil, tooManyRows().At(r.at, "")
				}
				rows = append(rows, r)
			}
		}
	}
}

func attribute(e xml.StartElement, name string) (string, bool) {
	for _, a := range e.Attr {
		if a.Name.Local == name {
			return a.Value, true
		}
	}
	return "", false
}

// begin makes c the cell that e opens: where its reference says, or after the
// one before it.
func (c *sheetCell) begin(e xml.StartElement) *analysis.Refusal {
	before := c.column
	*c = sheetCell{column: before + 1}
	for _, a := range e.Attr {
		switch a.Name.Local {
		case "r":
			c.column = columnOf(a.Value)
		case "t":
			c.kind = a.Value
		case "s":
			c.style, _ = strconv.Atoi(a.Value)
		}
	}
	switch {
	case c.column <= before:
		return damaged("workbook")
	case c.column >= maxColumns:
		return tooWide(c.column + 1)
	}
	return nil
}

// columnOf is the column of a reference such as "AB12", from 0, or one that no
// sheet has.
func columnOf(reference string) int {
	n := 0
	for _, letter := range strings.ToUpper(reference) {
		if letter < 'A' || letter > 'Z' || n > maxColumns*26 {
			break
		}
		n = n*26 + int(letter-'A') + 1
	}
	return n - 1
}

// shown is what stands in a cell: a number in full, with what its format says
// beside it. A formula nobody calculated is complained about where it stands.
func (w *spreadsheet) shown(c *sheetCell) (string, *analysis.Refusal) {
	value := c.value.String()
	switch {
	case len(value) > maxCell:
		return "", longCell(len(value))
	case value == "":
		if c.formula.Len() > 0 {
			return "=" + c.formula.String(), nil
		}
		return "", nil
	}
	switch c.kind {
	case "s":
		i, err := strconv.Atoi(value)
		if err != nil || i < 0 || i >= len(w.texts) {
			return "", damaged("workbook")
		}
		value = w.texts[i]
		if len(value) > maxCell {
			return "", longCell(len(value))
		}
		return value, nil
	case "b":
		return map[string]string{"0": "FALSE", "1": "TRUE"}[value], nil
	case "str", "inlineStr":
		return unescaped(value), nil
	case "", "n":
		if c.style >= 0 && c.style < len(w.looks) {
			return w.looks[c.style].of(value, w.by1904), nil
		}
	}
	return value, nil
}

// unescaped puts back the characters that XML cannot hold, which stand as
// "_x000D_" in a workbook (ECMA-376 part 1, 22.9.2.19 [M]).
func unescaped(s string) string {
	at := strings.Index(s, "_x")
	if at < 0 {
		return s
	}
	if end := at + len("_x000D_"); len(s) >= end && s[end-1] == '_' {
		if code, err := strconv.ParseUint(s[at+2:end-1], 16, 16); err == nil {
			return s[:at] + string(rune(code)) + unescaped(s[end:])
		}
	}
	return s[:at+2] + unescaped(s[at+2:])
}
