package pictures

import "math"

// A stray is what lies off its panel, in the panel's shown units, and what to
// say of it.
type stray struct {
	x, y  float64
	aside bool
	says  string
}

// strays marks each where it left the panel, and then writes what each says
// beside its mark while there is room, the first ones first. Marks come before
// words, so that words keep clear of them all; what would stand nearer to
// another's mark than to its own, and so be read as that one's, is left out.
func (c *canvas) strays(p panel, all []stray) {
	at := make([]point, len(all))
	for i, s := range all {
		at[i] = c.strayMark(p, s)
	}
	for i, s := range all {
		c.place(s.says, smallSize, ink, p.box, c.beside(p, at, i, c.textWidth(s.says, smallSize)))
	}
}

// strayIn is half the side of a stray's mark, px.
const strayIn = 18

// strayMark draws the mark, inside the edge where s left the panel, and returns
// where that is.
func (c *canvas) strayMark(p panel, s stray) point {
	x, outX := p.x.clamp(s.x)
	y, _ := p.y.clamp(s.y)
	dx, dy := 0.0, 0.0
	switch {
	case outX && s.x > p.x.Max:
		dx = 1
	case outX:
		dx = -1
	case s.y > p.y.Max:
		dy = -1
	default:
		dy = 1
	}
	const size = 28
	at := p.at(x, y)
	at.x = min(max(at.x, p.left+strayIn), p.right-strayIn)
	at.y = min(max(at.y, p.top+strayIn), p.bottom-strayIn)
	c.pointer(at, dx, dy, size, ink)
	if s.aside {
		c.pointer(point{at.x - dx*2, at.y - dy*2}, dx, dy, size*.5, ground)
	}
	c.keep = append(c.keep, box{at.x - strayIn, at.y - strayIn, at.x + strayIn, at.y + strayIn})
	return at
}

// beside lists the middles of places for a text w wide about mark i of those
// at, without those where it would be nearer to another mark.
func (c *canvas) beside(p panel, at []point, i int, w float64) (spots []point) {
	own := at[i]
	wide := w/2 + 8
	inside := min(max(own.x, p.left+wide), p.right-wide)
	near := []point{{own.x - wide - strayIn, own.y}, {own.x + wide + strayIn, own.y}}
	for _, away := range []float64{36, 70, 104} {
		near = append(near, point{inside, own.y - away}, point{inside, own.y + away})
	}
	for _, spot := range near {
		b := box{spot.x - w/2, spot.y - smallSize/2, spot.x + w/2, spot.y + smallSize/2}
		nearest := true
		for _, other := range at {
			nearest = nearest && !(b.distance(other) < b.distance(own))
		}
		if nearest {
			spots = append(spots, spot)
		}
	}
	return spots
}

// distance is how far p lies outside b; 0 inside.
func (b box) distance(p point) float64 {
	return math.Hypot(max(b.left-p.x, 0, p.x-b.right), max(b.top-p.y, 0, p.y-b.bottom))
}
