package pictures

import (
	"math"

	"rangepost/analysis"
	"rangepost/analysis/cause"
	"rangepost/analysis/pattern"
	"rangepost/analysis/stat"
)

// handed are the words for right of target in the golfer's own terms.
func handed(h analysis.Hand) (face, path string) {
	if h == analysis.LeftHanded {
		return "closed", "out-to-in"
	}
	return "open", "in-to-out"
}

// drawDelivery draws the right panel of a post: path across, face up, each
// ball, the centre with its region, the corridor that finds the target, the
// square point and the coach's brief.
func drawDelivery(c *canvas, in PostInput, b box) {
	r := in.Cause
	head := "What the club did"
	if r.Inferred {
		head += ", inferred"
	}
	if len(r.Balls) == 0 {
		c.panelHead(b, 650, head, "", muted)
		c.empty(box{650, b.top, b.right, b.bottom}, notMeasured(r.Missing))
		return
	}
	p := deliveryPanel(b, r)
	face, path := handed(in.Voice.Hand)
	c.panelHead(b, 650, head, "face right ("+face+"), °", faceColour)
	c.text("path right ("+path+"), °", point{b.right - 28, b.bottom + 80}, smallSize, pathColour, fromRight)
	c.pointer(point{b.right - 10, b.bottom + 70}, 1, 0, 20, pathColour)
	most := 5
	for p.x.step(most) != p.y.step(most) && most < 8 {
		most++ // one step both ways, as the scale is one
	}
	c.ground(p, p.x.ticks(most, sided), p.y.ticks(most, sided))
	at := func(path, face float64) point { return p.at(path/analysis.Degree, face/analysis.Degree) }
	var green band
	c.within(b, func() {
		green = drawCorridor(c, r.Corridor, at)
		drawBrief(c, p, in.Brief)
		radius := ballRadius(len(r.Balls))
		for _, s := range r.Balls {
			c.ball(at(s.Path, s.Face), radius, false)
		}
		drawNeeded(c, r, at)
		for _, each := range eachPattern(r) {
			drawDeliveryCentre(c, each, at)
		}
		sq := at(0, 0)
		c.polygon(ground, muted, 5, corners(box{sq.x - 13, sq.y - 13, sq.x + 13, sq.y + 13})...)
		c.keep = append(c.keep, box{sq.x - 15, sq.y - 15, sq.x + 15, sq.y + 15})
	})
	var strays []stray
	for _, s := range r.Balls {
		if b.holds(at(s.Path, s.Face)) {
			continue
		}
		says := "face " + in.Voice.Angle(math.Abs(s.Face)) + " " + sideOf(s.Face)
		if _, out := p.x.clamp(s.Path / analysis.Degree); out {
			says = "path " + in.Voice.Angle(math.Abs(s.Path)) + " " + sideOf(s.Path)
		}
		strays = append(strays, stray{s.Path / analysis.Degree, s.Face / analysis.Degree, false, says})
	}
	c.strays(p, strays)
	sq := at(0, 0)
	c.place("square", leastSize, muted, b, []point{{sq.x, sq.y - 36}, {sq.x, sq.y + 36}, {sq.x - 68, sq.y}, {sq.x + 68, sq.y}})
	mesh := meshOf(b)
	for _, inside := range []func(box) bool{green.half, green.holds} {
		if c.placeIn(findsTarget, smallSize, targetText, b, mesh, inside) {
			break
		}
	}
	c.placeIn("brief", smallSize, briefText, b, mesh, briefHolds(p, in.Brief))
}

// deliveryPanel scales the panel, in degrees, the same both ways.
func deliveryPanel(b box, r cause.Result) panel {
	var paths, faces []float64
	for _, s := range r.Balls {
		paths, faces = append(paths, s.Path), append(faces, s.Face)
	}
	const never = 3 * analysis.Degree // from the middle half of the balls, never wild
	x, y := core(paths, wildReach, never).with(0, r.RefPath), core(faces, wildReach, never).with(0, r.RefFace)
	if e := deliveryRegion(r); e != nil {
		dx, dy := ellipseReach(*e)
		x, y = x.reach(e.Y-dx, e.Y+dx, 1.2, never), y.reach(e.X-dy, e.X+dy, 1.2, never)
	}
	if face, path, known := meanDelivery(r); known {
		if df, dp, ok := needed(r); ok {
			x, y = x.with(path+dp), y.with(face+df)
		}
	}
	x, y = x.padded(.1, 6*analysis.Degree), y.padded(.1, 6*analysis.Degree)
	sx, sy := equal(b, x.over(analysis.Degree), y.over(analysis.Degree))
	return panel{b, sx, sy}
}

// eachPattern are the results of the patterns of a set: of two, or its own.
func eachPattern(r cause.Result) []cause.Result {
	if len(r.Parts) > 0 {
		return r.Parts
	}
	return []cause.Result{r}
}

// deliveryRegion is the 95 % region of the mean delivery (Hotelling), face as
// X and path as Y; nil under 5 balls, as for the pattern.
func deliveryRegion(r cause.Result) *pattern.Ellipse {
	var faces, paths []float64
	for _, s := range r.Balls {
		faces, paths = append(faces, s.Face), append(paths, s.Path)
	}
	m, fine := stat.MomentsOf(faces, paths)
	r2, ok := stat.CentreRadius2(len(faces), .95)
	if !fine || !ok || len(faces) < 5 || m.Singular() {
		return nil
	}
	major, minor, angle := m.Axes(r2)
	return &pattern.Ellipse{X: m.X, Y: m.Y, Major: major, Minor: minor, Angle: angle}
}

func drawDeliveryCentre(c *canvas, r cause.Result, at func(path, face float64) point) {
	if e := deliveryRegion(r); e != nil {
		c.centre(at(e.Y, e.X), outline(*e, at))
		return
	}
	if face, path, ok := meanDelivery(r); ok {
		c.centre(at(path, face), nil)
	}
}

// meanDelivery is the centre of the balls' delivery, rad; ok is false for one
// ball, which is no centre.
func meanDelivery(r cause.Result) (face, path float64, ok bool) {
	f, p := r.Delivery[analysis.Face], r.Delivery[analysis.Path]
	return f.Mean, p.Mean, f.N > 1 && p.N > 1
}

// needed is the change of face and path, rad, that puts the centre on target:
// of the number that has to move alone, or of one against the other. ok is
// false where it is not face or path that has to move, or not known which.
func needed(r cause.Result) (face, path float64, ok bool) {
	switch r.Verdict {
	case cause.Face, cause.Path, cause.FaceAndPath:
	default:
		return 0, 0, false
	}
	w := r.WorkBack
	switch w.Number {
	case analysis.Path:
		return 0, w.PathAlone.Mean, w.OK
	case analysis.FaceToPath:
		return w.FaceBy, w.PathBy, w.OK
	}
	return w.FaceAlone.Mean, 0, w.OK
}

// drawNeeded draws that change as an arrow from the centre to the delivery that
// puts it on target.
func drawNeeded(c *canvas, r cause.Result, at func(path, face float64) point) {
	face, path, known := meanDelivery(r)
	df, dp, ok := needed(r)
	if !known || !ok {
		return
	}
	a, b := at(path, face), at(path+dp, face+df)
	c.cased(pen{targetText, 6, nil}, a, b, 28)
	c.beads([]point{a, b})
	c.keep = append(c.keep, box{b.x - 16, b.y - 16, b.x + 16, b.y + 16})
}
