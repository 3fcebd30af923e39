package pictures

import (
	"context"
	"fmt"

	"rangepost/analysis/tally"
	"rangepost/bot/words"
)

// TallyInput is ball flights counted by eye.
type TallyInput struct {
	Voice  words.Voice
	Title  string // the finding, from words; plain text
	Below  string // the line under it: whose, with which club, when; untrusted
	Counts []int  // of each flight, in the order of tally.Flights
}

// Where the nine cells stand, px.
const (
	cellsLeft, cellWide, cellHigh = 260.0, 270.0, 226.0
	tallyHigh                     = 1056
)

// Tally draws the nine flights three by three as their buttons stand, a row for
// each start and a column for each curve: what the ball did, how often, the
// trade's word for it, and the darker the more; beside and below, the sums. It
// is 1200 by 1056 pixels.
func Tally(ctx context.Context, in TallyInput) ([]byte, error) {
	return render(ctx, 1200, tallyHigh, func(c *canvas) { drawTally(c, in) })
}

// tallyTop is where the cells begin: below a title of two lines.
const tallyTop = 246.0

func drawTally(c *canvas, in TallyInput) {
	c.title(in.Title, in.Below)
	var starts, curves [3]int
	most := 0
	count := func(i int) int {
		if i < len(in.Counts) {
			return max(0, in.Counts[i])
		}
		return 0
	}
	for i, f := range tally.Flights() {
		starts[f.Start+1] += count(i)
		curves[f.Curve+1] += count(i)
		most = max(most, count(i))
	}
	all := starts[0] + starts[1] + starts[2]
	for i, f := range tally.Flights() {
		left, top := cellsLeft+cellWide*float64(f.Curve+1), tallyTop+cellHigh*float64(f.Start+1)
		drawFlight(c, in.Voice, f, count(i), most, box{left, top, left + cellWide, top + cellHigh}.inset(4))
	}
	right, bottom := cellsLeft+3*cellWide, tallyTop+3*cellHigh
	for i, name := range []string{"curved left", "no curve", "curved right"} {
		x := cellsLeft + cellWide*(float64(i)+.5)
		c.text(name, point{x, tallyTop - 16}, bodySize, ink, centred)
		c.text(fmt.Sprint(curves[i]), point{x, bottom + 44}, headSize, ink, centred)
	}
	for i, name := range []string{"left", "straight", "right"} {
		y := tallyTop + cellHigh*(float64(i)+.5)
		c.text("started", point{40, y - 8}, smallSize, muted, fromLeft)
		c.text(name, point{40, y + 28}, bodySize, ink, fromLeft)
		c.text(fmt.Sprint(starts[i]), point{(right + c.bounds.right) / 2, y + 12}, headSize, ink, centred)
	}
	c.text("together", point{40, bottom + 42}, smallSize, muted, fromLeft)
	c.text(fmt.Sprint(all), point{(right + c.bounds.right) / 2, bottom + 44}, headSize, ink, centred)
	c.text("Seen from behind the ball; green: the target's line. Counted by eye, not measured.", point{40, c.bounds.bottom - 26}, leastSize, muted, fromLeft)
}

// drawFlight draws one flight in its cell: on the left what the ball did, from
// the ball upward against the line to the target, on the right how often.
func drawFlight(c *canvas, v words.Voice, f tally.Flight, n, most int, b box) {
	share := 0.0
	if most > 0 {
		share = float64(n) / float64(most)
	}
	c.sheet(ground, b)
	c.sheet(fade(ink, .30*share), b)
	edge := pen{rule, 2, nil}
	colour := muted
	if n > 0 {
		colour = ink
	}
	if n > 0 && n == most {
		edge = pen{ink, 5, nil}
	}
	c.ring(edge, corners(b))

	from := point{b.left + 94, b.bottom - 62}
	high := b.height() - 86
	c.line(pen{targetColour, 3, []float64{5, 6}}, from, point{from.x, from.y - high})
	// A start of about 13 degrees, and a curve that takes as much off again or
	// adds it: shapes, not measures.
	const off = .24
	var line []point
	for i := range 17 {
		t := float64(i) / 16
		line = append(line, point{from.x + high*(off*float64(f.Start)*t+off*float64(f.Curve)*t*t), from.y - high*t})
	}
	c.line(pen{colour, 4, nil}, line...)
	c.disc(line[len(line)-1], 9, colour, ground, 2)
	size := headSize + 20*share
	if n > 99 {
		size = headSize
	}
	c.text(fmt.Sprint(n), point{b.right - 54, (b.top+b.bottom)/2 - 4}, size, colour, centred)
	c.text(v.FlightCall(f), point{(b.left + b.right) / 2, b.bottom - 16}, leastSize, colour, centred)
}
