package shapes

import (
	"testing"

	"rangepost/analysis"
)

// Yards and metres are a tenth apart, and so are new and range balls: figures
// alone tell the unit of a new ball's yards and of a range ball's metres where
// launch and spin are there, and hardly any other.
func TestFiguresTellYardsOfNewBallsMostly(t *testing.T) {
	count := map[string]int{}
	for _, s := range Shapes(8, 3000, Ordinary) {
		tr := s.Truth
		if tr.Columns[tr.column(analysis.Carry)].Unit == "ft" {
			continue
		}
		if !unwritten(tr, analysis.Carry, analysis.Total, analysis.Lateral, analysis.LateralTotal, analysis.Apex) {
			continue
		}
		c := tr.Columns[tr.column(analysis.Carry)]
		if c.UnitKnowable {
			count[c.Unit+" "+string(tr.Ball)+" told"]++
		} else {
			count[c.Unit+" "+string(tr.Ball)+" not told"]++
		}
	}
	for _, k := range sortedKeys(count) {
		t.Logf("%s: %d", k, count[k])
	}
	// Not never and not always: a range ball that flies nearly like a new one
	// is told from it by no figure, and launch or spin may not be given.
	for kind, mostly := range map[string]bool{"yd new": true, "m range": true, "yd range": false, "m new": false} {
		told, not := count[kind+" told"], count[kind+" not told"]
		share := float64(told) / float64(told+not)
		if mostly && share < 0.5 || !mostly && share > 0.1 {
			t.Errorf("%s: the unit is told in %d files and not in %d", kind, told, not)
		}
	}
}

func unwritten(tr Truth, ns ...analysis.Number) bool {
	for _, n := range ns {
		if i := tr.column(n); i >= 0 && tr.Columns[i].UnitIn != Nowhere {
			return false
		}
	}
	return true
}

func side(n analysis.Number, lettered bool) Column {
	return Column{Number: n, Known: true, Positive: Right, Lettered: lettered}
}

// A letter in one column fixes the columns that move with it and no others.
func TestALetterFixesWhatIsTiedToIt(t *testing.T) {
	with := func(noise float64, cols ...Column) Truth {
		tr := Truth{Columns: cols}
		for i := range 20 {
			x := float64(i%7) - 3
			e := noise * float64(i%5-2)
			tr.Shots = append(tr.Shots, Shot{Values: map[analysis.Number]float64{
				analysis.Direction: x, analysis.Lateral: x + e, analysis.Path: float64(i%3) - 1,
			}})
		}
		tr.settleSides()
		return tr
	}
	for _, c := range []struct {
		name      string
		truth     Truth
		knowable  []bool
		questions int
	}{
		{"a letter on one of two tied", with(0.1, side(analysis.Direction, false), side(analysis.Lateral, true)), []bool{true, true}, 0},
		{"no letter", with(0.1, side(analysis.Direction, false), side(analysis.Lateral, false)), []bool{false, false}, 1},
		{"a tie the figures do not show", with(9, side(analysis.Direction, false), side(analysis.Lateral, true)), []bool{false, true}, 1},
		{"a path goes its own way", with(0.1, side(analysis.Path, false), side(analysis.Lateral, true)), []bool{false, true}, 1},
	} {
		for i, want := range c.knowable {
			if got := c.truth.Columns[i].SideKnowable; got != want {
				t.Errorf("%s: column %d knowable = %v, want %v", c.name, i, got, want)
			}
		}
		if got := len(c.truth.Questions); got != c.questions {
			t.Errorf("%s: %d questions, want %d", c.name, got, c.questions)
		}
	}
}
