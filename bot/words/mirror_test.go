package words

import (
	"regexp"
	"testing"

	"rangepost/analysis"
	"rangepost/analysis/cause"
	"rangepost/analysis/pattern"
)

var leftOrRight = regexp.MustCompile(`(?i)\b(left|right)\b`)

// bothSides is a range that reaches over the middle; its left end is said
// first.
var bothSides = regexp.MustCompile(`([\d.,]+\S*( yards?)?)( further)? right (and|to) ([\d.,]+\S*( yards?)?)( further)? left`)

// swapped is text as its mirror image says it.
func swapped(text string) string {
	text = leftOrRight.ReplaceAllStringFunc(text, func(w string) string {
		return map[string]string{"left": "right", "right": "left", "Left": "Right", "Right": "Left"}[w]
	})
	return bothSides.ReplaceAllString(text, "$5$7 left $4 $1$3 right")
}

func mirroredEstimate(e analysis.Estimate) analysis.Estimate {
	e.Mean, e.Low, e.High = -e.Mean, -e.High, -e.Low
	return e
}

// mirrored are a pattern and a cause as a left-handed golfer would have them.
func mirrored(p pattern.Pattern, r cause.Result) (pattern.Pattern, cause.Result) {
	p.Lateral, p.WithMishits.Lateral = mirroredEstimate(p.Lateral), mirroredEstimate(p.WithMishits.Lateral)
	r.Miss, r.Face, r.Path, r.Rest = mirroredEstimate(r.Miss), mirroredEstimate(r.Face), mirroredEstimate(r.Path), mirroredEstimate(r.Rest)
	r.Strike = mirroredEstimate(r.Strike)
	r.RefFace, r.RefPath = -r.RefFace, -r.RefPath
	for _, n := range analysis.Numbers() {
		if n.Info().Sideways {
			r.Delivery[n] = mirroredEstimate(r.Delivery[n])
		}
	}
	edges := make([]cause.CorridorEdge, len(r.Corridor.Edges))
	for i, e := range r.Corridor.Edges {
		edges[len(edges)-1-i] = cause.CorridorEdge{Path: -e.Path, FaceLow: -e.FaceHigh, FaceHigh: -e.FaceLow}
	}
	r.Corridor.Edges = edges
	w := &r.WorkBack
	w.FaceBy, w.PathBy = -w.FaceBy, -w.PathBy
	w.FaceAlone, w.PathAlone = mirroredEstimate(w.FaceAlone), mirroredEstimate(w.PathAlone)
	switch w.Tool {
	case analysis.AimLeft:
		w.Tool = analysis.AimRight
	case analysis.AimRight:
		w.Tool = analysis.AimLeft
	}
	return p, r
}

// TestMirror: a left-handed golfer's mirror image of a right-handed one's set
// is told the same with left and right changed over, and nothing else: open and
// closed, toe and heel, go by the golfer.
func TestMirror(t *testing.T) {
	right, left := Voice{}, Voice{Hand: analysis.LeftHanded}
	causes(analysis.RightHanded, func(p pattern.Pattern, r cause.Result) {
		if r.Miss.Mean == 0 {
			return // has no side to mirror
		}
		mp, mr := mirrored(p, r)
		shots := shotsOf(p.Used)
		for _, c := range []struct{ name, got, want string }{
			{"Cause", left.Cause("", mp, mr), right.Cause("", p, r)},
			{"Title", left.Title(mp, mr), right.Title(p, r)},
			{"AltPost", left.AltPost("", mp, mr), right.AltPost("", p, r)},
			{"Split", left.Split(mr), right.Split(r)},
			{"WorkBack", left.WorkBack(mr), right.WorkBack(r)},
			{"Needs", left.Needs(mr), right.Needs(r)},
			{"SetAside", left.SetAside(shots, mp), right.SetAside(shots, p)},
		} {
			if c.got != swapped(c.want) {
				t.Fatalf("%s (%s) mirrored:\n%q\nwant\n%q", c.name, r.Verdict, c.got, swapped(c.want))
			}
		}
	})
}
