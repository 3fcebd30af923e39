package pictures

import (
	"math"

	"rangepost/analysis"
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

// change draws how the delivery moved in each set, path across and face up
// from the baseline in the middle: first what the face did, then what the path
// did about it; and the band on which the ball finishes where it did.
func (t *trialPicture) change(c *canvas, b box) {
	c.text("Face and path together", point{40, b.top - 70}, headSize, ink, fromLeft)
	moves := t.moves()
	if len(moves) == 0 {
		c.empty(box{40, b.top - 20, b.right, b.bottom}, "Face and path were not both measured, so there is no change of delivery to show.")
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

	var same []point
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
	c.place("baseline", leastSize, ink, b, []point{{o.x, o.y + 36}, {o.x, o.y - 36}, {o.x - 80, o.y + 30}, {o.x + 80, o.y + 30}})
	c.place("ball finishes the same", smallSize, targetText, b, same)
}

// same draws the band of changes that leave the ball within the practical zero
// of where it finished, at wf and wp metres a degree, and returns places for
// its word.
func (t *trialPicture) same(c *canvas, p panel, wf, wp float64) []point {
	zero := 0.0
	for _, r := range t.in.Result.Rows {
		if r.Number == analysis.Lateral {
			zero = max(zero, r.Zero)
		}
	}
	if zero == 0 {
		return nil
	}
	face := func(path, miss float64) float64 { return (miss - wp*path) / wf }
	at := func(path, miss float64) point { return p.at(path, face(path, miss)) }
	low, high := p.x.Min-1, p.x.Max+1
	c.within(p.box, func() {
		c.polygon(fade(targetColour, .16), none, 0, at(low, -zero), at(high, -zero), at(high, zero), at(low, zero))
		for _, z := range []float64{-zero, zero} {
			c.line(pen{targetColour, 3, nil}, at(low, z), at(high, z))
		}
	})
	var spots []point
	for _, z := range []float64{0, -1.6 * zero, 1.6 * zero} {
		for i := range 9 {
			spots = append(spots, at(p.x.Min+(float64(i)+.5)/9*(p.x.Max-p.x.Min), z))
		}
	}
	return spots
}
