package pictures

import (
	"strings"

	"rangepost/analysis"
	"rangepost/analysis/timeline"
)

// drawDelivery draws the right panel of a post: path across, face up, each
// ball, the centre with its limits, the corridor that finds the target, the
// square point and the coach's brief.
func drawDelivery(c *canvas, in PostInput) {
	b := deliveryBox
	c.text("What the club did", point{650, 252}, headSize, ink, fromLeft)
	r := in.Cause
	if len(r.Balls) == 0 {
		c.empty(box{650, b.top, b.right, b.bottom}, notMeasured(r.Missing))
		return
	}
	var paths, faces []float64
	for _, s := range r.Balls {
		paths, faces = append(paths, s.Path/analysis.Degree), append(faces, s.Face/analysis.Degree)
	}
	const never = 3 // deg from the middle half of the balls, never wild
	x, y := core(paths, 2.5, never).with(0, r.RefPath/analysis.Degree), core(faces, 2.5, never).with(0, r.RefFace/analysis.Degree)
	x, y = x.padded(.07, 6), y.padded(.07, 6)
	sx, sy := equal(b, x, y)
	p := panel{b, sx, sy}
	open, inOut := "open", "in-to-out"
	if in.Voice.Hand == analysis.LeftHanded {
		open, inOut = "closed", "out-to-in"
	}
	c.pointer(point{720, 287}, 0, -1, 20, faceColour)
	c.text("face right ("+open+"), °", point{738, 297}, smallSize, faceColour, fromLeft)
	c.ground(p, p.x.ticks(6, magnitude), p.y.ticks(6, magnitude))
	says := "path right (" + inOut + "), °"
	c.text(says, point{b.right - 24, b.bottom + 82}, smallSize, pathColour, fromRight)
	c.pointer(point{b.right - 10, b.bottom + 72}, 1, 0, 20, pathColour)
	c.within(b, func() {
		var low, high []point
		for _, e := range r.Corridor.Edges {
			low = append(low, p.at(e.Path/analysis.Degree, e.FaceLow/analysis.Degree))
			high = append([]point{p.at(e.Path/analysis.Degree, e.FaceHigh/analysis.Degree)}, high...)
		}
		if r.Corridor.OK && len(low) > 1 {
			c.polygon(fade(targetColour, .2), clear, 0, append(low, high...)...)
			c.line(pen{targetColour, 3, nil}, low...)
			c.line(pen{targetColour, 3, nil}, high...)
		}
		drawBrief(c, p, in.Brief)
		// The square point: face and path both at the target.
		sq := p.at(0, 0)
		c.polygon(ground, targetColour, 5, corners(box{sq.x - 13, sq.y - 13, sq.x + 13, sq.y + 13})...)
		radius := ballRadius(len(r.Balls))
		for i := range paths {
			c.ball(p.at(paths[i], faces[i]), radius, false)
		}
		face, path := r.Delivery[analysis.Face], r.Delivery[analysis.Path]
		if face.N > 0 && path.N > 0 {
			mid := p.at(path.Mean/analysis.Degree, face.Mean/analysis.Degree)
			if face.OK && path.OK {
				l, h := p.at(path.Low/analysis.Degree, face.Low/analysis.Degree), p.at(path.High/analysis.Degree, face.High/analysis.Degree)
				c.polygon(fade(ground, .75), ink, 4, corners(box{l.x, h.y, h.x, l.y})...)
			}
			c.cross(mid, 10, 4)
		}
	})
}

// drawBrief draws the coach's limits when they are of a number the panel shows.
func drawBrief(c *canvas, p panel, k *timeline.Kept) {
	if k == nil {
		return
	}
	far := 90.0
	low, high := -far, far
	if k.Brief.Low != nil {
		low = *k.Brief.Low / analysis.Degree
	}
	if k.Brief.High != nil {
		high = *k.Brief.High / analysis.Degree
	}
	var shape []point
	switch k.Brief.Number {
	case analysis.Face:
		shape = []point{p.at(-far, low), p.at(far, low), p.at(far, high), p.at(-far, high)}
	case analysis.Path:
		shape = []point{p.at(low, -far), p.at(high, -far), p.at(high, far), p.at(low, far)}
	case analysis.FaceToPath:
		shape = []point{p.at(-far, -far+low), p.at(far, far+low), p.at(far, far+high), p.at(-far, -far+high)}
	default:
		return
	}
	c.polygon(fade(briefColour, .10), clear, 0, shape...)
	ring := append(append([]point{}, shape...), shape[0])
	c.line(pen{briefColour, 4, []float64{16, 9}}, ring...)
}

// notMeasured says why there is no delivery.
func notMeasured(missing []analysis.Number) string {
	if len(missing) == 0 {
		return "The club was not measured, so this panel stays empty."
	}
	var names []string
	for _, n := range missing {
		names = append(names, n.String())
	}
	return "Not measured: " + strings.Join(names, ", ") + ". Without it there is no delivery to show."
}

// drawReading writes the delivery's numbers under its panel.
func drawReading(c *canvas, in PostInput) {
	r := in.Cause
	y := readingBox.top + 10
	line := func(s string, colour int) {
		c.text(c.cut(s, bodySize, readingBox.width()), point{readingBox.left, y + 26}, bodySize, ink, fromLeft)
		y += 46
	}
	v := in.Voice
	for _, n := range []analysis.Number{analysis.Face, analysis.Path} {
		if e := r.Delivery[n]; e.N > 0 {
			line(n.Info().Key+" "+v.Mean(n, e), 0)
		}
	}
	if k := in.Brief; k != nil && k.Of > 0 {
		line(plural(k.Inside, "ball")+" of "+plural(k.Of, "")+" inside the brief", 0)
	}
	if r.Inferred {
		line("Face and path inferred from the ball", 0)
	}
}
