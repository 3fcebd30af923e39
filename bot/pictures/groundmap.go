package pictures

import (
	"cmp"
	"math"
	"slices"

	"rangepost/analysis"
	"rangepost/analysis/pattern"
)

// A ball is too wild to scale a panel by when it lies further from the middle
// half of the balls than wildReach times the width of that half, about 4
// standard deviations from the centre; but never within neverWild m (both
// looked at, no source).
const (
	wildReach = 2.5
	neverWild = 8.0
)

// A groundMap is the left panel of a post: the pattern from above, in the
// units shown, at one scale both ways.
type groundMap struct {
	in    PostInput
	panel panel
	unit  float64 // m in one shown unit
	ok    bool    // some ball has a landing place
}

func newGroundMap(in PostInput, b box) *groundMap {
	m := &groundMap{in: in, unit: in.Voice.Scale(analysis.Length)}
	p := in.Pattern
	var xs, ys, xAside, yAside []float64
	for _, ball := range p.Points {
		if ball.Aside == analysis.Used {
			xs, ys = append(xs, ball.Y), append(ys, ball.X)
		} else {
			xAside, yAside = append(xAside, ball.Y), append(yAside, ball.X)
		}
	}
	if len(xs) == 0 {
		xs, ys, xAside, yAside = xAside, yAside, nil, nil
	}
	m.ok = len(xs) > 0

	x, y := core(xs, wildReach, neverWild), core(ys, wildReach, neverWild)
	x, y = near(x, xAside), near(y, yAside)
	if e := p.Ellipse80; e != nil {
		dx, dy := ellipseReach(*e)
		x, y = x.reach(e.Y-dx, e.Y+dx, 1.2, neverWild), y.reach(e.X-dy, e.X+dy, 1.2, neverWild)
	}
	// The target line, and every step of the split, are always on the picture.
	x = x.with(0)
	if r := in.Cause; r.Face.N > 0 {
		x = x.with(r.Face.Mean, r.Face.Mean+r.Path.Mean, r.Miss.Mean)
	}
	if in.Target > 0 && m.ok {
		y = y.with(in.Target)
	}
	x, y = x.padded(0.07, 24), y.padded(0.07, 24)
	across, _ := equal(b, x.over(m.unit), y.over(m.unit))
	x = m.withWords(x, b, across)
	sx, sy := equal(b, x.over(m.unit), y.over(m.unit))
	m.panel = panel{b, sx, sy}
	return m
}

// withWords is the span across with room beyond the arrows of the split for
// their words, which sx has not.
func (m *groundMap) withWords(x span, b box, sx *scale) span {
	const words, names = 150, 40 // px; the names of its rows reach into the panel
	r := m.in.Cause
	if r.Miss.N == 0 {
		return x
	}
	far := span{}.with(0, r.Miss.Mean, r.Face.Mean, r.Face.Mean+r.Path.Mean)
	if r.Miss.OK {
		far = far.reach(r.Miss.Low, r.Miss.High, 1.5, neverWild)
	}
	goesRight := far.high > -far.low
	switch {
	case goesRight && sx.at(far.high/m.unit) > b.right-words:
		return x.with(far.high + words/(b.width()-words)*(far.high-x.low))
	case !goesRight && sx.at(far.low/m.unit) < b.left+words+names:
		return x.with(far.low - (words+names)/(b.width()-words-names)*(x.high-far.low))
	}
	return x
}

// near is the span stretched to the balls set aside that cost little room.
func near(s span, vs []float64) span {
	room := 0.35*(s.high-s.low) + 4
	stretched := s
	for _, v := range vs {
		if v > s.low-room && v < s.high+room {
			stretched = stretched.with(v)
		}
	}
	return stretched
}

// at is the canvas point of a place on the ground: m right of the target line,
// m along it.
func (m *groundMap) at(right, along float64) point {
	return m.panel.at(right/m.unit, along/m.unit)
}

func (m *groundMap) draw(c *canvas) {
	b := m.panel.box
	unit := m.in.Voice.Unit(analysis.Length)
	if !m.ok {
		c.panelHead(b, 40, "Where the balls finished", "", muted)
		why := "No landing places in this file, so there is no pattern to show."
		if r := m.in.Cause; r.Miss.N > 0 {
			why = "No carries in this file, so there is no pattern to show. The balls finished " + m.in.Voice.Mean(analysis.Lateral, r.Miss) + "."
		}
		c.empty(box{40, b.top, b.right, b.bottom}, why)
		return
	}
	c.panelHead(b, 40, "Where the balls finished", "carry, "+unit+m.flown(), muted)
	c.ground(m.panel, m.panel.x.ticks(5, sided), m.panel.y.ticks(6, signed))
	c.text(unit+" left or right", point{b.left, b.bottom + 80}, smallSize, muted, fromLeft)
	c.within(b, func() {
		if half := m.in.Cause.HalfWidth; half > 0 {
			left, right := m.at(-half, 0).x, m.at(half, 0).x
			c.sheet(fade(targetColour, .16), box{left, b.top, right, b.bottom})
		}
		axis := m.at(0, 0).x
		c.line(pen{targetColour, 4, nil}, point{axis, b.top}, point{axis, b.bottom})
		m.target(c)
		radius := ballRadius(len(m.in.Pattern.Points))
		for _, ball := range m.in.Pattern.Points {
			c.ball(m.at(ball.Y, ball.X), radius, ball.Aside != analysis.Used)
		}
		m.regions(c)
	})
	m.edges(c)
}

// flown says that landing places were worked out from the launch, "" when all
// were measured.
func (m *groundMap) flown() string {
	for _, w := range m.in.Pattern.Warnings {
		switch {
		case w.Code == pattern.Flown && w.Count >= m.in.Pattern.Used:
			return " (inferred)"
		case w.Code == pattern.Flown:
			return " (partly inferred)"
		}
	}
	return ""
}

// target marks the carry aimed at, or says which way the target lies.
func (m *groundMap) target(c *canvas) {
	if m.in.Target > 0 {
		p := m.at(0, m.in.Target)
		c.disc(p, 18, ground, targetColour, 5)
		c.disc(p, 7, targetColour, none, 0)
		return
	}
	c.pointer(point{m.at(0, 0).x, m.panel.top + 16}, 0, -1, 30, targetColour)
}

// regions draws the ring for 8 balls in 10 and the centre with its region, of each
// pattern.
func (m *groundMap) regions(c *canvas) {
	if len(m.in.Pattern.Parts) == 0 {
		m.region(c, m.in.Pattern)
	}
	for _, part := range m.in.Pattern.Parts {
		m.region(c, part.Pattern)
	}
}

func (m *groundMap) region(c *canvas, p pattern.Pattern) {
	if p.Ellipse80 != nil {
		c.ring(pen{ink, 3, []float64{12, 8}}, outline(*p.Ellipse80, m.at))
	}
	switch e := p.Centre; {
	case e != nil:
		c.centre(m.at(e.Y, e.X), outline(*e, m.at))
	case p.Lateral.N > 1 && p.Carry.N > 1:
		c.centre(m.at(p.Lateral.Mean, p.Carry.Mean), nil)
	}
}

// outline is the ellipse's edge on the canvas.
func outline(e pattern.Ellipse, at func(right, along float64) point) []point {
	const sides = 72
	points := make([]point, sides)
	sin, cos := math.Sincos(e.Angle)
	for i := range points {
		s, k := math.Sincos(2 * math.Pi * float64(i) / sides)
		major, minor := e.Major*k, e.Minor*s
		points[i] = at(e.Y+major*sin+minor*cos, e.X+major*cos-minor*sin)
	}
	return points
}

// ellipseReach is how far the ellipse reaches right of and beyond its centre.
func ellipseReach(e pattern.Ellipse) (right, along float64) {
	sin, cos := math.Sincos(e.Angle)
	return math.Hypot(e.Major*sin, e.Minor*cos), math.Hypot(e.Major*cos, e.Minor*sin)
}

// edges marks the balls that lie off the panel where they left it, each with
// its distance while there is room, the farthest first.
func (m *groundMap) edges(c *canvas) {
	var off []pattern.Point
	for _, ball := range m.in.Pattern.Points {
		if !m.panel.holds(m.at(ball.Y, ball.X)) {
			off = append(off, ball)
		}
	}
	slices.SortStableFunc(off, func(a, b pattern.Point) int {
		return cmp.Compare(math.Hypot(b.X, b.Y), math.Hypot(a.X, a.Y))
	})
	v := m.in.Voice
	var strays []stray
	for _, ball := range off {
		says := v.Distance(ball.X) + " carry"
		if _, outX := m.panel.x.clamp(ball.Y / m.unit); outX {
			says = v.Distance(math.Abs(ball.Y)) + " " + sideOf(ball.Y)
		}
		strays = append(strays, stray{ball.Y / m.unit, ball.X / m.unit, ball.Aside != analysis.Used, says})
	}
	c.strays(m.panel, strays)
}

// sideOf is the side a sideways number lies on.
func sideOf(v float64) string {
	if v < 0 {
		return "left"
	}
	return "right"
}
