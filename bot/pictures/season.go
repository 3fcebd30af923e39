package pictures

import (
	"context"
	"fmt"
	"strconv"
	"strings"

	"rangepost/analysis/season"
)

// SeasonInput is the table of a season.
type SeasonInput struct {
	Title   string   // the finding, from words; plain text
	Below   string   // the line under it: which season, which class; untrusted
	Columns []string // the challenges in order, in few letters: "1 Jun"
	Rows    []SeasonRow
}

// A SeasonRow is one member's season.
type SeasonRow struct {
	season.Row
	Name string // untrusted
}

// Columns and rows that are drawn; the picture says how many it leaves out.
const (
	seasonColumns = 12
	seasonRows    = 20
)

// Season draws a season's table: a row for each member, the best on top, a
// column for each challenge, the last of them, and the total. Points that count
// stand on a shade, the darker the more. It is 1200 pixels wide and as high as
// its rows.
func Season(ctx context.Context, in SeasonInput) ([]byte, error) {
	l, err := laySeason(ctx, in)
	if err != nil {
		return nil, err
	}
	return render(ctx, 1200, l.height(), l.draw)
}

// Where the parts of a table stand, px.
const (
	seasonPitch  = 54.0   // from a row to the next
	seasonWide   = 58.0   // from a column to the next
	seasonTotals = 1160.0 // the right edge
	seasonHeads  = 100.0  // from the title to the first row
)

type seasonLayout struct {
	SeasonInput
	first int // of the columns drawn
	rows  []SeasonRow
	top   float64 // of the first row
}

func laySeason(ctx context.Context, in SeasonInput) (l seasonLayout, err error) {
	c, err := newCanvas(ctx, 1200, 240)
	if err != nil {
		return l, err
	}
	return seasonLayout{in, max(0, len(in.Columns)-seasonColumns), in.Rows[:min(len(in.Rows), seasonRows)], c.title(in.Title, in.Below) + seasonHeads}, nil
}

func (l seasonLayout) height() int {
	return int(l.top+seasonPitch*float64(max(3, len(l.rows)))) + 76
}

// column is the middle of a column.
func (l seasonLayout) column(i int) float64 {
	return seasonTotals - 110 - seasonWide*(float64(len(l.Columns)-i)-.5)
}

func (l seasonLayout) draw(c *canvas) {
	c.title(l.Title, l.Below)
	if len(l.rows) == 0 {
		c.empty(box{barsLeft, l.top - 60, barsRight, l.top + 100}, "No challenge of it is over yet.")
		return
	}
	month := ""
	for i := l.first; i < len(l.Columns); i++ {
		// A day over its month, where that begins: a column is too narrow for more.
		day, of, _ := strings.Cut(lettered(l.Columns[i]), " ")
		c.text(day, point{l.column(i), l.top - 18}, leastSize, muted, centred)
		if of != month {
			c.text(of, point{l.column(i), l.top - 50}, leastSize, muted, centred)
		}
		month = of
	}
	c.text("points", point{seasonTotals, l.top - 18}, leastSize, muted, fromRight)
	for i, r := range l.rows {
		l.row(c, r, l.top+seasonPitch*float64(i))
	}
	c.text(l.foot(), point{barsLeft, c.bounds.bottom - 26}, leastSize, muted, fromLeft)
}

// row draws one member's, its top at y.
func (l seasonLayout) row(c *canvas, r SeasonRow, y float64) {
	base := y + seasonPitch/2 + 10
	c.line(pen{rule, 1.5, nil}, point{barsLeft, y + seasonPitch}, point{barsRight, y + seasonPitch})
	name := fmt.Sprintf("%d. %s", r.Place, lettered(r.Name))
	room := l.column(l.first) - seasonWide/2 - barsLeft - wordGap
	c.text(c.cut(name, smallSize, room), point{barsLeft, base}, smallSize, ink, fromLeft)
	for i := l.first; i < len(r.Points); i++ {
		points, x := r.Points[i], l.column(i)
		switch {
		case points == season.Missed:
			c.text("–", point{x, base}, leastSize, muted, centred)
			continue
		case r.Counted[i]:
			cell := box{x - seasonWide/2 + 2, y + 3, x + seasonWide/2 - 2, y + seasonPitch - 3}
			c.sheet(fade(ink, .08+.26*float64(points)/100), cell)
			c.text(strconv.Itoa(points), point{x, base}, leastSize, ink, centred)
		default:
			c.text(strconv.Itoa(points), point{x, base}, leastSize, muted, centred)
		}
	}
	c.text(strconv.FormatFloat(r.Total, 'f', 1, 64), point{seasonTotals, base}, bodySize, ink, fromRight)
}

func (l seasonLayout) foot() string {
	says := []string{fmt.Sprintf("Points: the mean of the shaded and of %d.", season.Begun)}
	if l.first > 0 {
		says = append(says, fmt.Sprintf("The last %d of %d; totals of all.", seasonColumns, len(l.Columns)))
	}
	if n := len(l.Rows) - len(l.rows); n > 0 {
		says = append(says, fmt.Sprintf("And %d more.", n))
	}
	return strings.Join(says, "  ")
}
