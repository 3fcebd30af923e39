package pictures

import (
	"fmt"
	"math"
	"slices"

	"rangepost/analysis"
	"rangepost/analysis/pattern"
)

// A groundMap is the left panel of a post: the pattern from above, in the
// units shown, at one scale both ways.
type groundMap struct {
	in    PostInput
	panel panel
	unit  float64 // m in one shown unit
	ok    bool    // some ball has a landing place
}

func newGroundMap(in PostInput) *groundMap {
	m := &groundMap{in: in, unit: in.Voice.Scale(analysis.Length)}
	p := in.Pattern
	var xs, ys, xAside, yAside []float64
	for _, b := range p.Points {
		if b.Aside == analysis.Used {
			xs, ys = append(xs, b.Y), append(ys, b.X)
		} else {
			xAside, yAside = append(xAside, b.Y), append(yAside, b.X)
		}
	}
	if len(xs) == 0 {
		xs, ys, xAside, yAside = xAside, yAside, nil, nil
	}
	m.ok = len(xs) > 0

	const never = 8 // m from the middle half of the balls, never wild
	x, y := core(xs, 2.5, never), core(ys, 2.5, never)
	// A ball set aside is shown in place when it costs the picture little.
	near := func(s span, vs []float64) span {
		room := 0.35*(s.high-s.low) + 4
		for _, v := range vs {
			if v > s.low-room && v < s.high+room {
				s = s.with(v)
			}
		}
		return s
	}
	if m.ok {
		x, y = near(x, xAside), near(y, yAside)
		if e := p.Ellipse80; e != nil {
			dx, dy := ellipseReach(*e)
			x, y = x.with(e.Y-dx, e.Y+dx), y.with(e.X-dy, e.X+dy)
		}
	} else {
		y = y.with(in.Target)
	}
	// The target line, and every step of the split, are always on the picture.
	x = x.with(0)
	if r := in.Cause; r.Face.N > 0 {
		x = x.with(r.Face.Mean, r.Face.Mean+r.Path.Mean, r.Miss.Mean)
	}
	if in.Target > 0 && m.ok {
		y = y.with(in.Target)
	}
	x, y = x.padded(0.06, 24), y.padded(0.06, 24)
	sx, sy := equal(patternBox, span{x.low / m.unit, x.high / m.unit, true}, span{y.low / m.unit, y.high / m.unit, true})
	m.panel = panel{patternBox, sx, sy}
	return m
}

// at is the canvas point of a place on the ground: m right of the target line,
// m along it.
func (m *groundMap) at(right, along float64) point {
	return m.panel.at(right/m.unit, along/m.unit)
}

func (m *groundMap) draw(c *canvas) {
	c.text("Where the balls finished", point{40, 252}, headSize, ink, fromLeft)
	c.pointer(point{116, 287}, 0, -1, 20, muted)
	c.text("carry, "+m.in.Voice.Unit(analysis.Length), point{134, 297}, smallSize, muted, fromLeft)
	if !m.ok {
		c.empty(patternBox, "No landing places in this file, so there is no pattern to show.")
		return
	}
	xt, yt := m.panel.x.ticks(6, magnitude), m.panel.y.ticks(6, magnitude)
	c.ground(m.panel, xt, yt)
	b := patternBox
	c.within(b, func() {
		if half := m.in.Cause.HalfWidth; half > 0 {
			left, right := m.at(-half, 0).x, m.at(half, 0).x
			c.polygon(fade(targetColour, .16), clear, 0, corners(box{left, b.top, right, b.bottom})...)
		}
		axis := m.at(0, 0).x
		c.line(pen{targetColour, 4, nil}, point{axis, b.top}, point{axis, b.bottom})
		m.balls(c)
		m.regions(c)
		m.target(c)
	})
	m.edges(c)
}

// target marks the carry aimed at, or says which way the target lies.
func (m *groundMap) target(c *canvas) {
	if m.in.Target > 0 {
		p := m.at(0, m.in.Target)
		c.disc(p, 17, ground, targetColour, 5)
		c.disc(p, 6, targetColour, clear, 0)
		return
	}
	c.pointer(point{m.at(0, 0).x, patternBox.top + 16}, 0, -1, 30, targetColour)
}

func (m *groundMap) balls(c *canvas) {
	radius := ballRadius(len(m.in.Pattern.Points))
	for _, b := range m.in.Pattern.Points {
		c.ball(m.at(b.Y, b.X), radius, b.Aside != analysis.Used)
	}
}

// regions draws the ring for 8 balls in 10 and the centre with its region.
func (m *groundMap) regions(c *canvas) {
	p := m.in.Pattern
	if e := p.Ellipse80; e != nil {
		c.polygon(clear, ink, 0, m.outline(*e)...)
		ring := m.outline(*e)
		c.line(pen{ink, 3, []float64{12, 8}}, append(ring, ring[0])...)
	}
	switch e := p.Centre; {
	case e != nil:
		c.polygon(fade(ground, .75), ink, 4, m.outline(*e)...)
		c.cross(m.at(e.Y, e.X), 9, 4)
	case p.Lateral.N > 0 && p.Carry.N > 0:
		c.cross(m.at(p.Lateral.Mean, p.Carry.Mean), 12, 4)
	}
}

// outline is the ellipse's edge on the canvas.
func (m *groundMap) outline(e pattern.Ellipse) []point {
	const sides = 72
	points := make([]point, sides)
	sin, cos := math.Sincos(e.Angle)
	for i := range points {
		s, k := math.Sincos(2 * math.Pi * float64(i) / sides)
		along, right := e.Major*k, e.Minor*s
		points[i] = m.at(e.Y+along*sin+right*cos, e.X+along*cos-right*sin)
	}
	return points
}

// ellipseReach is how far the ellipse reaches right of and beyond its centre.
func ellipseReach(e pattern.Ellipse) (right, along float64) {
	sin, cos := math.Sincos(e.Angle)
	return math.Hypot(e.Major*sin, e.Minor*cos), math.Hypot(e.Major*cos, e.Minor*sin)
}

// edges marks the balls that lie off the panel where they left it, the
// farthest with its distance.
func (m *groundMap) edges(c *canvas) {
	type stray struct {
		ball pattern.Point
		far  float64 // m off the panel
	}
	var strays []stray
	for _, b := range m.in.Pattern.Points {
		if p := m.at(b.Y, b.X); !patternBox.holds(p) {
			_, clipped := m.panel.x.clamp(b.Y / m.unit)
			far := math.Abs(b.Y)
			if !clipped {
				far = math.Abs(b.X)
			}
			strays = append(strays, stray{b, far})
		}
	}
	slices.SortStableFunc(strays, func(a, b stray) int { return -compare(a.far, b.far) })
	for _, s := range strays {
		x, outX := m.panel.x.clamp(s.ball.Y / m.unit)
		y, outY := m.panel.y.clamp(s.ball.X / m.unit)
		const in = 16
		p := m.panel.at(x, y)
		p.x = min(max(p.x, patternBox.left+in), patternBox.right-in)
		p.y = min(max(p.y, patternBox.top+in), patternBox.bottom-in)
		dx, dy, says := 0.0, 0.0, ""
		v := m.in.Voice
		if outX {
			dx = math.Copysign(1, s.ball.Y)
			says = v.Distance(math.Abs(s.ball.Y)) + map[bool]string{true: " right", false: " left"}[s.ball.Y > 0]
		} else if outY {
			dy = -1
			if s.ball.X/m.unit < m.panel.y.Min {
				dy = 1
			}
			says = v.Distance(s.ball.X) + " carry"
		}
		c.strayBall(p, dx, dy, s.ball.Aside != analysis.Used)
		c.beside(says, p, 22, patternBox)
	}
}

// beside writes says next to p, on whichever side inside b is free; nowhere if
// none is.
func (c *canvas) beside(says string, p point, gap float64, b box) bool {
	for _, try := range []struct {
		at point
		a  align
	}{
		{point{p.x - gap, p.y + 10}, fromRight},
		{point{p.x + gap, p.y + 10}, fromLeft},
		{point{p.x, p.y - gap}, centred},
		{point{p.x, p.y + gap + 22}, centred},
	} {
		w := c.textBox(says, try.at, smallSize, try.a)
		if w.left > b.left+4 && w.right < b.right-4 && w.top > b.top && w.bottom < b.bottom && c.free(w) {
			c.polygon(fade(ground, .8), clear, 0, corners(w)...)
			c.text(says, try.at, smallSize, ink, try.a)
			return true
		}
	}
	return false
}

// empty fills a panel with why there is nothing in it.
func (c *canvas) empty(b box, why string) {
	c.polygon(ground, rule, 2, corners(b)...)
	lines := c.wrap(why, bodySize, b.width()-60, 6)
	y := (b.top+b.bottom)/2 - float64(len(lines)-1)*bodySize*0.65
	for _, l := range lines {
		c.text(l, point{(b.left + b.right) / 2, y + 10}, bodySize, muted, centred)
		y += 1.3 * bodySize
	}
}

// ballRadius is how large balls are drawn when there are n of them.
func ballRadius(n int) float64 {
	switch {
	case n > 120:
		return 7
	case n > 50:
		return 9
	}
	return 11
}

// ball draws a ball: filled when it counts, hollow when it is set aside.
func (c *canvas) ball(p point, radius float64, aside bool) {
	if aside {
		c.disc(p, radius, fade(ground, .7), muted, 3)
		return
	}
	c.disc(p, radius, fade(ink, .62), ground, 2)
}

// strayBall draws the mark of a ball that lies beyond the edge.
func (c *canvas) strayBall(p point, dx, dy float64, aside bool) {
	c.pointer(p, dx, dy, 28, ink)
	if aside {
		c.pointer(point{p.x - dx*2, p.y - dy*2}, dx, dy, 15, ground)
	}
}

// cross draws a plus of the centre.
func (c *canvas) cross(p point, arm, width float64) {
	c.line(pen{ink, width, nil}, point{p.x - arm, p.y}, point{p.x + arm, p.y})
	c.line(pen{ink, width, nil}, point{p.x, p.y - arm}, point{p.x, p.y + arm})
}

func compare(a, b float64) int {
	switch {
	case a < b:
		return -1
	case a > b:
		return 1
	}
	return 0
}

var _ = fmt.Sprint
