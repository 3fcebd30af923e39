package pictures

import "rangepost/analysis/cause"

// findsTarget says what the green band of a delivery is.
const findsTarget = "finds the target"

// A band is an area between two lines that run from left to right.
type band struct{ upper, middle, lower []point }

// drawCorridor draws the deliveries that find the target: the band, and along
// its middle those that start the ball for the target itself, as the pattern
// beside it has the target and its line.
func drawCorridor(c *canvas, k cause.Corridor, at func(path, face float64) point) (b band) {
	if !k.OK || len(k.Edges) < 2 {
		return b
	}
	for _, e := range k.Edges {
		b.upper, b.lower = append(b.upper, at(e.Path, e.FaceHigh)), append(b.lower, at(e.Path, e.FaceLow))
		b.middle = append(b.middle, at(e.Path, (e.FaceLow+e.FaceHigh)/2))
	}
	shape := append([]point{}, b.upper...)
	for i := range b.lower {
		shape = append(shape, b.lower[len(b.lower)-1-i])
	}
	c.polygon(fade(targetColour, .16), none, 0, shape...)
	c.line(pen{targetColour, 4, nil}, b.middle...)
	return b
}

// holds reports whether all of a text's box lies in the band.
func (b band) holds(text box) bool {
	for _, x := range []float64{text.left, (text.left + text.right) / 2, text.right} {
		top, above := heightAt(b.upper, x)
		bottom, below := heightAt(b.lower, x)
		if !above || !below || text.top < top || text.bottom > bottom {
			return false
		}
	}
	return true
}

// half reports whether it lies in the band on one side of its middle.
func (b band) half(text box) bool {
	return band{b.upper, nil, b.middle}.holds(text) || band{b.middle, nil, b.lower}.holds(text)
}

// heightAt is the y at x of a line that runs from left to right; ok is false
// where it does not run.
func heightAt(line []point, x float64) (y float64, ok bool) {
	for i := 1; i < len(line); i++ {
		if p, q := line[i-1], line[i]; x >= p.x && x <= q.x && q.x > p.x {
			return p.y + (x-p.x)/(q.x-p.x)*(q.y-p.y), true
		}
	}
	return 0, false
}

// meshOf are places all over b, those of the middle rows first.
func meshOf(b box) (spots []point) {
	const apart = 18.0
	middle := (b.top + b.bottom) / 2
	for off := 0.0; off < b.height()/2; off += apart {
		for x := b.left + apart; x < b.right; x += apart {
			spots = append(spots, point{x, middle - off}, point{x, middle + off})
		}
	}
	return spots
}
