package sessionfile

import (
	"archive/zip"
	"bytes"
	"encoding/xml"
	"errors"
	"io"
	"strconv"
	"strings"

	"rangepost/analysis"

	"github.com/xuri/excelize/v2"
)

// maxWorkbook is how large a workbook may unpack to, maxStrings how large its
// table of texts. 5,000 shots of sixty columns are about 10 MiB of XML, hardly
// any of it texts, of which the library keeps a dozen bytes for each.
const (
	maxWorkbook = 12 << 20
	maxStrings  = 6 << 20
)

// maxFormulaCells is how many cells a sheet may have for its formulas to be
// looked for one by one: the library holds the whole sheet for that.
const maxFormulaCells = 200000

// isWorkbook reports whether data is a zip archive laid out as a workbook.
func isWorkbook(data []byte) bool {
	if !bytes.HasPrefix(data, []byte("PK")) {
		return false
	}
	r, err := zip.NewReader(bytes.NewReader(data), int64(len(data)))
	if err != nil {
		return false
	}
	for _, f := range r.File {
		if strings.HasPrefix(f.Name, "xl/") {
			return true
		}
	}
	return false
}

// readWorkbook reads every sheet of a workbook.
func readWorkbook(data []byte) (gs []grid, refusal *analysis.Refusal) {
	seen, refusal := weighWorkbook(data)
	if refusal != nil {
		return nil, refusal
	}
	// The library is meant for friendly files; whatever a hostile one makes it
	// do ends here.
	defer func() {
		if recover() != nil {
			gs, refusal = nil, damaged("workbook")
		}
	}()
	f, err := excelize.OpenReader(bytes.NewReader(data), excelize.Options{UnzipSizeLimit: maxUnpacked, UnzipXMLSizeLimit: maxUnpacked})
	if err != nil {
		return nil, refuse("damaged", "Save it again without a password, or export the session as CSV.", "This workbook cannot be opened: it is damaged or has a password.")
	}
	defer f.Close()
	for _, sheet := range f.GetSheetList() {
		g, refusal := readSheet(f, sheet, seen)
		if refusal != nil {
			return nil, refusal
		}
		gs = append(gs, g)
	}
	if len(gs) == 0 {
		return nil, refuse("empty", "Export the session again.", "The workbook has no sheet.")
	}
	return gs, nil
}

// weighWorkbook streams every part past, before the library holds any of it in
// memory: to know its true size; to find sheets that break off, of which the
// library would silently read the part before; and to see whether a sheet
// holds formulas nobody calculated, which it would read as empty, or cells with
// a format of their own.
func weighWorkbook(data []byte) (seen sheetMarks, refusal *analysis.Refusal) {
	r, err := zip.NewReader(bytes.NewReader(data), int64(len(data)))
	if err != nil {
		return seen, damaged("workbook")
	}
	limit, total := unpackLimit(len(data)), int64(0)
	for _, part := range r.File {
		f, err := part.Open()
		if err != nil {
			return seen, damaged("workbook")
		}
		counted := &io.LimitedReader{R: f, N: limit - total + 1}
		before := counted.N
		if strings.HasPrefix(part.Name, "xl/worksheets/") && strings.HasSuffix(part.Name, ".xml") {
			err = seen.check(counted)
		} else {
			_, err = io.Copy(io.Discard, counted)
		}
		f.Close()
		total += before - counted.N
		switch {
		case total > limit:
			return seen, bomb()
		case total > maxWorkbook, before-counted.N > maxStrings && strings.HasSuffix(part.Name, "sharedStrings.xml"):
			return seen, refuse("too_large", "Split it: one session a file.", "The workbook unpacks to more than a session needs.")
		case err != nil:
			return seen, damaged("workbook")
		}
	}
	return seen, nil
}

// sheetMarks are what the sheets of a workbook were seen to hold.
type sheetMarks struct {
	uncalculated bool // a formula without a value
	formatted    bool // a cell with a format: it may look otherwise than its number
}

// check reads the XML of a sheet to its end, and notes what it holds.
func (m *sheetMarks) check(r io.Reader) error {
	d := xml.NewDecoder(r)
	var formula, value bool
	for {
		t, err := d.Token()
		if errors.Is(err, io.EOF) {
			return nil
		}
		if err != nil {
			return err
		}
		switch e := t.(type) {
		case xml.StartElement:
			switch e.Name.Local {
			case "c":
				formula, value = false, false
				for _, a := range e.Attr {
					m.formatted = m.formatted || a.Name.Local == "s" && a.Value != "0"
				}
			case "f":
				formula = true
			case "v", "is":
				value = true
			}
		case xml.EndElement:
			if e.Name.Local == "c" && formula && !value {
				m.uncalculated = true
			}
		}
	}
}

// fillFormulas writes a formula nobody calculated into its cell as text, so
// that it is complained about where it stands.
func fillFormulas(f *excelize.File, sheet string, g *grid) *analysis.Refusal {
	cells, width := 0, 0
	for _, r := range g.rows {
		width = max(width, len(r.cells))
		cells += len(r.cells)
	}
	if cells > maxFormulaCells {
		return refuse("formulas", "Open it in a spreadsheet program, save it there, and post that.", "The workbook holds formulas that were never calculated.")
	}
	for i := range g.rows {
		r := &g.rows[i]
		for len(r.cells) < width {
			r.cells = append(r.cells, "")
		}
		for k, c := range r.cells {
			if c != "" {
				continue
			}
			ref, err := excelize.CoordinatesToCellName(k+1, r.at)
			if err != nil {
				continue
			}
			if formula, err := f.GetCellFormula(sheet, ref); err == nil && formula != "" {
				r.cells[k] = "=" + formula
			}
		}
	}
	return nil
}

// readSheet reads one sheet: numbers in full precision, but dates, units and
// sides as the sheet shows them.
func readSheet(f *excelize.File, sheet string, seen sheetMarks) (grid, *analysis.Refusal) {
	g, refusal := readRows(f, sheet, excelize.Options{RawCellValue: true})
	if refusal != nil {
		return g, refusal
	}
	if at, _, _ := findHeader(g); at < 0 {
		return g, nil // not the sheet with the shots
	}
	looks := grid{}
	if seen.formatted {
		if looks, refusal = readRows(f, sheet, excelize.Options{}); refusal != nil {
			return g, refusal
		}
	}
	k := 0
	for _, r := range g.rows {
		for k < len(looks.rows) && looks.rows[k].at < r.at {
			k++
		}
		if k == len(looks.rows) || looks.rows[k].at != r.at {
			continue
		}
		for i, v := range r.cells {
			if look := looks.rows[k].cell(i); look != v && showsMore(v, look) {
				r.cells[i] = look
			}
		}
	}
	if seen.uncalculated {
		return g, fillFormulas(f, sheet, &g)
	}
	return g, nil
}

// readRows reads the rows of a sheet that are not blank.
func readRows(f *excelize.File, sheet string, o excelize.Options) (grid, *analysis.Refusal) {
	g := grid{name: shown(sheet), typed: true}
	rows, err := f.Rows(sheet)
	if err != nil {
		return g, nil // a chart, or a sheet without cells
	}
	defer rows.Close()
	total := 0
	for at := 1; rows.Next(); at++ {
		cells, err := rows.Columns(o)
		if err != nil {
			return g, damaged("workbook").At(at, "")
		}
		for _, c := range cells {
			if len(c) > maxCell {
				return g, longCell(len(c)).At(at, "")
			}
		}
		total += len(cells)
		switch r := (row{at: at, cells: cells}); {
		case len(cells) > maxColumns:
			return g, tooWide(len(cells)).At(at, "")
		case r.blank():
		case len(g.rows) >= maxRows:
			return g, tooManyRows().At(at, "")
		case total > maxCells:
			return g, refuse("too_many_cells", "Split the file: one session a file, with the measured numbers only.", "The sheet has more than %d cells.", maxCells).At(at, "")
		default:
			g.rows = append(g.rows, r)
		}
	}
	return g, nil
}

// showsMore reports whether a cell's format says something its bare number
// does not: that it is a date, or its unit or side.
func showsMore(value, look string) bool {
	if _, err := strconv.ParseFloat(value, 64); err != nil {
		return false
	}
	look = strings.Trim(plainText(look), "%")
	n, ok := splitNumeral(look)
	return look != "" && (!ok || n.before != "" || n.after != "")
}
