package pictures

import (
	"math"
	"slices"

	"github.com/wcharczuk/go-chart/v2"

	"rangepost/analysis"
	"rangepost/analysis/trial"
)

// A move is how one set's delivery differs from the baseline's, deg.
type move struct {
	set        int
	face, path float64
}

func (t *trialPicture) moves() []move {
	var moves []move
	for set := 1; set <= t.sets; set++ {
		m, known := move{set: set}, 0
		for _, r := range t.in.Result.Rows {
			if r.Set != set || !finite(r.Difference) {
				continue
			}
			switch r.Number {
			case analysis.Face:
				m.face, known = r.Difference/analysis.Degree, known+1
			case analysis.Path:
				m.path, known = r.Difference/analysis.Degree, known+1
			}
		}
		if known == 2 {
			moves = append(moves, m)
		}
	}
	return moves
}

// worths are what a degree of face and of path is worth here, m, read back
// from the compensation in which each moved most; ok is false when neither
// moved enough to tell.
func (t *trialPicture) worths(moves []move) (face, path float64, ok bool) {
	const least = .2 // deg: a smaller move divides by noise
	mostFace, mostPath := least, least
	for _, k := range t.in.Result.Compensations {
		for _, m := range moves {
			if m.set != k.Set {
				continue
			}
			if math.Abs(m.face) > mostFace {
				mostFace, face = math.Abs(m.face), k.FaceM/m.face
			}
			if math.Abs(m.path) > mostPath {
				mostPath, path = math.Abs(m.path), k.PathM/m.path
			}
		}
	}
	return face, path, face != 0 && path != 0 && finite(face) && finite(path)
}

// finish draws how far from the baseline's balls each set's finish, seen from
// above with the target straight up, with the limits of both; without a carry,
// each set on a level of its own. The band is what is too small to matter.
func (t *trialPicture) finish(c *canvas, b box) {
	c.text("Where the balls finished", point{40, b.top - 66}, headSize, ink, fromLeft)
	unit := t.in.Voice.Scale(analysis.Length)
	var across, along []*trial.Row
	zero := 0.0
	for set := 1; set <= t.sets; set++ {
		lateral, carry := t.find(set, analysis.Lateral), t.find(set, analysis.Carry)
		if lateral == nil {
			continue
		}
		across, along, zero = append(across, lateral), append(along, carry), max(zero, lateral.Zero/unit)
	}
	if len(across) == 0 {
		c.empty(box{40, b.top - 20, b.right, b.bottom}, "Where the balls finished was not measured in both.")
		return
	}
	flown := slices.ContainsFunc(along, func(r *trial.Row) bool { return r != nil })
	var xs, ys []float64
	for i, r := range across {
		xs = append(xs, r.Difference/unit)
		switch {
		case along[i] != nil:
			ys = append(ys, along[i].Difference/unit)
		case flown:
			ys = append(ys, 0)
		default:
			ys = append(ys, -4*float64(i+1))
		}
	}
	x, y := core(xs, 4, 8).with(0, -1.5*zero, 1.5*zero), core(ys, 4, 8).with(0)
	for i, r := range across {
		if r.OK {
			x = x.reach(r.Low/unit, r.High/unit, .5, 8)
		}
		if k := along[i]; k != nil && k.OK {
			y = y.reach(k.Low/unit, k.High/unit, .5, 8)
		}
	}
	sx, sy := equal(b, x.padded(.12, 10), y.padded(.12, 10))
	p := panel{b, sx, sy}
	most := 5
	for p.x.step(most) != p.y.step(most) && most < 9 {
		most++
	}
	var up []chart.Tick
	if flown {
		c.pointer(point{b.left + 10, b.top - 24}, 0, -1, 20, muted)
		c.text("further, "+t.in.Voice.Unit(analysis.Length), point{b.left + 28, b.top - 14}, smallSize, muted, fromLeft)
		up = p.y.ticks(most, signed)
	}
	c.ground(p, p.x.ticks(most, sided), up)
	c.text(t.in.Voice.Unit(analysis.Length)+" further left or right", point{b.left, b.bottom + 80}, smallSize, muted, fromLeft)
	o := p.at(0, 0)
	c.within(b, func() {
		c.sheet(fade(targetColour, .16), box{p.x.at(-zero), b.top, p.x.at(zero), b.bottom})
		c.line(pen{targetColour, 4, nil}, point{o.x, b.top}, point{o.x, b.bottom})
		for i, r := range across {
			at, colour := p.at(xs[i], ys[i]), setColour(r.Set)
			if r.OK {
				c.interval(pen{colour, 3, nil}, p.x.at(r.Low/unit), p.x.at(r.High/unit), at.y)
			}
			if k := along[i]; k != nil && k.OK {
				low, high := p.y.at(k.Low/unit), p.y.at(k.High/unit)
				c.line(pen{colour, 3, nil}, point{at.x, low}, point{at.x, high})
				for _, end := range []float64{low, high} {
					c.line(pen{colour, 3, nil}, point{at.x - 11, end}, point{at.x + 11, end})
				}
			}
		}
		c.setMark(o, 0, true)
		for i, r := range across {
			at := p.at(xs[i], ys[i])
			c.setMark(at, r.Set, true)
			c.keep = append(c.keep, box{at.x - 16, at.y - 16, at.x + 16, at.y + 16})
		}
	})
	var strays []stray
	for i := range across {
		if !b.holds(p.at(xs[i], ys[i])) {
			strays = append(strays, stray{x: xs[i], y: ys[i]})
		}
	}
	c.strays(p, strays)
	c.keep = append(c.keep, box{o.x - 16, o.y - 16, o.x + 16, o.y + 16})
	c.place("baseline", leastSize, ink, b, about(o))
}

// find is the row of a number in a set, nil without a number to draw.
func (t *trialPicture) find(set int, n analysis.Number) *trial.Row {
	for i, r := range t.in.Result.Rows {
		if r.Set == set && r.Number == n && finite(r.Difference) {
			return &t.in.Result.Rows[i]
		}
	}
	return nil
}

// about are places for a word about a mark.
func about(p point) []point {
	return []point{{p.x, p.y + 36}, {p.x, p.y - 36}, {p.x - 80, p.y + 30}, {p.x + 80, p.y + 30}, {p.x - 84, p.y}, {p.x + 84, p.y}}
}

// change draws how the delivery moved in each set, path across and face up
// from the baseline in the middle: first what the face did, then what the path
// did about it; and the band on which the ball finishes where it did.
func (t *trialPicture) change(c *canvas, b box) {
	c.text("Face and path", point{650, b.top - 66}, headSize, ink, fromLeft)
	moves := t.moves()
	if len(moves) == 0 {
		c.empty(box{650, b.top - 20, b.right, b.bottom}, "Face and path were not both measured, so there is no change of delivery to show.")
		return
	}
	var faces, paths []float64
	for _, m := range moves {
		faces, paths = append(faces, m.face), append(paths, m.path)
	}
	x, y := core(paths, 4, 4).with(0).padded(.2, 5), core(faces, 4, 4).with(0).padded(.25, 5)
	sx, sy := equal(b, x, y)
	p := panel{b, sx, sy}
	most := 5
	for p.x.step(most) != p.y.step(most) && most < 9 {
		most++
	}
	face, path := handed(t.in.Voice.Hand)
	c.pointer(point{b.left + 10, b.top - 24}, 0, -1, 20, faceColour)
	c.text("face further right ("+face+"), °", point{b.left + 28, b.top - 14}, smallSize, faceColour, fromLeft)
	c.text("path further right ("+path+"), °", point{b.right - 28, b.bottom + 80}, smallSize, pathColour, fromRight)
	c.pointer(point{b.right - 10, b.bottom + 70}, 1, 0, 20, pathColour)
	c.ground(p, p.x.ticks(most, sided), p.y.ticks(most, sided))

	var same band
	wf, wp, known := t.worths(moves)
	if known {
		same = t.same(c, p, wf, wp)
	}
	c.within(b, func() {
		for _, m := range moves {
			legs := 7.0
			if len(moves) > 3 {
				legs = 4
			}
			corner, end := p.at(0, m.face), p.at(m.path, m.face)
			c.line(pen{faceColour, legs, nil}, p.at(0, 0), corner)
			c.line(pen{pathColour, legs, []float64{14, 6}}, corner, end)
		}
		c.setMark(p.at(0, 0), 0, true)
		for _, m := range moves {
			at := p.at(m.path, m.face)
			c.setMark(at, m.set, true)
			c.keep = append(c.keep, box{at.x - 16, at.y - 16, at.x + 16, at.y + 16})
		}
	})
	var strays []stray
	for _, m := range moves {
		if !b.holds(p.at(m.path, m.face)) {
			strays = append(strays, stray{x: m.path, y: m.face})
		}
	}
	c.strays(p, strays)
	o := p.at(0, 0)
	c.keep = append(c.keep, box{o.x - 16, o.y - 16, o.x + 16, o.y + 16})
	c.place("baseline", leastSize, ink, b, about(o))
	mesh := meshOf(b)
	for _, inside := range []func(box) bool{same.half, same.holds} {
		if c.placeIn(sameFinish, smallSize, targetText, b, mesh, inside) {
			break
		}
	}
}

// sameFinish says what the green band of a change of delivery is.
const sameFinish = "same finish"

// same draws the band of changes that leave the ball within the practical zero
// of where it finished, at wf and wp metres a degree.
func (t *trialPicture) same(c *canvas, p panel, wf, wp float64) (b band) {
	zero := 0.0
	for _, r := range t.in.Result.Rows {
		if r.Number == analysis.Lateral {
			zero = max(zero, r.Zero)
		}
	}
	if zero == 0 {
		return b
	}
	at := func(path, miss float64) point { return p.at(path, (miss-wp*path)/wf) }
	low, high := p.x.Min-1, p.x.Max+1
	b = band{[]point{at(low, zero), at(high, zero)}, []point{at(low, 0), at(high, 0)}, []point{at(low, -zero), at(high, -zero)}}
	c.within(p.box, func() {
		c.polygon(fade(targetColour, .16), none, 0, b.upper[0], b.upper[1], b.lower[1], b.lower[0])
		c.line(pen{targetColour, 4, nil}, b.middle...)
	})
	return b
}
