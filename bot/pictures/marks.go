package pictures

import (
	"math"
	"slices"

	"github.com/wcharczuk/go-chart/v2/drawing"
)

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
	} else {
		c.disc(p, radius, fade(ink, .62), ground, 2)
	}
	c.marks = append(c.marks, box{p.x - radius, p.y - radius, p.x + radius, p.y + radius})
}

// beads are marks along a line, so that a label would rather stand beside it.
func (c *canvas) beads(line []point) {
	const apart = 24
	for i := 1; i < len(line); i++ {
		a, b, ok := clipSegment(line[i-1], line[i], c.clip)
		if !ok {
			continue
		}
		n := int(math.Hypot(b.x-a.x, b.y-a.y)/apart) + 1
		for k := range n {
			t := (float64(k) + .5) / float64(n)
			x, y := a.x+t*(b.x-a.x), a.y+t*(b.y-a.y)
			c.marks = append(c.marks, box{x - 2, y - 2, x + 2, y + 2})
		}
	}
}

// ring draws a closed line.
func (c *canvas) ring(p pen, points []point) {
	if len(points) > 1 {
		c.line(p, append(slices.Clone(points), points[0])...)
	}
}

// centre draws the cross of a centre and the edge of its region, on a casing
// that lifts both off the balls. Without a region the cross is open, so that a
// ball under it is still seen.
func (c *canvas) centre(p point, region []point) {
	c.keep = append(c.keep, box{p.x - 14, p.y - 14, p.x + 14, p.y + 14})
	if len(region) > 0 {
		c.beads(append(slices.Clone(region), region[0]))
	}
	from, to := 0.0, 11.0
	if region == nil {
		from, to = 15, 28
	}
	for _, as := range []pen{{ground, 8, nil}, {ink, 4, nil}} {
		c.ring(as, region)
		grow := (as.width - 4) / 2
		for _, d := range []point{{1, 0}, {-1, 0}, {0, 1}, {0, -1}} {
			a, b := max(0, from-grow), to+grow
			c.line(as, point{p.x + a*d.x, p.y + a*d.y}, point{p.x + b*d.x, p.y + b*d.y})
		}
	}
}

// pointer draws a small filled triangle centred on p that points along
// (dx, dy).
func (c *canvas) pointer(p point, dx, dy, size float64, colour drawing.Color) {
	c.polygon(colour, none, 0,
		point{p.x + dx*size/2, p.y + dy*size/2},
		point{p.x - dx*size/2 - dy*size/2, p.y - dy*size/2 + dx*size/2},
		point{p.x - dx*size/2 + dy*size/2, p.y - dy*size/2 - dx*size/2})
}

// setColour is the colour of a trial's set; 0 is the baseline.
func setColour(set int) drawing.Color {
	if set == 0 {
		return setColours[0]
	}
	return setColours[1+(set-1)%(len(setColours)-1)]
}

// setMark draws a trial's set as its own shape and colour, filled or hollow.
func (c *canvas) setMark(p point, set int, filled bool) {
	const r = 12
	colour, fill := setColour(set), ground
	if filled {
		fill = colour
	}
	at := func(points ...point) {
		for i := range points {
			points[i] = point{p.x + r*points[i].x, p.y + r*points[i].y}
		}
		c.polygon(fill, colour, 4, points...)
	}
	shape := 0
	if set > 0 {
		shape = 1 + (set-1)%5
	}
	switch shape {
	case 0:
		c.disc(p, r, fill, colour, 4)
	case 1:
		at(point{-.9, -.9}, point{.9, -.9}, point{.9, .9}, point{-.9, .9})
	case 2:
		at(point{0, -1.15}, point{1.1, .8}, point{-1.1, .8})
	case 3:
		at(point{0, -1.3}, point{1.1, 0}, point{0, 1.3}, point{-1.1, 0})
	case 4:
		at(point{0, 1.15}, point{1.1, -.8}, point{-1.1, -.8})
	default:
		at(point{-.4, -1.1}, point{.4, -1.1}, point{.4, -.4}, point{1.1, -.4}, point{1.1, .4}, point{.4, .4},
			point{.4, 1.1}, point{-.4, 1.1}, point{-.4, .4}, point{-1.1, .4}, point{-1.1, -.4}, point{-.4, -.4})
	}
}

// empty fills a panel with why there is nothing in it.
func (c *canvas) empty(b box, why string) {
	c.sheet(ground, b)
	c.polygon(none, rule, 2, corners(b)...)
	lines := c.wrap(why, bodySize, b.width()-80, 6)
	y := (b.top+b.bottom)/2 - float64(len(lines)-1)*bodySize*0.65
	for _, l := range lines {
		c.text(l, point{(b.left + b.right) / 2, y + 10}, bodySize, muted, centred)
		y += 1.3 * bodySize
	}
}
