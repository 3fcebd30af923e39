package pictures

import (
	"context"
	"fmt"
)

// BarsInput is people in order, best or most in need first: the standings of a
// challenge, or a coach's roster by how a brief is kept.
type BarsInput struct {
	Title string // the finding, from words; plain text
	Below string // the line under it: what is compared, over what
	Axis  string // what the bars are, with the unit: "yards from the target"
	Rows  []Bar  // in the order shown; MaxBars of them are
}

// A Bar is one person's score with its limits, in the units shown.
type Bar struct {
	Name      string // untrusted
	Value     float64
	Low, High float64 // 95 % limits; equal to Value when OK is false
	OK        bool
	Says      string // the score in words: "7 (5 to 9)"
	Tie       int    // neighbours with the same number are not apart; 0 is no tie
}

// MaxBars is the most rows drawn; the picture says how many it leaves out.
const MaxBars = 30

const barHigh = 58

// Bars draws scores in order, each as a bar from nothing with its limits, those
// that are not apart joined by a bracket. It is 1200 pixels wide and grows with
// the rows.
func Bars(ctx context.Context, in BarsInput) ([]byte, error) {
	return render(ctx, 1200, barsHeight(in), func(c *canvas) { drawBars(c, in) })
}

func barsHeight(in BarsInput) int {
	return 420 + barHigh*min(max(len(in.Rows), 3), MaxBars)
}

func drawBars(c *canvas, in BarsInput) {
	top := c.title(in.Title, in.Below) + 76
	b := box{330, top, 750, c.bounds.bottom - 120}
	if len(in.Rows) == 0 {
		c.empty(box{40, b.top, 1160, b.bottom}, "Nobody to show yet.")
		return
	}
	rows := in.Rows[:min(len(in.Rows), MaxBars)]
	b.bottom = b.top + barHigh*float64(len(rows))
	var values []float64
	for _, r := range rows {
		values = append(values, r.Value)
	}
	s := core(values, 3, 0).with(0)
	whole := s
	for _, r := range rows {
		if r.OK {
			whole = whole.with(s.reach(r.Low, r.High, .5, 0).ends()...)
		}
	}
	whole.high += .04 * (whole.high - whole.low)
	if !(whole.high > whole.low) {
		whole.high = whole.low + 1
	}
	p := panel{b, across(b, whole.low, whole.high), upward(b, 0, 1)}
	c.ground(p, p.x.ticks(5, signed), nil)
	c.text(lettered(in.Axis), point{b.left, b.top - 20}, bodySize, ink, fromLeft)
	for i, r := range rows {
		drawBar(c, p, r, b.top+barHigh*(float64(i)+.5))
	}
	drawTies(c, rows, b)
	says := "Thin line: 95 % limits."
	if tied(rows) {
		says += "  Bracket: not apart within the data."
	}
	if n := len(in.Rows) - len(rows); n > 0 {
		says += fmt.Sprintf("  And %d more.", n)
	}
	c.text(says, point{40, c.bounds.bottom - 26}, leastSize, muted, fromLeft)
}

func drawBar(c *canvas, p panel, r Bar, y float64) {
	b := p.box
	c.text(c.cut(lettered(r.Name), bodySize, b.left-40-20), point{b.left - 20, y + 11}, bodySize, ink, fromRight)
	c.text(c.cut(lettered(r.Says), bodySize, 340), point{b.right + 20, y + 11}, bodySize, ink, fromLeft)
	if !finite(r.Value) {
		return
	}
	zero, end := p.x.at(0), p.x.at(r.Value)
	c.within(b, func() {
		c.polygon(fade(pathColour, .45), pathColour, 3, point{zero, y - 16}, point{end, y - 16}, point{end, y + 16}, point{zero, y + 16})
		if r.OK {
			c.interval(pen{ink, 4, nil}, p.x.at(r.Low), p.x.at(r.High), y)
		}
	})
	if r.OK {
		c.beyond(r.Low, r.High, p.x, b, y, ink)
	} else {
		c.beyond(r.Value, r.Value, p.x, b, y, ink)
	}
}

// drawTies draws a bracket beside each run of rows that are not apart.
func drawTies(c *canvas, rows []Bar, b box) {
	const x, arm = 1140.0, 14.0
	for i := 0; i < len(rows); {
		j := i
		for j+1 < len(rows) && rows[i].Tie != 0 && rows[j+1].Tie == rows[i].Tie {
			j++
		}
		if j > i {
			top, bottom := b.top+barHigh*float64(i)+10, b.top+barHigh*float64(j+1)-10
			c.line(pen{muted, 4, nil}, point{x - arm, top}, point{x, top}, point{x, bottom}, point{x - arm, bottom})
		}
		i = j + 1
	}
}

// tied reports whether any neighbours are not apart.
func tied(rows []Bar) bool {
	for i := 1; i < len(rows); i++ {
		if rows[i].Tie != 0 && rows[i].Tie == rows[i-1].Tie {
			return true
		}
	}
	return false
}
