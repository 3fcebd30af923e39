package pictures

import (
	"context"
	"math"
	"slices"
	"strings"

	"rangepost/analysis"
	"rangepost/analysis/asked"
	"rangepost/analysis/ball"
	"rangepost/analysis/cause"
	"rangepost/bot/words"
)

// AskedInput is the shots that a club was asked for, and what came of them.
type AskedInput struct {
	Voice words.Voice // hand and units
	Title string      // the finding, from words; plain text
	Who   string      // whose balls, "" to leave it out; untrusted
	Club  analysis.Club
	Sets  []AskedSet // the usual one first where there is one
}

// An AskedSet is one of them.
type AskedSet struct {
	Name     string            // its label; untrusted
	Says     string            // beside it: "7 of 10"
	Corridor []asked.Delivered // what does the shot; nil for none
	Cause    cause.Result      // of its balls, for their deliveries
	At       *asked.Delivered  // a delivery nobody hit yet; nil for none
	Flight   ball.Flight       // the mean of its balls; NaN where it is not known
	Wanted   *ball.Flight      // the shot, with NaN where nothing is asked; nil for none
}

// Asked draws asked shots, 1200 pixels wide: on the left each shot's corridor on the
// map of face and path, with the deliveries it got; on the right the mean flights
// from above and from the side.
func Asked(ctx context.Context, in AskedInput) ([]byte, error) {
	p := &askedPicture{in: in}
	return render(ctx, 1200, int(p.height()), p.draw)
}

type askedPicture struct{ in AskedInput }

const (
	askedTop    = 176.0
	askedPanels = 640.0
)

func (p *askedPicture) legendHigh() float64 { return lineHigh * lines(len(p.in.Sets), p.columns()) }

// columns are two, or one where a name is long and there are few.
func (p *askedPicture) columns() int {
	const long, few = 16, 4
	if len(p.in.Sets) <= few && slices.ContainsFunc(p.in.Sets, func(s AskedSet) bool { return len([]rune(s.Name)) > long }) {
		return 1
	}
	return legendColumns
}

func (p *askedPicture) height() float64 {
	return askedTop + p.legendHigh() + panelHead + askedPanels + 170
}

func (p *askedPicture) draw(c *canvas) {
	p.in.Voice.Plain = true
	var says []string
	if p.in.Who != "" {
		says = append(says, p.in.Who)
	}
	if !p.in.Club.Unknown() {
		says = append(says, p.in.Club.String())
	}
	balls, foot := 0, "Dotted: the shot as asked."
	for _, s := range p.in.Sets {
		if balls += len(s.Cause.Balls); s.At != nil {
			foot = "Open: as it would be."
		}
	}
	if balls > 0 {
		says = append(says, words.Count(balls, "ball"))
	}
	c.title(p.in.Title, strings.Join(says, " · "))
	p.legend(c)
	top := askedTop + p.legendHigh() + panelHead
	p.deliveries(c, box{106, top, 560, top + askedPanels})
	half := (askedPanels - 150) / 2
	p.flights(c, box{716, top, 1166, top + half}, "From above", true)
	p.flights(c, box{716, top + half + 150, 1166, top + askedPanels}, "From the side", false)
	c.text("Area: does the shot. Ring: the mean, 95 % sure. "+foot, point{40, c.bounds.bottom - 26}, leastSize, muted, fromLeft)
}

func (p *askedPicture) legend(c *canvas) {
	columns := p.columns()
	wide := 1120 / float64(columns)
	y := askedTop + 30.0
	for i, s := range p.in.Sets {
		left := 40 + wide*float64(i%columns)
		c.setMark(point{left + 14, y - 10}, i, true)
		name := c.cut("“"+lettered(s.Name)+"”", bodySize, wide-80-c.textWidth(s.Says, smallSize))
		if s.Name == "" {
			name = "usual"
		}
		c.text(name, point{left + 40, y}, bodySize, ink, fromLeft)
		c.text(s.Says, point{left + 40 + c.textWidth(name, bodySize) + wordGap, y}, smallSize, muted, fromLeft)
		if i%columns == columns-1 {
			y += lineHigh
		}
	}
}

// deliveries draws the map of face and path.
func (p *askedPicture) deliveries(c *canvas, b box) {
	x, y := span{}, span{}
	var paths, faces []float64
	for _, s := range p.in.Sets {
		for _, d := range s.Corridor {
			x, y = x.with(d.Path), y.with(d.Face)
		}
		if s.At != nil {
			x, y = x.with(s.At.Path), y.with(s.At.Face)
		}
		for _, split := range s.Cause.Balls {
			paths, faces = append(paths, split.Path), append(faces, split.Face)
		}
	}
	const name = "What the club did"
	if len(paths) == 0 && !x.set {
		c.panelHead(b, 40, name, "", muted)
		c.empty(box{40, b.top, b.right, b.bottom}, "Face and path were not measured, and the balls do not tell them.")
		return
	}
	const never = 3 * analysis.Degree
	x = x.with(0).with(core(paths, wildReach, never).ends()...).padded(.08, 6*analysis.Degree)
	y = y.with(0).with(core(faces, wildReach, never).ends()...).padded(.08, 6*analysis.Degree)
	sx, sy := equal(b, x.over(analysis.Degree), y.over(analysis.Degree))
	m := panel{b, sx, sy}
	at := func(path, face float64) point { return m.at(path/analysis.Degree, face/analysis.Degree) }
	face, path := handed(p.in.Voice.Hand)
	c.panelHead(b, 40, name, "face right ("+face+"), °", faceColour)
	c.text("path right ("+path+"), °", point{b.right - 28, b.bottom + 80}, smallSize, pathColour, fromRight)
	c.pointer(point{b.right - 10, b.bottom + 70}, 1, 0, 20, pathColour)
	c.ground(m, m.x.ticks(5, sided), m.y.ticks(7, sided))
	c.within(b, func() {
		for i, s := range p.in.Sets {
			var area []point
			for _, d := range s.Corridor {
				area = append(area, at(d.Path, d.Face))
			}
			c.polygon(fade(setColour(i), .13), setColour(i), 3, area...)
		}
		for i, s := range p.in.Sets {
			for _, split := range s.Cause.Balls {
				c.disc(at(split.Path, split.Face), 6, fade(setColour(i), .55), none, 0)
			}
		}
		for i, s := range p.in.Sets {
			if e := deliveryRegion(s.Cause); e != nil {
				c.ring(pen{ground, 8, nil}, outline(*e, at))
				c.ring(pen{setColour(i), 4, nil}, outline(*e, at))
			}
			if f, q, ok := meanDelivery(s.Cause); ok {
				c.setMark(at(q, f), i, true)
			}
			if s.At != nil {
				c.setMark(at(s.At.Path, s.At.Face), i, false)
			}
		}
	})
}

// flightSteps is how many pieces a flight is drawn in.
const flightSteps = 24

// flights draws the mean flights: each through its start, its apex and where it
// came down, which is all that is known of it.
func (p *askedPicture) flights(c *canvas, b box, name string, above bool) {
	unit := p.in.Voice.Scale(analysis.Length)
	far, side := span{}.with(0), span{}.with(0)
	each := func(do func(i int, f ball.Flight, wanted bool)) {
		for i, s := range p.in.Sets {
			if s.Wanted != nil {
				do(i, meant(*s.Wanted, s.Flight), true)
			}
			do(i, s.Flight, false)
		}
	}
	off := func(f ball.Flight, t float64) float64 { // m right, or up
		if above {
			return math.Tan(f.Start)*f.Carry*t + f.Curve*t*t
		}
		return height(f.Apex, t)
	}
	each(func(_ int, f ball.Flight, _ bool) {
		if far = far.with(f.Carry / unit); !math.IsNaN(f.Carry) {
			for k := range flightSteps + 1 {
				side = side.with(off(f, float64(k)/flightSteps) / unit)
			}
		}
	})
	unitName := p.in.Voice.Unit(analysis.Length)
	m, up, x, y := panel{}, "height, "+unitName, signed, signed
	if reach := max(far.high*1.1, 10); above {
		side = side.padded(.1, 24)
		m, up, x = panel{b, across(b, side.low, side.high), upward(b, 0, reach)}, "carry, "+unitName, sided
	} else {
		side = side.padded(.1, 20)
		m = panel{b, across(b, 0, reach), upward(b, -.06*side.high, side.high)}
	}
	at := func(far, off float64) point {
		if above {
			return m.at(off, far)
		}
		return m.at(far, off)
	}
	c.panelHead(b, 640, name, up, muted)
	c.ground(m, m.x.ticks(5, x), m.y.ticks(4, y))
	c.within(b, func() {
		if above {
			c.line(pen{targetColour, 4, nil}, at(0, 0), at(m.y.Max, 0))
		}
		each(func(i int, f ball.Flight, wanted bool) {
			if math.IsNaN(f.Carry) {
				return
			}
			var line []point
			for k := range flightSteps + 1 {
				t := float64(k) / flightSteps
				line = append(line, at(f.Carry*t/unit, off(f, t)/unit))
			}
			if wanted {
				c.line(pen{fade(setColour(i), .8), 3, []float64{4, 8}}, line...)
				return
			}
			c.line(pen{setColour(i), 5, nil}, line...)
			c.setMark(line[len(line)-1], i, true)
		})
	})
}

// meant is the flight as it was asked for, with what was not asked for as it came.
func meant(want, came ball.Flight) ball.Flight {
	for _, f := range []struct{ want, came *float64 }{{&want.Start, &came.Start}, {&want.Curve, &came.Curve}, {&want.Apex, &came.Apex}, {&want.Carry, &came.Carry}} {
		if math.IsNaN(*f.want) {
			*f.want = *f.came
		}
	}
	return want
}

// height is how high a ball is at a share of its carry: a parabola up to its apex,
// a little beyond the middle, and another down from it.
func height(apex, t float64) float64 {
	const top = 0.58 // of the carry; a mid-iron's (common practice, no source)
	u := (t - top) / top
	if t > top {
		u = (t - top) / (1 - top)
	}
	return apex * (1 - u*u)
}
