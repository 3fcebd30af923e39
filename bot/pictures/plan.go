package pictures

import (
	"context"
	"fmt"

	"rangepost/analysis/plan"
)

// PlanInput is the card of a plan with how far it is.
type PlanInput struct {
	Title string // what it compares, or how it stands; plain text
	Below string // the line under it
	Card  plan.Plan
	Next  int // the first turn that is not hit
}

// The tiles of a card, px: so many on a line, each so high with what is between.
const (
	tilesAcross = 3
	tileHigh    = 104.0
	tileGap     = 16.0
	tileWide    = (1120 - (tilesAcross-1)*tileGap) / tilesAcross
	visitHead   = 62.0
)

// Plan draws the turns of a card in order, a tile a turn with its set's mark and
// the balls of the visit it is, counted anew where a visit is taken up again:
// those that are hit, the next one, and those to come. It is 1200 pixels wide and grows with the card.
func Plan(ctx context.Context, in PlanInput) ([]byte, error) {
	l := layPlan(in)
	return render(ctx, 1200, int(l.height()), l.draw)
}

// A planLayout is a card laid out: the turns of each visit.
type planLayout struct {
	in     PlanInput
	visits [][]int
}

func layPlan(in PlanInput) *planLayout {
	l := &planLayout{in: in}
	for i, t := range in.Card.Turns {
		if i == 0 || t.Visit != in.Card.Turns[i-1].Visit {
			l.visits = append(l.visits, nil)
		}
		last := len(l.visits) - 1
		l.visits[last] = append(l.visits[last], i)
	}
	return l
}

func (l *planLayout) top() float64 { return trialTop + lineHigh*float64(len(l.in.Card.Labels)) + 20 }

func (l *planLayout) height() float64 {
	high := l.top()
	for _, turns := range l.visits {
		high += visitHead + lines(len(turns), tilesAcross)*(tileHigh+tileGap) + 14
	}
	return high + 60
}

func (l *planLayout) draw(c *canvas) {
	in := l.in
	c.title(in.Title, in.Below)
	y := trialTop + 30.0
	for set, label := range in.Card.Labels {
		c.setMark(point{54, y - 10}, set, true)
		if set > 0 {
			label = "“" + lettered(label) + "”"
		}
		c.text(c.cut(label, bodySize, 1060), point{80, y}, bodySize, ink, fromLeft)
		y += lineHigh
	}
	y = l.top()
	for v, turns := range l.visits {
		balls := 0
		for _, i := range turns {
			balls += in.Card.Turns[i].Balls
		}
		head := fmt.Sprintf("Visit %d", v+1)
		c.text(head, point{40, y + 36}, headSize, ink, fromLeft)
		c.text(fmt.Sprintf("%d balls, one file", balls), point{40 + c.textWidth(head, headSize) + 2*wordGap, y + 36}, smallSize, muted, fromLeft)
		y += visitHead
		first := 1
		for k, i := range turns {
			left := 40 + float64(k%tilesAcross)*(tileWide+tileGap)
			top := y + float64(k/tilesAcross)*(tileHigh+tileGap)
			if i == in.Next {
				first = 1 // of a file of its own
			}
			l.tile(c, i, first, box{left, top, left + tileWide, top + tileHigh})
			first += in.Card.Turns[i].Balls
		}
		y += lines(len(turns), tilesAcross)*(tileHigh+tileGap) + 14
	}
	c.text("A mishit counts as a ball of its turn and is not hit again.", point{40, c.bounds.bottom - 26}, leastSize, muted, fromLeft)
}

// tile draws one turn, whose first ball is the so-manieth of its visit.
func (l *planLayout) tile(c *canvas, turn, first int, b box) {
	t := l.in.Card.Turns[turn]
	edge, says := pen{rule, 3, nil}, fmt.Sprintf("turn %d", turn+1)
	fill := ground
	switch {
	case turn < l.in.Next:
		fill, says = fade(muted, .16), says+", hit"
	case turn == l.in.Next:
		edge, says = pen{ink, 6, nil}, says+", next"
	}
	c.sheet(ground, b)
	c.sheet(fill, b)
	c.ring(edge, corners(b))
	c.setMark(point{b.left + 40, b.top + 38}, t.Set, true)
	balls := fmt.Sprintf("balls %d to %d", first, first+t.Balls-1)
	if t.Balls == 1 {
		balls = fmt.Sprintf("ball %d", first)
	}
	c.text(balls, point{b.left + 72, b.top + 49}, bodySize, ink, fromLeft)
	c.text(says, point{b.left + 72, b.top + 86}, leastSize, muted, fromLeft)
}
