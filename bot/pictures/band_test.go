package pictures

import (
	"context"
	"math"
	"testing"

	"rangepost/analysis"
	"rangepost/analysis/cause"
	"rangepost/analysis/timeline"
)

// What the band of a delivery is called stands inside it, told by the angles
// that the corners of its box stand for, and on no ball; where there is no such
// place the foot says what the colour is. The same goes for the brief.
func TestBandIsNamedInsideAndOffTheBalls(t *testing.T) {
	named, briefs := 0, 0
	for seed := range uint64(60) {
		half := 3 + float64(seed%5)*2 // m
		in := invent(made{balls: 8 + int(seed), face: -2 + .1*float64(seed), path: 3 - .1*float64(seed), sdFace: 1.3, sdPath: 1.5, spread: 2, carry: 140, seed: seed})
		for i := range in.Cause.Corridor.Edges {
			e := &in.Cause.Corridor.Edges[i]
			mid := (e.FaceLow + e.FaceHigh) / 2
			e.FaceLow, e.FaceHigh = mid-half/faceWorth*analysis.Degree, mid+half/faceWorth*analysis.Degree
		}
		low, high := -2*analysis.Degree, 1.5*analysis.Degree
		in.Brief = &timeline.Kept{Brief: analysis.Brief{Number: []analysis.Number{analysis.Face, analysis.Path, analysis.FaceToPath}[seed%3], Low: &low, High: &high}, Inside: 3, Of: 9}
		c := canvasFor(t)
		drawPost(c, in)
		p := deliveryPanel(layPost(canvasFor(t).title(in.Title, postLine(in))).delivery, in.Cause)
		// angles are the path and the face that a place on the panel stands for.
		angles := func(x, y float64) (path, face float64) {
			path = (p.x.Min + (x-p.left)/p.width()*(p.x.Max-p.x.Min)) * analysis.Degree
			return path, (p.y.Min + (p.bottom-y)/p.height()*(p.y.Max-p.y.Min)) * analysis.Degree
		}
		for _, l := range c.labels {
			b := l.box
			if !p.holds(point{b.left, b.top}) || l.text != findsTarget && l.text != "brief" {
				continue
			}
			for _, s := range in.Cause.Balls {
				x, y := p.left+(s.Path/analysis.Degree-p.x.Min)/(p.x.Max-p.x.Min)*p.width(), p.bottom-(s.Face/analysis.Degree-p.y.Min)/(p.y.Max-p.y.Min)*p.height()
				if (box{b.left - 5, b.top - 5, b.right + 5, b.bottom + 5}).holds(point{x, y}) {
					t.Errorf("seed %d: %q covers ball %d", seed, l.text, s.N)
				}
			}
			for _, x := range []float64{b.left, b.right} {
				for _, y := range []float64{b.top, b.bottom} {
					path, face := angles(x, y)
					if l.text == "brief" {
						briefs++
						v := map[analysis.Number]float64{analysis.Face: face, analysis.Path: path, analysis.FaceToPath: face - path}[in.Brief.Brief.Number]
						if v < low || v > high {
							t.Errorf("seed %d: a corner of the brief's word stands at %.1f°, outside it", seed, v/analysis.Degree)
						}
						continue
					}
					named++
					if mid := faceToTarget(in.Cause.Corridor, path); math.Abs(face-mid) > half/faceWorth*analysis.Degree+.02*analysis.Degree {
						t.Errorf("seed %d: a corner of %q stands %.1f° off the middle of a band of %.1f°", seed, l.text, (face-mid)/analysis.Degree, 2*half/faceWorth)
					}
				}
			}
		}
		if !written(c, findsTarget) && !writtenPart(c, "Green: "+findsTarget) {
			t.Errorf("seed %d: nothing says what the band is", seed)
		}
	}
	if named < 4*12 || briefs < 4*20 {
		t.Errorf("%d bands and %d briefs of 60 are named where they are", named/4, briefs/4)
	}
}

// A trial begins with where the balls finished and with face and path; what
// moved comes next and the rest last, each number once, the sideways finish
// before face and path as in the sentences.
func TestTrialBeginsWithTheBall(t *testing.T) {
	for name, in := range trials() {
		p := newTrialPicture(in)
		if p.sets == 0 {
			continue
		}
		c, err := newCanvas(context.Background(), 1200, int(p.height()))
		if err != nil {
			t.Fatal(err)
		}
		p.draw(c)
		at := func(s string) float64 {
			for _, l := range c.labels {
				if l.text == s {
					return l.box.top
				}
			}
			return math.Inf(1)
		}
		parts := []string{"Where the balls finished", "What moved", "The rest"}
		if at(parts[0]) != at("Face and path") || math.IsInf(at(parts[0]), 1) {
			t.Errorf("%s: the ball and the map of face and path do not begin side by side", name)
		}
		for i := 1; i < len(parts); i++ {
			if y := at(parts[i]); y < at(parts[i-1]) && !math.IsInf(at(parts[i-1]), 1) {
				t.Errorf("%s: %q stands above %q", name, parts[i], parts[i-1])
			}
		}
		compared := map[analysis.Number]bool{}
		for _, r := range in.Result.Rows {
			compared[r.Number] = true
		}
		if len(p.drawn()) != len(compared) {
			t.Errorf("%s: %d numbers are drawn of %d compared", name, len(p.drawn()), len(compared))
		}
		for _, numbers := range [][]analysis.Number{p.moved, p.rest} {
			order := map[analysis.Number]int{}
			for i, n := range numbers {
				order[n] = i + 1
			}
			for _, pair := range [][2]analysis.Number{{analysis.Lateral, analysis.Face}, {analysis.Face, analysis.Path}} {
				if a, b := order[pair[0]], order[pair[1]]; a > 0 && b > 0 && a > b {
					t.Errorf("%s: %v comes before %v", name, pair[1], pair[0])
				}
			}
		}
		if !written(c, sameFinish) && !writtenPart(c, "Green: "+sameFinish) {
			t.Errorf("%s: nothing says what the band is", name)
		}
	}
}

// faceToTarget is the face that sends a ball of a path to the target, by the
// worths the fixture's balls are drawn with.
func faceToTarget(k cause.Corridor, path float64) float64 {
	a, b := k.Edges[0], k.Edges[len(k.Edges)-1]
	t := (path - a.Path) / (b.Path - a.Path)
	return (a.FaceLow+a.FaceHigh)/2*(1-t) + (b.FaceLow+b.FaceHigh)/2*t
}

// The arrow of what is needed ends where the balls would start for the target:
// on the line that the band has along its middle, for the face alone within a
// degree of what the miss asks for.
func TestNeededArrowEndsOnTheTargetLine(t *testing.T) {
	for seed := range uint64(20) {
		in := invent(made{balls: 30, face: -4 + .4*float64(seed), path: .2 * float64(seed%7), sdFace: .8, sdPath: .8, spread: .5, carry: 140, seed: seed})
		face, path, _ := meanDelivery(in.Cause)
		df, dp, ok := needed(in.Cause)
		if !ok {
			t.Fatalf("seed %d: nothing is needed", seed)
		}
		if off := face + df - faceToTarget(in.Cause.Corridor, path+dp); math.Abs(off) > .5*analysis.Degree {
			t.Errorf("seed %d: the arrow ends %.1f° off the line to the target", seed, off/analysis.Degree)
		}
	}
}

// Things that stand in one picture have colours that are told apart. The least
// distance is about what two neighbours of the palette's source differ by.
func TestColoursMeanOneThing(t *testing.T) {
	distance := func(a, b [3]float64) float64 { return math.Hypot(math.Hypot(a[0]-b[0], a[1]-b[1]), a[2]-b[2]) }
	pictures := map[string]map[string][3]float64{
		"post":     {"face": rgb(faceColour), "path": rgb(pathColour), "target": rgb(targetColour), "brief": rgb(briefColour), "ball": rgb(ink)},
		"trial":    {"face": rgb(faceColour), "path": rgb(pathColour), "target": rgb(targetColour)},
		"timeline": {"brief": rgb(briefColour)},
	}
	for i := range setColours {
		name := "set " + string(rune('0'+i))
		pictures["trial"][name], pictures["timeline"][name] = rgb(setColour(i)), rgb(setColour(i))
	}
	for picture, things := range pictures {
		for a, x := range things {
			for b, y := range things {
				if d := distance(x, y); a < b && d < 60 {
					t.Errorf("%s: %s and %s differ by %.0f of 441", picture, a, b, d)
				}
			}
		}
	}
}
