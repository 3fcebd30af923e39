package pictures

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"rangepost/analysis"
	"rangepost/analysis/pattern"
)

// strayed is a set of which some balls went left and others were topped, so
// that they leave the picture about one corner.
func strayed(seed uint64) PostInput {
	in := invent(made{balls: 24, face: -2.9, path: -.8, sdFace: 1.3, sdPath: 1.5, rest: .6, spread: 3, carry: 140, seed: 1})
	rng := rand.New(rand.NewPCG(seed, 1))
	for i := range 2 + rng.IntN(5) {
		ball := &in.Set.Shots[3+i]
		if i%2 == 0 {
			*ball = ball.With(analysis.Lateral, -22+8*rng.NormFloat64()).With(analysis.Carry, 35+5*rng.NormFloat64())
		} else {
			*ball = ball.With(analysis.Lateral, -45+8*rng.NormFloat64()).With(analysis.Carry, 122+5*rng.NormFloat64())
		}
		if rng.IntN(3) > 0 {
			ball.Aside = analysis.Mishit
		}
	}
	in.Pattern = pattern.Of(in.Set)
	return in
}

// What is said of a ball off the picture is read by itself, hides no mark, and
// is not nearer to another ball's mark than to that of one it is true of.
func TestStraysAreToldApart(t *testing.T) {
	said, off := 0, 0
	for seed := range uint64(100) {
		in := strayed(seed)
		c := canvasFor(t)
		drawPost(c, in)
		m := newGroundMap(in, layPost(canvasFor(t).title(in.Title, postLine(in))).pattern)
		// Where a mark has to be, by its own reckoning: on the panel, at the
		// edge the ball crossed, whole.
		const half = 18
		type mark struct {
			at   point
			says string
		}
		var marks []mark
		b := m.panel.box
		for _, ball := range in.Pattern.Points {
			p := m.at(ball.Y, ball.X)
			if b.holds(p) {
				continue
			}
			says := in.Voice.Distance(ball.X) + " carry"
			if p.x < b.left {
				says = in.Voice.Distance(-ball.Y) + " left"
			}
			if p.x > b.right {
				says = in.Voice.Distance(ball.Y) + " right"
			}
			at := point{min(max(p.x, b.left+half), b.right-half), min(max(p.y, b.top+half), b.bottom-half)}
			marks = append(marks, mark{at, says})
		}
		off += len(marks)
		for i, l := range c.labels {
			own, other := math.Inf(1), math.Inf(1)
			for _, k := range marks {
				dx := max(l.box.left-k.at.x, 0, k.at.x-l.box.right)
				dy := max(l.box.top-k.at.y, 0, k.at.y-l.box.bottom)
				if d := math.Hypot(dx, dy); k.says == l.text {
					own = min(own, d)
				} else {
					other = min(other, d)
				}
			}
			if math.IsInf(own, 1) {
				continue // says nothing of a stray
			}
			said++
			what := fmt.Sprintf("seed %d: %q", seed, l.text)
			if other < own-4 { // the box of a text is a few pixels larger than its letters
				t.Errorf("%s is %.0f px from its mark and %.0f from another's", what, own, other)
			}
			for _, k := range marks {
				if l.box.overlaps(box{k.at.x - half, k.at.y - half, k.at.x + half, k.at.y + half}) {
					t.Errorf("%s covers the mark of %q", what, k.says)
				}
			}
			for j, o := range c.labels {
				near := box{l.box.left - 14, l.box.top, l.box.right + 14, l.box.bottom}
				if j != i && near.overlaps(o.box) {
					t.Errorf("%s runs into %q", what, o.text)
				}
			}
		}
	}
	if share := float64(said) / float64(off); share < .9 {
		t.Errorf("%d of %d strays have their distance written, under nine in ten", said, off)
	} else {
		t.Logf("%d of %d strays have their distance written", said, off)
	}
}
