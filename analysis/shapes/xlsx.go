package shapes

import (
	"bytes"
	"math/rand/v2"
	"strconv"

	"github.com/xuri/excelize/v2"
)

// xlsx is a workbook: cells are numbers where they can be, the headings need
// not be in the first row or column, and there may be sheets of other things
// before or after.
func (s *Shape) xlsx(r *rand.Rand, l *language, tier Tier) {
	tab, truth := makeTable(r, l, options{tier: tier, comma: chance(r, 0.1)})
	text := chance(r, 0.15) // everything is text, as when a text file was opened
	f := excelize.NewFile()
	defer f.Close()
	names := []string{l.session}
	at := 0
	switch p := r.Float64(); {
	case p < 0.15:
		names = []string{"Info", l.session}
		at = 1
	case p < 0.3:
		names = []string{l.session, "Info"}
	case p < 0.35:
		names = []string{"Info", l.session, l.average[0]}
		at = 1
	}
	must(0, f.SetSheetName("Sheet1", names[0]))
	for _, n := range names[1:] {
		must(f.NewSheet(n))
	}
	for i, n := range names {
		if i != at {
			must(0, f.SetSheetRow(n, "A1", &[]any{l.session, "Rangepost"}))
			must(0, f.SetSheetRow(n, "A2", &[]any{l.date[0], "2026-05-04"}))
			must(0, f.SetSheetRow(n, "A4", &[]any{l.player[0], "Wren"}))
		}
	}
	down, right := 0, 0
	if chance(r, 0.2) {
		down = 1 + r.IntN(4)
	}
	if chance(r, 0.1) {
		right = 1 + r.IntN(2)
	}
	for i, row := range tab.rows() {
		for j, cell := range row {
			if cell == "" {
				continue
			}
			ref := must(excelize.CoordinatesToCellName(j+1+right, i+1+down))
			var v any = cell
			if x, err := strconv.ParseFloat(cell, 64); err == nil && !text {
				v = x
			}
			must(0, f.SetCellValue(names[at], ref, v))
		}
	}
	var b bytes.Buffer
	must(0, f.Write(&b))
	s.Format, s.Name, s.Data, s.Truth = "xlsx", "session.xlsx", b.Bytes(), truth
}
