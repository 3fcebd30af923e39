package pictures

import (
	"fmt"
	"testing"

	"rangepost/analysis/tally"
)

// Each count stands in the row of its start and the column of its curve, the
// sums beside and below, and what the ball did ends on the side it went to.
func TestTallyPutsCountsInTheirPlaces(t *testing.T) {
	counts := []int{11, 12, 13, 21, 22, 24, 31, 37, 39}
	c := canvasFor(t)
	drawTally(c, TallyInput{Title: "x", Counts: counts})
	at := func(says string) box {
		for _, l := range c.labels {
			if l.text == says {
				return l.box
			}
		}
		t.Fatalf("%q is not written", says)
		return box{}
	}
	middle := func(b box) point { return point{(b.left + b.right) / 2, (b.top + b.bottom) / 2} }
	rows := []float64{middle(at("left")).y, middle(at("straight")).y, middle(at("right")).y}
	columns := []float64{middle(at("curved left")).x, middle(at("no curve")).x, middle(at("curved right")).x}
	nearest := func(v float64, of []float64) (best int) {
		for i := range of {
			if d, b := v-of[i], v-of[best]; d*d < b*b {
				best = i
			}
		}
		return best
	}
	for i, f := range tally.Flights() {
		p := middle(at(fmt.Sprint(counts[i])))
		if row, column := nearest(p.y, rows), nearest(p.x, columns); row != int(f.Start)+1 || column != int(f.Curve)+1 {
			t.Errorf("%+v is in row %d and column %d", f, row, column)
		}
	}
	for i, sum := range []int{36, 67, 107} {
		if p := middle(at(fmt.Sprint(sum))); nearest(p.y, rows) != i || p.x < columns[2] {
			t.Errorf("the sum %d stands at %v", sum, p)
		}
	}
	for i, sum := range []int{63, 71, 76} {
		if p := middle(at(fmt.Sprint(sum))); nearest(p.x, columns) != i || p.y < rows[2] {
			t.Errorf("the sum %d stands at %v", sum, p)
		}
	}
	at("210")
}
