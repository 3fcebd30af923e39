package pictures

import (
	"context"
	"fmt"
	"strings"

	"github.com/wcharczuk/go-chart/v2"
	"github.com/wcharczuk/go-chart/v2/drawing"
)

// BarsInput is people in order, best or most in need first: the standings of a
// challenge, or a coach's roster by how a brief is kept.
type BarsInput struct {
	Title string // the finding, from words; plain text
	Below string // the line under it: what is compared, over what
	Axis  string // what the bars are, with the unit: "yards from the target"
	Rows  []Bar  // in the order shown; MaxBars of them are

	// Share says that the bars are the percentage of balls inside a brief: the
	// axis goes to 100 with the half marked, above which a brief is kept.
	Share bool
}

// A Bar is one person's score with its limits, in the units shown.
type Bar struct {
	Name      string  // untrusted
	Value     float64 // NaN for a row without a bar
	Low, High float64 // 95 % limits; equal to Value when OK is false
	OK        bool
	Says      string // the score in words: "7 (5 to 9)"
	Tie       int    // neighbours with the same number are not apart; 0 is no tie
}

// MaxBars is the most rows drawn; the picture says how many it leaves out.
const MaxBars = 30

// Bars draws scores in order, each as a bar from nothing with its limits; those
// that are not apart stand on one shade. It is 1200 pixels wide and as high as
// its rows.
func Bars(ctx context.Context, in BarsInput) ([]byte, error) {
	l, err := layBars(ctx, in)
	if err != nil {
		return nil, err
	}
	return render(ctx, 1200, l.height(), l.draw)
}

// A barsLayout is where the parts of ordered bars stand.
type barsLayout struct {
	in    BarsInput
	rows  []Bar
	names [][]string // of each row, as lines
	panel box        // of the bars
	pitch float64    // from a row to the next
}

// The sides of the paper, how wide a name may be on one line, and the most that
// two lines take: a display name of 32 of the widest letters and its place.
const barsLeft, barsRight, nameWide, nameMost = 40.0, 1160.0, 330.0, 510.0

// layBars measures names and scores, so that the bars have all the room these
// leave.
func layBars(ctx context.Context, in BarsInput) (*barsLayout, error) {
	c, err := newCanvas(ctx, 1200, 240)
	if err != nil {
		return nil, err
	}
	l := &barsLayout{in: in, rows: in.Rows[:min(len(in.Rows), MaxBars)], pitch: 58}
	names, says := 0.0, 0.0
	for _, r := range l.rows {
		name := []string{lettered(r.Name)}
		if c.textWidth(name[0], bodySize) > nameWide {
			half := .56 * c.textWidth(name[0], leastSize)
			name = c.fold(name[0], leastSize, min(max(half, nameWide), nameMost))
			l.pitch = 76
		}
		size := float64(bodySize)
		if len(name) > 1 {
			size = leastSize
		}
		for _, line := range name {
			names = max(names, c.textWidth(line, size))
		}
		l.names = append(l.names, name)
		says = max(says, c.textWidth(c.cut(lettered(r.Says), bodySize, 400), bodySize))
	}
	top := c.title(in.Title, in.Below) + 76
	l.panel = box{barsLeft + names + 24, top, barsRight - says - 24, top + l.pitch*float64(len(l.rows))}
	if len(l.rows) == 0 {
		l.panel = box{barsLeft, top - 40, barsRight, top + 160}
	}
	return l, nil
}

func (l *barsLayout) height() int { return int(l.panel.bottom) + 130 }

func (l *barsLayout) draw(c *canvas) {
	in, b := l.in, l.panel
	c.title(in.Title, in.Below)
	if len(l.rows) == 0 {
		c.empty(b, "Nobody to show yet.")
		return
	}
	p := panel{b, l.scale(), upward(b, 0, 1)}
	var ticks []chart.Tick
	if in.Share {
		for _, v := range []float64{0, 50, 100} {
			ticks = append(ticks, chart.Tick{Value: v, Label: fmt.Sprintf("%.0f", v)})
		}
	} else {
		ticks = p.x.ticks(6, signed)
	}
	c.ground(p, ticks, nil)
	l.shade(c, p, ticks)
	axis := lettered(in.Axis)
	wide := c.textWidth(axis, bodySize)
	c.text(axis, point{max(barsLeft, min(b.left, barsRight-wide)), b.top - 20}, bodySize, ink, fromLeft)
	for i, r := range l.rows {
		l.bar(c, p, r, l.names[i], b.top+l.pitch*(float64(i)+.5))
	}
	if in.Share {
		x := p.x.at(50)
		c.line(pen{ink, 3, []float64{8, 7}}, point{x, b.top}, point{x, b.bottom})
	}
	c.text(l.foot(), point{barsLeft, c.bounds.bottom - 26}, leastSize, muted, fromLeft)
}

// scale holds every bar; of the limits, what leaves the bars their size.
func (l *barsLayout) scale() *scale {
	if l.in.Share {
		return across(l.panel, 0, 100)
	}
	var values []float64
	for _, r := range l.rows {
		values = append(values, r.Value)
	}
	s := core(values, 3, 0).with(0)
	whole := s
	for _, r := range l.rows {
		if r.OK {
			whole = whole.with(s.reach(r.Low, r.High, .5, 0).ends()...)
		}
	}
	whole.high += .04 * (whole.high - whole.low)
	if !(whole.high > whole.low) {
		whole.high = whole.low + 1
	}
	return across(l.panel, whole.low, whole.high)
}

// bar draws one row.
func (l *barsLayout) bar(c *canvas, p panel, r Bar, name []string, y float64) {
	b := p.box
	if len(name) == 1 {
		c.text(name[0], point{barsLeft, y + 11}, bodySize, ink, fromLeft)
	} else {
		for i, line := range name {
			c.text(line, point{barsLeft, y - 6 + 30*float64(i)}, leastSize, ink, fromLeft)
		}
	}
	c.text(c.cut(lettered(r.Says), bodySize, 400), point{b.right + 24, y + 11}, bodySize, ink, fromLeft)
	if !finite(r.Value) {
		return
	}
	colour := muted
	if l.in.Share {
		colour = briefColour
	}
	zero, end := p.x.at(0), p.x.at(r.Value)
	c.within(b, func() {
		c.polygon(fade(colour, .45), colour, 3, point{zero, y - 16}, point{end, y - 16}, point{end, y + 16}, point{zero, y + 16})
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

// tieShade is the ground of rows that are not apart.
var tieShade = drawing.Color{R: 0xe6, G: 0xe9, B: 0xee, A: 0xff}

// ties are the runs of rows that are not apart, each from its first to its
// last.
func (l *barsLayout) ties() (runs [][2]int) {
	for i := 0; i < len(l.rows); {
		j := i
		for j+1 < len(l.rows) && l.rows[i].Tie != 0 && l.rows[j+1].Tie == l.rows[i].Tie {
			j++
		}
		if j > i {
			runs = append(runs, [2]int{i, j})
		}
		i = j + 1
	}
	return runs
}

// shade lays one shade under each run of rows that are not apart, from edge to
// edge of the paper.
func (l *barsLayout) shade(c *canvas, p panel, ticks []chart.Tick) {
	const gap = 3 // half of what shows between two runs
	for _, run := range l.ties() {
		top, bottom := l.panel.top+l.pitch*float64(run[0])+gap, l.panel.top+l.pitch*float64(run[1]+1)-gap
		c.sheet(tieShade, box{barsLeft - 20, top, barsRight + 20, bottom})
		for _, tick := range ticks {
			x := p.x.at(tick.Value)
			c.line(pen{rule, 1.5, nil}, point{x, top}, point{x, bottom})
		}
	}
}

func (l *barsLayout) foot() string {
	says := []string{"Thin line: 95 % limits."}
	if l.in.Share {
		says = append(says, "Dashed: half.")
	}
	if len(l.ties()) > 0 {
		says = append(says, "One shade: not apart within the data.")
	}
	if n := len(l.in.Rows) - len(l.rows); n > 0 {
		says = append(says, fmt.Sprintf("And %d more.", n))
	}
	return strings.Join(says, "  ")
}
