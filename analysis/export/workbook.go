package export

import (
	"archive/zip"
	"bytes"
	"io"
	"strconv"
	"strings"

	"github.com/xuri/excelize/v2"
)

// maxWorkbook is how large a workbook may unpack to. 5,000 shots of sixty
// columns are about 16 MiB of XML; the library needs several bytes for each.
const maxWorkbook = 32 << 20

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
func readWorkbook(data []byte) (gs []grid, refusal *Refusal) {
	if refusal := weighWorkbook(data); refusal != nil {
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
		return nil, damaged("workbook, or it has a password: it")
	}
	defer f.Close()
	for _, sheet := range f.GetSheetList() {
		g, refusal := readSheet(f, sheet)
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

// weighWorkbook unpacks every part into nothing, to know its true size before
// the library holds it in memory.
func weighWorkbook(data []byte) *Refusal {
	r, err := zip.NewReader(bytes.NewReader(data), int64(len(data)))
	if err != nil {
		return damaged("workbook")
	}
	limit, total := min(unpackLimit(len(data)), maxUnpacked), int64(0)
	for _, part := range r.File {
		f, err := part.Open()
		if err != nil {
			return damaged("workbook")
		}
		n, err := io.Copy(io.Discard, io.LimitReader(f, limit-total+1))
		f.Close()
		total += n
		switch {
		case total > limit:
			return bomb()
		case err != nil:
			return damaged("workbook")
		}
	}
	if total > maxWorkbook {
		return refuse("too_large", "Split it: one session a file.", "The workbook unpacks to more than %d MiB.", maxWorkbook>>20)
	}
	return nil
}

// readSheet reads one sheet: numbers in full precision, but dates, units and
// sides as the sheet shows them.
func readSheet(f *excelize.File, sheet string) (grid, *Refusal) {
	g := grid{name: shown(sheet), typed: true}
	raw, err := f.Rows(sheet)
	if err != nil {
		return g, nil // a chart, or a sheet without cells
	}
	defer raw.Close()
	formatted, err := f.Rows(sheet)
	if err != nil {
		return g, damaged("workbook")
	}
	defer formatted.Close()
	for at := 1; raw.Next() && formatted.Next(); at++ {
		values, err := raw.Columns(excelize.Options{RawCellValue: true})
		if err != nil {
			return g, damaged("workbook").at(at, "")
		}
		looks, err := formatted.Columns()
		if err != nil {
			return g, damaged("workbook").at(at, "")
		}
		if len(values) > maxColumns {
			return g, tooWide(len(values)).at(at, "")
		}
		for i, v := range values {
			if i < len(looks) && looks[i] != v && showsMore(v, looks[i]) {
				values[i] = looks[i]
			}
		}
		r := row{at: at, cells: values}
		if r.blank() {
			continue
		}
		if len(g.rows) >= maxRows {
			return g, tooManyRows().at(at, "")
		}
		g.rows = append(g.rows, r)
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
