package sessionfile

import (
	"bytes"
	"errors"
	"math"
	"math/rand/v2"
	"slices"
	"strconv"
	"strings"
	"testing"
	"time"

	"github.com/xuri/excelize/v2"

	"rangepost/analysis"
)

// TestWorkbookCells reads what a sheet shows where it says more than the bare
// number, and the bare number where it is more exact.
func TestWorkbookCells(t *testing.T) {
	f := excelize.NewFile()
	set := func(cell string, v any, format string) {
		t.Helper()
		if err := f.SetCellValue("Sheet1", cell, v); err != nil {
			t.Fatal(err)
		}
		if format != "" {
			style, err := f.NewStyle(&excelize.Style{CustomNumFmt: &format})
			if err != nil {
				t.Fatal(err)
			}
			if err := f.SetCellStyle("Sheet1", cell, cell, style); err != nil {
				t.Fatal(err)
			}
		}
	}
	for cell, v := range map[string]any{"A1": "Date", "B1": "Ball speed", "C1": "Side (m)", "D1": "Carry (m)", "E1": "Spin", "F1": "Club"} {
		set(cell, v, "")
	}
	set("A2", time.Date(2026, 5, 3, 10, 11, 0, 0, time.UTC), "yyyy-mm-dd hh:mm")
	set("B2", 104.36, `0.0" mph"`)
	set("C2", -12.4, `0.0" R";0.0" L"`)
	set("D2", 151.23456, "0")
	set("E2", 6512.0, "#,##0")
	set("F2", "7i", "")
	if err := f.SetCellFormula("Sheet1", "G2", "D2*2"); err != nil { // of no known column
		t.Fatal(err)
	}
	if _, err := f.NewSheet("Notes"); err != nil {
		t.Fatal(err)
	}
	if err := f.SetCellValue("Notes", "A1", "Windy"); err != nil {
		t.Fatal(err)
	}
	b, err := f.WriteToBuffer()
	if err != nil {
		t.Fatal(err)
	}
	r := reading(t, b.String(), Options{Hand: analysis.LeftHanded, HandSet: true})
	if len(r.Questions) > 0 {
		t.Fatalf("asked %v", r.Questions)
	}
	for n, want := range map[analysis.Number]float64{
		analysis.BallSpeed: 104.36 * 0.44704, analysis.Lateral: -12.4, analysis.Carry: 151.23456, analysis.Spin: 6512,
	} {
		if got := number(t, r, 0, n); math.Abs(got-want) > 1e-6 {
			t.Errorf("%v is %v, want %v", n, got, want)
		}
	}
	if want := time.Date(2026, 5, 3, 10, 11, 0, 0, time.UTC); !r.Session.When.Equal(want) {
		t.Errorf("hit %v, want %v", r.Session.When, want)
	}
	if got := r.Session.Shots[0]; got.Row != 2 || got.Club.Key() != "7i" {
		t.Errorf("row %d, club %v", got.Row, got.Club)
	}
}

// TestDateForNumber refuses a date cell among numbers, where it stands.
func TestDateForNumber(t *testing.T) {
	f := excelize.NewFile()
	f.SetSheetRow("Sheet1", "A1", &[]any{"Carry (m)", "Spin"})
	f.SetSheetRow("Sheet1", "A2", &[]any{150.0, time.Date(2026, 5, 3, 0, 0, 0, 0, time.UTC)})
	b, err := f.WriteToBuffer()
	if err != nil {
		t.Fatal(err)
	}
	_, err = Read("a.xlsx", b.Bytes(), Options{})
	refusal, ok := err.(*analysis.Refusal)
	if !ok || refusal.Row != 2 || refusal.Column != "Spin" || refusal.Code != "bad_value" {
		t.Errorf("error %v, want bad_value in row 2, column Spin", err)
	}
}

// TestSeveralSheets asks which of two sheets of shots is meant.
func TestSeveralSheets(t *testing.T) {
	f := excelize.NewFile()
	if _, err := f.NewSheet("Evening"); err != nil {
		t.Fatal(err)
	}
	for sheet, carry := range map[string]float64{"Sheet1": 150, "Evening": 160} {
		f.SetSheetRow(sheet, "A1", &[]any{"Carry (m)", "Spin"})
		f.SetSheetRow(sheet, "A2", &[]any{carry, 6500.0})
	}
	b, err := f.WriteToBuffer()
	if err != nil {
		t.Fatal(err)
	}
	r := reading(t, b.String(), Options{})
	if !slices.Equal(keys(r.Questions), []string{"part"}) {
		t.Fatalf("asked %v, want part", keys(r.Questions))
	}
	r = reading(t, b.String(), Options{Answers: map[string]string{"part": "Evening"}})
	if len(r.Questions) > 0 || number(t, r, 0, analysis.Carry) != 160 {
		t.Errorf("asked %v, carry %v", r.Questions, number(t, r, 0, analysis.Carry))
	}
}

func TestJSONForms(t *testing.T) {
	for name, file := range map[string]string{
		"flat":             `[{"club": "7i", "carry_m": 150, "sideM": "3.5 R"}]`,
		"nested":           `{"shots": [{"club": {"name": "7 Iron"}, "ball": {"spin_rate": 6500}, "carry": {"value": 150, "unit": "m"}, "side": "3.5 m R"}]}`,
		"among other data": `{"when": "2026-05-03", "weather": [{"sky": "grey"}], "data": {"shots": [{"club": "7i", "carry (m)": "150", "side (m)": "R 3.5", "path points": [1, 2, 3]}]}}`,
		"text decimals":    `[{"club": "7i", "carry (m)": 150.0, "side (m)": "3,5 R"}]`,
	} {
		r := reading(t, file, Options{})
		if len(r.Questions) > 0 {
			t.Errorf("%s: asked %v", name, r.Questions)
			continue
		}
		if c, l := number(t, r, 0, analysis.Carry), number(t, r, 0, analysis.Lateral); c != 150 || l != 3.5 || r.Session.Shots[0].Club.Key() != "7i" {
			t.Errorf("%s: carry %v, lateral %v, club %v", name, c, l, r.Session.Shots[0].Club)
		}
	}
}

// TestWorkbookAsLibraryReads holds what is read of workbooks against an independent
// reader of them, which also wrote them: texts of every kind, numbers in full,
// and dates, units and sides that only a cell's format shows.
func TestWorkbookAsLibraryReads(t *testing.T) {
	rng := rand.New(rand.NewPCG(16, 3))
	formats := []string{
		"General", "0.00", "#,##0.00", `0.00" mph"`, `"L "0.00;"R "0.00`, `0.00" R";0.00" L";0.00`, `[<0]0.00" L";[>=0]0.00" R"`,
		`#,##0.00\ \°`, "[Red]0.00_);[Blue](0.00)", "yyyy-mm-dd", "yyyy-mm-dd hh:mm:ss", "hh:mm:ss", "@",
	}
	texts := []string{"Carry", "Weite (m)", "左右差", "a_x000D_b", "a_x0041", "two\nlines", " edges ", "<&>\"'", "=no formula"}
	cells := 0
	for range 60 {
		f := excelize.NewFile()
		if rng.IntN(4) == 0 {
			by1904 := true
			if err := f.SetWorkbookProps(&excelize.WorkbookPropsOptions{Date1904: &by1904}); err != nil {
				t.Fatal(err)
			}
		}
		conditioned := map[string]string{}
		for range 80 {
			ref, _ := excelize.CoordinatesToCellName(1+rng.IntN(30), 1+rng.IntN(40))
			format := formats[rng.IntN(len(formats))]
			style, err := f.NewStyle(&excelize.Style{CustomNumFmt: &format})
			if err != nil {
				t.Fatal(err)
			}
			var v any = float64(10*(rng.IntN(4000)-2000)+1+rng.IntN(9)) / 100
			switch {
			case strings.Contains(format, "yy"):
				v = float64(40000+rng.IntN(9000)) + float64(rng.IntN(86400))/86400
				if format == "yyyy-mm-dd" {
					v = math.Floor(v.(float64))
				}
			case strings.Contains(format, "hh"):
				v = float64(1+rng.IntN(86398)) / 86400
			case rng.IntN(5) == 0:
				v = texts[rng.IntN(len(texts))]
			case rng.IntN(9) == 0:
				v = rng.IntN(2) == 0
			}
			delete(conditioned, ref)
			if x, ok := v.(float64); ok && strings.HasPrefix(format, "[<0]") {
				conditioned[ref] = strconv.FormatFloat(math.Abs(x), 'f', -1, 64) + map[bool]string{true: " L", false: " R"}[x < 0]
			}
			if rng.IntN(12) == 0 {
				delete(conditioned, ref)
				err = f.SetCellRichText("Sheet1", ref, []excelize.RichTextRun{{Text: "Ball "}, {Text: "speed", Font: &excelize.Font{Bold: true}}})
			} else {
				err = f.SetCellValue("Sheet1", ref, v)
			}
			if err = errors.Join(err, f.SetCellStyle("Sheet1", ref, ref, style)); err != nil {
				t.Fatal(err)
			}
		}
		b, err := f.WriteToBuffer()
		if err != nil {
			t.Fatal(err)
		}
		gs, refusal := readWorkbook(b.Bytes())
		if refusal != nil {
			t.Fatal(refusal)
		}
		again, err := excelize.OpenReader(bytes.NewReader(b.Bytes()))
		if err != nil {
			t.Fatal(err)
		}
		ours := map[string]string{}
		for _, r := range gs[0].rows {
			for i, c := range r.cells {
				ref, _ := excelize.CoordinatesToCellName(i+1, r.at)
				ours[ref] = c
			}
		}
		for at := range 41 {
			for i := range 30 {
				ref, _ := excelize.CoordinatesToCellName(i+1, at+1)
				bare, _ := again.GetCellValue("Sheet1", ref, excelize.Options{RawCellValue: true})
				look, _ := again.GetCellValue("Sheet1", ref)
				want := strings.ReplaceAll(look, ",", "")
				if side, ok := conditioned[ref]; ok {
					want = side // the library passes over conditions
				}
				if x, err := strconv.ParseFloat(strings.Trim(want, " ()-"), 64); err == nil && !strings.Contains(look, ":") {
					if y, _ := strconv.ParseFloat(bare, 64); math.Abs(math.Abs(y)-x) < 0.006 {
						want = bare // a number that its format says nothing beside
					}
				}
				if ours[ref] != want {
					t.Errorf("%s is %q, want %q (bare %q, shown %q)", ref, ours[ref], want, bare, look)
				}
				if want != "" {
					cells++
				}
			}
		}
	}
	if cells < 3000 {
		t.Errorf("only %d cells were compared", cells)
	}
}
