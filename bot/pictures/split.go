package pictures

import (
	"fmt"
	"math"

	"github.com/wcharczuk/go-chart/v2/drawing"
)

// finish is the name of the sideways finish where there is room for a word.
const finish = "finish"

// split draws the miss as arrows on the pattern's own scale across: where the
// balls finished, with its limits, and what adds up to it: what the face is
// worth, from there the path, then the rest. Where the miss is not split, it
// stands alone; of two patterns there is none in common.
func (m *groundMap) split(c *canvas, b box) {
	r := m.in.Cause
	if r.Miss.N == 0 || len(r.Parts) > 0 {
		return
	}
	type row struct {
		name     string
		from, to float64 // m
		shown    int
		colour   drawing.Color
		width    float64
		dash     []float64
	}
	parts := m.in.Voice.Parts(r)
	rows := []row{{finish, 0, r.Miss.Mean, parts.Miss, ink, 12, nil}}
	if r.Face.N > 0 {
		f, p := r.Face.Mean, r.Path.Mean
		rows = append(rows,
			row{"face", 0, f, parts.Face, faceColour, 12, nil},
			row{"path", f, f + p, parts.Path, pathColour, 12, []float64{14, 6}},
			row{"rest", f + p, r.Miss.Mean, parts.Rest, muted, 6, []float64{6, 5}})
	} else {
		rows[0].shown = int(math.Round(r.Miss.Mean / m.unit))
	}
	pitch := b.height() / 4
	axis := m.at(0, 0).x
	c.line(pen{targetColour, 4, nil}, point{axis, b.top}, point{axis, b.top + pitch*float64(len(rows))})
	onto := func(v float64) float64 { return min(max(m.at(v, 0).x, b.left), b.right) }
	level := func(i int) float64 { return b.top + pitch*(float64(i)+.5) }
	if n := len(rows) - 1; n > 0 { // the parts end where the balls finished
		x := onto(r.Miss.Mean)
		c.line(pen{muted, 2, []float64{3, 5}}, point{x, level(0)}, point{x, level(n)})
	}
	for i, row := range rows {
		y := level(i)
		from, to := onto(row.from), onto(row.to)
		left, right := min(from, to), max(from, to)
		if i > 0 && i+1 < len(rows) {
			c.line(pen{muted, 2, []float64{3, 5}}, point{to, y}, point{to, y + pitch})
		}
		if row.name == finish && r.Miss.OK {
			c.within(box{b.left, b.top, b.right, b.bottom}, func() {
				c.interval(pen{ink, 3, nil}, m.at(r.Miss.Low, 0).x, m.at(r.Miss.High, 0).x, y)
			})
			c.beyond(r.Miss.Low/m.unit, r.Miss.High/m.unit, m.panel.x, b, y, ink)
			left, right = min(left, onto(r.Miss.Low)), max(right, onto(r.Miss.High))
		}
		if row.shown == 0 { // an arrowhead would be larger than what it is of
			c.line(pen{row.colour, 4, nil}, point{to, y - 11}, point{to, y + 11})
		} else {
			c.arrow(pen{row.colour, row.width, row.dash}, point{from, y}, point{to, y}, 24)
		}
		c.text(row.name, point{40, y + 11}, bodySize, row.colour, fromLeft)

		says := side(row.shown)
		w := c.textWidth(says, bodySize)
		const gap = 16
		fitsLeft, fitsRight := left-gap-w > b.left, right+gap+w < b.right
		at := point{left - gap - w, y + 11}
		switch goLeft := from+to < 2*axis; {
		case fitsRight && (!goLeft || !fitsLeft):
			at.x = right + gap
		case !fitsLeft: // the arrow fills the panel: its word goes on it
			at.x = b.right - w - 24
			c.sheet(fade(paper, .85), c.textBox(says, at, bodySize, fromLeft).inset(-4))
		}
		if fitsLeft || fitsRight {
			c.keep = append(c.keep, box{left, y - 12, right, y + 12})
		}
		c.text(says, at, bodySize, row.colour, fromLeft)
	}
}

// interval draws limits across with a bar at either end.
func (c *canvas) interval(p pen, low, high, y float64) {
	c.line(p, point{low, y}, point{high, y})
	for _, x := range []float64{low, high} {
		c.line(p, point{x, y - 11}, point{x, y + 11})
	}
}

// beyond marks the limits that lie off b with an arrowhead where they leave it.
func (c *canvas) beyond(low, high float64, x *scale, b box, y float64, colour drawing.Color) {
	const size = 18
	if x.at(low) < b.left {
		c.pointer(point{b.left + size/2, y}, -1, 0, size, colour)
	}
	if x.at(high) > b.right {
		c.pointer(point{b.right - size/2, y}, 1, 0, size, colour)
	}
}

// side says whole yards or metres and which way: "8 left", "0".
func side(n int) string {
	switch {
	case n < 0:
		return fmt.Sprintf("%d left", -n)
	case n > 0:
		return fmt.Sprintf("%d right", n)
	}
	return "0"
}
