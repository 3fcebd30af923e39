package pictures

import (
	"fmt"

	"github.com/wcharczuk/go-chart/v2/drawing"

	"rangepost/analysis"
)

// drawSplit draws the miss as arrows on the pattern's own scale across: what
// the face is owed, then from there the path, then the rest, and the miss they
// add up to.
func drawSplit(c *canvas, in PostInput, m *groundMap) {
	b := splitBox
	r := in.Cause
	if !m.ok || r.Miss.N == 0 {
		return
	}
	unit := in.Voice.Scale(analysis.Length)
	parts := in.Voice.Parts(r)
	type row struct {
		name     string
		from, to float64 // m
		shown    int
		colour   drawing.Color
		width    float64
		dash     []float64
	}
	rows := []row{{"miss", 0, r.Miss.Mean, parts.Miss, ink, 12, nil}}
	if r.Face.N > 0 {
		f, p := r.Face.Mean, r.Path.Mean
		rows = append([]row{
			{"face", 0, f, parts.Face, faceColour, 12, nil},
			{"path", f, f + p, parts.Path, pathColour, 12, []float64{14, 6}},
			{"rest", f + p, r.Miss.Mean, parts.Rest, restColour, 6, []float64{6, 5}},
		}, rows...)
	} else {
		rows[0].shown = int(roundHalfAway(r.Miss.Mean / unit))
	}
	pitch := b.height() / 4
	axis := m.at(0, 0).x
	c.line(pen{targetColour, 3, nil}, point{axis, b.top}, point{axis, b.top + pitch*float64(len(rows))})
	for i, row := range rows {
		y := b.top + pitch*(float64(i)+.5)
		from, to := m.at(row.from, 0).x, m.at(row.to, 0).x
		if i+1 < len(rows) && i > 0 || i == 0 && len(rows) > 1 {
			c.line(pen{muted, 2, []float64{3, 5}}, point{to, y}, point{to, y + pitch})
		}
		c.arrow(pen{row.colour, row.width, row.dash}, point{from, y}, point{to, y}, 24)
		c.text(row.name, point{b.left - 12, y + 11}, bodySize, row.colour, fromRight)
		says := amount(row.shown)
		w := c.textWidth(says, bodySize)
		left, right := min(from, to, axis), max(from, to, axis)
		// Beyond the head if there is room, else on the other side.
		switch {
		case to >= from && right+16+w < b.right || left-16-w < b.left:
			c.text(says, point{right + 16, y + 11}, bodySize, row.colour, fromLeft)
		default:
			c.text(says, point{left - 16, y + 11}, bodySize, row.colour, fromRight)
		}
	}
}

// amount says whole yards or metres and their side: "8 left", "0".
func amount(n int) string {
	switch {
	case n < 0:
		return fmt.Sprintf("%d left", -n)
	case n > 0:
		return fmt.Sprintf("%d right", n)
	}
	return "0"
}

func roundHalfAway(v float64) float64 {
	if v < 0 {
		return -roundHalfAway(-v)
	}
	return float64(int(v + .5))
}
