package sessionfile

import (
	"archive/zip"
	"bytes"
	"compress/gzip"
	"fmt"
	"io"
	"runtime/debug"
	"runtime/metrics"
	"strings"
	"testing"
	"time"

	"rangepost/analysis"

	"github.com/xuri/excelize/v2"
)

func gz(t *testing.T, write func(io.Writer)) []byte {
	t.Helper()
	var b bytes.Buffer
	w := gzip.NewWriter(&b)
	write(w)
	if err := w.Close(); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

func zipped(t *testing.T, parts map[string]func(io.Writer)) []byte {
	t.Helper()
	var b bytes.Buffer
	z := zip.NewWriter(&b)
	for name, write := range parts {
		w, err := z.Create(name)
		if err != nil {
			t.Fatal(err)
		}
		write(w)
	}
	if err := z.Close(); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

func repeat(s string, n int) func(io.Writer) {
	return func(w io.Writer) {
		block := strings.Repeat(s, max(1, 1<<16/len(s)))
		for n > 0 {
			k := min(n, len(block))
			io.WriteString(w, block[:k])
			n -= k
		}
	}
}

func text(s string) func(io.Writer) { return func(w io.Writer) { io.WriteString(w, s) } }

// workbook is a workbook whose one sheet has this XML.
func workbook(t *testing.T, sheet func(io.Writer), sharedStrings func(io.Writer)) []byte {
	t.Helper()
	const main = "http://schemas.openxmlformats.org/spreadsheetml/2006/main"
	const rel = "http://schemas.openxmlformats.org/officeDocument/2006/relationships"
	parts := map[string]func(io.Writer){
		"[Content_Types].xml":        text(`<?xml version="1.0"?><Types xmlns="http://schemas.openxmlformats.org/package/2006/content-types"><Default Extension="rels" ContentType="application/vnd.openxmlformats-package.relationships+xml"/><Default Extension="xml" ContentType="application/xml"/><Override PartName="/xl/workbook.xml" ContentType="application/vnd.openxmlformats-officedocument.spreadsheetml.sheet.main+xml"/><Override PartName="/xl/worksheets/sheet1.xml" ContentType="application/vnd.openxmlformats-officedocument.spreadsheetml.worksheet+xml"/></Types>`),
		"_rels/.rels":                text(`<?xml version="1.0"?><Relationships xmlns="http://schemas.openxmlformats.org/package/2006/relationships"><Relationship Id="rId1" Type="` + rel + `/officeDocument" Target="xl/workbook.xml"/></Relationships>`),
		"xl/workbook.xml":            text(`<?xml version="1.0"?><workbook xmlns="` + main + `" xmlns:r="` + rel + `"><sheets><sheet name="S" sheetId="1" r:id="rId1"/></sheets></workbook>`),
		"xl/_rels/workbook.xml.rels": text(`<?xml version="1.0"?><Relationships xmlns="http://schemas.openxmlformats.org/package/2006/relationships"><Relationship Id="rId1" Type="` + rel + `/worksheet" Target="worksheets/sheet1.xml"/><Relationship Id="rId2" Type="` + rel + `/sharedStrings" Target="sharedStrings.xml"/></Relationships>`),
		"xl/worksheets/sheet1.xml": func(w io.Writer) {
			text(`<?xml version="1.0"?><worksheet xmlns="` + main + `"><sheetData>`)(w)
			sheet(w)
			text(`</sheetData></worksheet>`)(w)
		},
	}
	if sharedStrings != nil {
		parts["xl/sharedStrings.xml"] = func(w io.Writer) {
			text(`<?xml version="1.0"?><sst xmlns="` + main + `">`)(w)
			sharedStrings(w)
			text(`</sst>`)(w)
		}
	}
	return zipped(t, parts)
}

// inlineRow is a row of a sheet's XML: text cells, or numbers where they parse.
func inlineRow(at int, cells ...string) string {
	var b strings.Builder
	fmt.Fprintf(&b, `<row r="%d">`, at)
	for i, c := range cells {
		ref, _ := excelize.CoordinatesToCellName(i+1, at)
		if strings.HasPrefix(c, "<") {
			fmt.Fprintf(&b, `<c r="%s">%s</c>`, ref, c)
		} else {
			fmt.Fprintf(&b, `<c r="%s" t="inlineStr"><is><t>%s</t></is></c>`, ref, c)
		}
	}
	return b.String() + "</row>"
}

const (
	head = "Club,Ball speed (mph),Launch angle,Spin,Carry (yd),Side (yd)\n"
	good = "7i,104.3,17.1,6500,151.2,3.5\n"
)

// endless writes 8 MB of text that does not pack to nothing.
func endless(w io.Writer) {
	for i := range 1 << 20 {
		fmt.Fprintf(w, "%x", i*7919)
	}
}

// TestHostile hands in files made to harm or by accident, and wants a clear
// refusal that says where, within the promised memory and time.
func TestHostile(t *testing.T) {
	deep := strings.Repeat("[", 5<<20)
	for _, c := range []struct {
		name        string
		data        func() []byte
		code        string
		row         int
		column, say string
	}{
		{"nothing", func() []byte { return nil }, "empty", 0, "", ""},
		{"blank lines", func() []byte { return []byte("\n\n , \n") }, "empty", 0, "", ""},
		{"only a header", func() []byte { return []byte(head) }, "no_shots", 1, "", ""},
		{"prose", func() []byte { return []byte("Dear coach,\nI hit it well today.\n") }, "no_header", 0, "", "Dear coach"},
		{"over 10 MiB", func() []byte { return bytes.Repeat([]byte(good), maxBytes/len(good)+1) }, "too_large", 0, "", ""},
		{"one line", func() []byte { return bytes.Repeat([]byte("a"), maxBytes) }, "long_cell", 1, "", ""},
		{"one line of zeros", func() []byte { return append([]byte(head), bytes.Repeat([]byte("0"), maxBytes-len(head))...) }, "long_cell", 2, "", ""},
		{"one quoted cell", func() []byte {
			return append([]byte(head+`"`), append(bytes.Repeat([]byte("x\n"), maxBytes/2-len(head)), '"')...)
		}, "long_cell", 2, "", ""},
		{"a quote never closed", func() []byte { return append([]byte(head+`7i,"`), bytes.Repeat([]byte(good), 100000)...) }, "", 0, "", ""},
		{"nothing but quotes", func() []byte { return bytes.Repeat([]byte(`"`), maxBytes) }, "", 0, "", ""},
		{"a million columns", func() []byte { return bytes.Repeat([]byte("Carry,"), 1000000) }, "too_wide", 1, "", ""},
		{"a million cells in row 3", func() []byte {
			return append([]byte(head+good), bytes.Repeat([]byte("1,"), 1000000)...)
		}, "too_wide", 3, "", ""},
		{"as many small cells as fit", func() []byte {
			line := append(bytes.Repeat([]byte("1,"), maxColumns-1), '1', '\n')
			return append([]byte("Carry\n"), bytes.Repeat(line, (maxBytes-10)/len(line))...)
		}, "ragged", 2, "", ""},
		{"a million blank lines", func() []byte { return append([]byte(head), bytes.Repeat([]byte(" \n"), 1000000)...) }, "too_many_rows", 0, "", ""},
		{"5,001 shots", func() []byte {
			var b bytes.Buffer
			b.WriteString(head)
			for i := range maxShots + 1 {
				fmt.Fprintf(&b, "7i,%.3f,17.%d,65%02d,15%d.2,3.5\n", 100+float64(i)/1000, i%10, i*i%100, i%7)
			}
			return b.Bytes()
		}, "too_many_shots", 0, "", "5001"},
		{"a NUL byte", func() []byte { return []byte(head + good + "7i,10\x004.3,17.1,6500,151.2,3.5\n") }, "nul_bytes", 3, "", ""},
		{"a word for a number", func() []byte { return []byte(head + good + "7i,abc,17.1,6500,151.2,3.5\n") }, "bad_value", 3, "Ball speed (mph)", "'abc' is not a speed. Remove it or leave it empty."},
		{"a formula", func() []byte { return []byte(head + good + "7i,=A1+A2,17.1,6500,151.2,3.5\n") }, "bad_value", 3, "Ball speed (mph)", "formula"},
		{"a spreadsheet error", func() []byte { return []byte(head + good + "7i,#DIV/0!,17.1,6500,151.2,3.5\n") }, "bad_value", 3, "Ball speed (mph)", "error"},
		{"NaN", func() []byte { return []byte(head + good + "7i,104,NaN,6500,151.2,3.5\n") }, "bad_value", 3, "Launch angle", "not an angle"},
		{"Inf", func() []byte { return []byte(head + good + "7i,104,17,6500,-Inf,3.5\n") }, "bad_value", 3, "Carry (yd)", "not a length"},
		{"a number beyond counting", func() []byte { return []byte(head + good + "7i,104,17,1e400,151,3.5\n") }, "bad_value", 3, "Spin", "not a spin rate"},
		{"hexadecimal", func() []byte { return []byte(head + good + "7i,0x1p4,17,6500,151,3.5\n") }, "bad_value", 3, "Ball speed (mph)", "not a speed"},
		{"a date", func() []byte { return []byte(head + good + "7i,104,17,2026-05-01,151,3.5\n") }, "bad_value", 3, "Spin", "date"},
		{"a time", func() []byte { return []byte(head + good + "7i,104,17:10,6500,151,3.5\n") }, "bad_value", 3, "Launch angle", "time"},
		{"two numbers", func() []byte { return []byte(head + good + "7i,104,17,6500,150 - 152,3.5\n") }, "bad_value", 3, "Carry (yd)", "not a length"},
		{"the wrong unit", func() []byte { return []byte(head + good + "7i,104,17,6500,151 mph,3.5\n") }, "bad_value", 3, "Carry (yd)", "not a length"},
		{"both marks", func() []byte { return []byte(head + good + good + "7i,104.0,\"17,1\",6500,151.5,3.5\n") }, "mixed_decimals", 4, "Launch angle", ""},
		{"the same header twice", func() []byte {
			return []byte("Club,Carry (yd),Spin,Carry (yd)\n7i,151,6500,162\n7i,150,6400,140\n")
		}, "duplicate_column", 1, "Carry (yd)", "twice"},
		{"more cells than headers", func() []byte { return []byte(head + "7i,104,3,17,1,6500,151,2,3,5\n") }, "ragged", 2, "", "decimal comma"},
		{"control characters", func() []byte { return []byte("Club\x01\x02,Ca\x03rry\n7i\x04,15\x051\n") }, "bad_value", 2, "Carry", "not a length"},
		{"a PDF", func() []byte { return []byte("%PDF-1.7\n...") }, "wrong_type", 0, "", "a PDF"},
		{"an old workbook", func() []byte { return []byte("\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1....") }, "wrong_type", 0, "", "XLSX"},
		{"a web page", func() []byte { return []byte("<html><table><tr><td>Carry") }, "wrong_type", 0, "", ""},

		{"JSON cut short", func() []byte { return []byte("[{\"Carry\": 150},\n{\"Carry\"") }, "bad_json", 2, "", ""},
		{"JSON without a list", func() []byte { return []byte(`{"carry": 150}`) }, "not_a_table", 0, "", ""},
		{"JSON with two ends", func() []byte { return []byte(`[{"Carry": 150}] []`) }, "bad_json", 1, "", ""},
		{"JSON nested deep", func() []byte { return []byte(deep) }, "too_deep", 0, "", ""},
		{"JSON keys twice", func() []byte { return []byte(`[{"carry": 150}, {"carry": 1, "carry": 2}]`) }, "duplicate_column", 2, "carry", ""},
		{"JSON of a million empty objects", func() []byte { return []byte("[" + strings.Repeat("{},", 1000000) + "{}]") }, "too_many_rows", 0, "", ""},
		{"JSON of a million empty lists", func() []byte { return []byte("[" + strings.Repeat("[],", 3000000) + "[]]") }, "not_a_table", 0, "", ""},
		{"JSON with a million keys", func() []byte {
			var b bytes.Buffer
			b.WriteString(`[{"carry":1`)
			for i := range 600000 {
				fmt.Fprintf(&b, `,"k%d":1`, i)
			}
			b.WriteString("}]")
			return b.Bytes()
		}, "too_wide", 1, "", ""},
		{"JSON with ever new keys", func() []byte {
			var b bytes.Buffer
			b.WriteString(`[{"carry":1}`)
			for i := range 15000 {
				fmt.Fprintf(&b, `,{"k%d":1}`, i)
			}
			b.WriteString("]")
			return b.Bytes()
		}, "too_wide", 0, "", ""},
		{"JSON of huge numbers", func() []byte { return []byte(`[{"carry (yd)": 1e999999}]`) }, "bad_value", 1, "carry (yd)", "not a length"},

		{"a gzip bomb", func() []byte { return gz(t, repeat("0", 130<<20)) }, "bomb", 0, "", ""},
		{"a small gzip bomb", func() []byte { return gz(t, func(w io.Writer) { text(head)(w); repeat(good, 5<<20)(w) }) }, "bomb", 0, "", ""},
		{"a zip bomb", func() []byte { return zipped(t, map[string]func(io.Writer){"a.csv": repeat("1,2\n", 130<<20)}) }, "bomb", 0, "", ""},
		{"over 10 MiB in gzip", func() []byte {
			return gz(t, func(w io.Writer) {
				for i := range 600000 {
					fmt.Fprintf(w, "%x%x,%x\n", i*7919, i*104729, i*15485863)
				}
			})
		}, "too_large", 0, "", ""},
		{"an archive in an archive", func() []byte {
			return zipped(t, map[string]func(io.Writer){"a.gz": func(w io.Writer) { w.Write(gz(t, text(head+good))) }})
		}, "nested_archive", 0, "", ""},
		{"two files in a zip", func() []byte {
			return zipped(t, map[string]func(io.Writer){"a.csv": text(head + good), "b.csv": text(head + good)})
		}, "many_files", 0, "", "2 files"},
		{"a zip cut short", func() []byte { return zipped(t, map[string]func(io.Writer){"a.csv": text(head + good)})[:60] }, "damaged", 0, "", ""},
		{"a gzip cut short", func() []byte { return gz(t, repeat(good, 5000))[:40] }, "damaged", 0, "", ""},

		{"a workbook bomb", func() []byte { return workbook(t, repeat(" ", 130<<20), nil) }, "bomb", 0, "", ""},
		{"a workbook of too many rows", func() []byte {
			return workbook(t, func(w io.Writer) {
				for r := range 100000 {
					fmt.Fprintf(w, `<row r="%d"><c r="A%d"><v>%x</v></c></row>`, r+1, r+1, r*7919)
				}
			}, nil)
		}, "too_many_rows", 20001, "", ""},
		{"a workbook with a cell far away", func() []byte {
			return workbook(t, text(inlineRow(1, "Carry (yd)")+`<row r="1048576"><c r="XFD1048576"><v>1</v></c></row>`), nil)
		}, "too_wide", 1048576, "", ""},
		{"a workbook with rows far apart", func() []byte {
			return workbook(t, text(inlineRow(1, "Carry (yd)", "Spin")+inlineRow(1000000, "abc", "<v>1</v>")), nil)
		}, "bad_value", 1000000, "Carry (yd)", "not a length"},
		{"a workbook of shared strings", func() []byte {
			return workbook(t, text(inlineRow(1, "Carry (yd)")), func(w io.Writer) {
				for i := range 240000 {
					fmt.Fprintf(w, `<si><t>%x</t></si>`, i*7919)
				}
			})
		}, "no_shots", 1, "", ""},
		{"a workbook that breaks off", func() []byte {
			return workbook(t, text(inlineRow(1, "Carry (yd)", "Spin")+inlineRow(2, "<v>150</v>", "<v>6500</v>")+"<row><c"), nil)
		}, "damaged", 0, "", ""},
		{"a workbook of texts it does not hold", func() []byte {
			return workbook(t, text(inlineRow(1, "Carry (yd)")+`<row r="2"><c r="A2" t="s"><v>-1</v></c></row>`), func(w io.Writer) { text(`<si><t>7i</t></si>`)(w) })
		}, "damaged", 2, "", ""},
		{"a workbook of one endless shared text", func() []byte {
			return workbook(t, text(inlineRow(1, "Carry (yd)")), func(w io.Writer) { text("<si><t>")(w); endless(w); text("</t></si>")(w) })
		}, "too_large", 0, "", "unpacks"},
		{"a workbook of one endless text", func() []byte {
			return workbook(t, func(w io.Writer) { text(`<row r="1"><c r="A1" t="str"><v>`)(w); endless(w); text("</v></c></row>")(w) }, nil)
		}, "long_cell", 1, "", ""},
		{"a workbook with its cells in disorder", func() []byte {
			return workbook(t, text(inlineRow(1, "Carry (yd)", "Spin")+`<row r="2"><c r="B2"><v>1</v></c><c r="A2"><v>1</v></c></row>`), nil)
		}, "damaged", 2, "", ""},
		{"a workbook with rows that are not numbered", func() []byte {
			return workbook(t, text(inlineRow(1, "Carry (yd)", "Spin")+`<row r="two"><c><v>1</v></c></row>`), nil)
		}, "damaged", 0, "", ""},
		{"a formula never calculated", func() []byte {
			return workbook(t, text(inlineRow(1, "Carry (yd)", "Spin")+inlineRow(2, "<v>150</v>", "<f>A2*40</f>")), nil)
		}, "bad_value", 2, "Spin", "formula"},
		{"a workbook of wide rows", func() []byte {
			var b bytes.Buffer
			b.WriteString(inlineRow(1, "Carry (yd)", "Spin"))
			for r := 2; b.Len() < 11<<20; r++ {
				cells := make([]string, 500)
				for i := range cells {
					cells[i] = fmt.Sprintf("<v>%d.%d</v>", r*i*7919%100000, i)
				}
				b.WriteString(inlineRow(r, cells...))
			}
			return workbook(t, func(w io.Writer) { w.Write(b.Bytes()) }, nil)
		}, "ragged", 2, "", ""},
		{"a workbook without a sheet", func() []byte { return zipped(t, map[string]func(io.Writer){"xl/workbook.xml": text("<workbook/>")}) }, "", 0, "", ""},
	} {
		t.Run(c.name, func(t *testing.T) {
			data := c.data()
			var err error
			peak, took := measured(func() { _, err = Read("../../<script>\n.csv", data, Options{}) })
			// The file itself is handed in, and so is not the reader's.
			if over := peak - float64(len(data)); over > 256<<20 {
				t.Errorf("took %.0f MiB, promised are 256", over/(1<<20))
			}
			if took > 10*time.Second {
				t.Errorf("took %v, promised are 10 s", took)
			}
			t.Logf("%.0f MiB, %v: %v", peak/(1<<20), took.Round(time.Millisecond), err)
			refusal, ok := err.(*analysis.Refusal)
			if !ok {
				t.Fatalf("error %v, want a refusal", err)
			}
			if refusal.What() == "" || refusal.Hint == "" || refusal.Code == "" {
				t.Errorf("%+v does not say what is wrong and what to do", refusal)
			}
			if c.code != "" && refusal.Code != c.code {
				t.Errorf("code %q, want %q: %v", refusal.Code, c.code, refusal)
			}
			if c.row != 0 && refusal.Row != c.row || c.column != refusal.Column && c.code != "" {
				t.Errorf("at row %d, column %q; want row %d, column %q", refusal.Row, refusal.Column, c.row, c.column)
			}
			if full := refusal.Error() + " " + refusal.Hint; !strings.Contains(full, c.say) {
				t.Errorf("%q does not say %q", full, c.say)
			}
		})
	}
}

// measured runs f and reports the most memory the program held for it, above
// what it held before, and the time it took.
func measured(f func()) (peak float64, took time.Duration) {
	held := func() float64 {
		s := []metrics.Sample{{Name: "/memory/classes/total:bytes"}, {Name: "/memory/classes/heap/released:bytes"}}
		metrics.Read(s)
		return float64(s[0].Value.Uint64()) - float64(s[1].Value.Uint64())
	}
	debug.FreeOSMemory()
	before := held()
	done := make(chan struct{})
	sampled := make(chan float64)
	go func() {
		most := before
		for {
			most = max(most, held())
			select {
			case <-done:
				sampled <- max(most, held())
				return
			case <-time.After(time.Millisecond):
			}
		}
	}()
	start := time.Now()
	f()
	took = time.Since(start)
	close(done)
	return <-sampled - before, took
}

// BenchmarkManyUnknownColumns reads a file as wide as may be, of figures whose headings
// nobody knows.
func BenchmarkManyUnknownColumns(b *testing.B) {
	var text strings.Builder
	for c := range maxColumns {
		fmt.Fprintf(&text, "zq%d,", c)
	}
	for r := range 40 {
		text.WriteByte('\n')
		for c := range maxColumns {
			fmt.Fprintf(&text, "%d.%d,", 10+(c*7+r*3)%60, (c+r)%10)
		}
	}
	data := []byte(text.String())
	for b.Loop() {
		Read("wide", data, Options{})
	}
}
