package sessionfile

import (
	"archive/zip"
	"bytes"
	"encoding/xml"
	"errors"
	"io"
	slashed "path"
	"strings"

	"rangepost/analysis"

	"golang.org/x/net/html/charset"
)

// maxWorkbook is how much of a workbook may unpack to be read, maxStrings how
// much of that may be its table of texts. 5,000 shots of sixty columns are about
// 10 MiB of XML, hardly any of it texts.
const (
	maxWorkbook = 12 << 20
	maxStrings  = 6 << 20
)

// A spreadsheet is a workbook on its way in: an archive of XML parts (Office Open
// XML, ECMA-376 part 1 [M]: 12 for how they hang together, 18.2 to 18.8 for what is
// in them). Only those with cells, and those that cells refer to, are opened.
//
// They are read here and not by a library. The one that is well kept compiles its
// patterns at every start of the program, whether it reads a workbook or not: a
// quarter of the time until the bot is ready. It also rounds a number whose format
// says a unit, and passes over the conditions of a format, and so takes what was
// shown as right of target for left. The tests write with it, and hold what is read
// here against what it reads.
type spreadsheet struct {
	parts map[string]*zip.File
	limit int64 // of bytes unpacked
	read  int64

	texts  []string // that cells share
	looks  []look   // of the styles that cells have
	by1904 bool     // days are counted from 1904
}

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
func readWorkbook(data []byte) ([]grid, *analysis.Refusal) {
	r, err := zip.NewReader(bytes.NewReader(data), int64(len(data)))
	if err != nil {
		return nil, damaged("workbook")
	}
	w := &spreadsheet{parts: make(map[string]*zip.File, len(r.File)), limit: unpackLimit(len(data))}
	said := uint64(0) // which a hostile one may say too little of: see open
	for _, f := range r.File {
		if said += min(f.UncompressedSize64, maxUnpacked+1); said > uint64(w.limit) {
			return nil, bomb()
		}
		w.parts[partName(f.Name)] = f
	}
	book := "xl/workbook.xml"
	related, refusal := w.related("")
	if refusal != nil {
		return nil, refusal
	}
	for _, part := range related {
		if part.is("officeDocument") {
			book = part.Target
		}
	}
	var sheets struct {
		Properties struct {
			Date1904 string `xml:"date1904,attr"`
		} `xml:"workbookPr"`
		Sheets []struct {
			Name string `xml:"name,attr"`
			Part string `xml:"id,attr"`
		} `xml:"sheets>sheet"`
	}
	if refusal := w.decode(book, &sheets); refusal != nil {
		return nil, refusal
	}
	if related, refusal = w.related(book); refusal != nil {
		return nil, refusal
	}
	w.by1904 = sheets.Properties.Date1904 == "1" || sheets.Properties.Date1904 == "true"
	at := map[string]string{} // where the sheets are
	for _, part := range related {
		switch {
		case part.is("sharedStrings"):
			refusal = w.readTexts(part.Target)
		case part.is("styles"):
			refusal = w.readStyles(part.Target)
		case part.is("worksheet"): // and not a chart
			at[part.ID] = part.Target
		}
		if refusal != nil {
			return nil, refusal
		}
	}
	var gs []grid
	for _, sheet := range sheets.Sheets {
		g := grid{name: shown(sheet.Name), typed: true}
		if refusal := w.open(at[sheet.Part], func(d *xml.Decoder) (err error) {
			g.rows, err = w.readRows(d)
			return err
		}); refusal != nil {
			return nil, refusal
		}
		gs = append(gs, g)
	}
	if len(gs) == 0 {
		return nil, refuse("empty", "Export the session again.", "The workbook has no sheet.")
	}
	return gs, nil
}

// partName is the name of a part as it is looked up: programs do not agree on
// its case, nor on the slashes.
func partName(name string) string {
	return strings.ToLower(strings.TrimPrefix(strings.ReplaceAll(name, `\`, "/"), "/"))
}

// A linkedPart is a part that another refers to.
type linkedPart struct {
	ID     string `xml:"Id,attr"`
	Type   string `xml:"Type,attr"`
	Target string `xml:"Target,attr"`
}

func (r linkedPart) is(kind string) bool { return strings.HasSuffix(r.Type, "/"+kind) }

// related are the parts that the part of this name refers to, "" for the whole
// workbook.
func (w *spreadsheet) related(name string) ([]linkedPart, *analysis.Refusal) {
	folder, file := slashed.Split(name)
	var all struct {
		Relations []linkedPart `xml:"Relationship"`
	}
	if refusal := w.decode(folder+"_rels/"+file+".rels", &all); refusal != nil {
		return nil, refusal
	}
	for i, r := range all.Relations {
		if !strings.HasPrefix(r.Target, "/") {
			all.Relations[i].Target = slashed.Join(folder, r.Target)
		}
	}
	return all.Relations, nil
}

// decode reads a whole small part into a struct.
func (w *spreadsheet) decode(name string, into any) *analysis.Refusal {
	return w.open(name, func(d *xml.Decoder) error { return d.Decode(into) })
}

// open has a part read. One that is not there says nothing.
func (w *spreadsheet) open(name string, read func(*xml.Decoder) error) *analysis.Refusal {
	part := w.parts[partName(name)]
	if part == nil {
		return nil
	}
	f, err := part.Open()
	if err != nil {
		return damaged("workbook")
	}
	defer f.Close()
	counted := &io.LimitedReader{R: f, N: min(w.limit, maxWorkbook) - w.read + 1}
	d := xml.NewDecoder(counted)
	d.CharsetReader = charset.NewReaderLabel
	before := counted.N
	err = read(d)
	w.read += before - counted.N
	var refusal *analysis.Refusal
	switch {
	case w.read > w.limit:
		return bomb()
	case w.read > maxWorkbook:
		return tooLargeWorkbook()
	case errors.As(err, &refusal):
		return refusal
	case err != nil:
		return damaged("workbook")
	}
	return nil
}

func tooLargeWorkbook() *analysis.Refusal {
	return refuse("too_large", "Split it: one session a file.", "The workbook unpacks to more than a session needs.")
}

// A sharedText is a run of text, or several of different looks one after the other.
// How Japanese is pronounced stands beside them, and is none of it.
type sharedText struct {
	Plain string   `xml:"t"`
	Runs  []string `xml:"r>t"`
}

func (t sharedText) String() string { return unescaped(t.Plain + strings.Join(t.Runs, "")) }

// readTexts reads the texts that cells share.
func (w *spreadsheet) readTexts(name string) *analysis.Refusal {
	return w.open(name, func(d *xml.Decoder) error {
		for {
			t, err := d.Token()
			if errors.Is(err, io.EOF) {
				return nil
			}
			if err != nil {
				return err
			}
			if e, ok := t.(xml.StartElement); ok && e.Name.Local == "si" {
				var one sharedText
				if err := d.DecodeElement(&one, &e); err != nil {
					return err
				}
				w.texts = append(w.texts, one.String())
				if d.InputOffset() > maxStrings {
					return tooLargeWorkbook()
				}
			}
		}
	})
}
