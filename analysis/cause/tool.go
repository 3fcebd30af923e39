package cause

import (
	"math"

	"rangepost/analysis"
)

// A Response is what a tool does to a delivery, rad, as a mean over trials.
type Response struct{ Face, Path float64 }

// change is a change of face and path, rad.
type change struct{ face, path float64 }

// response is what the tool does to this golfer's delivery: learned if there
// is anything to go by, what the trade expects if not.
func (c Config) response(t analysis.Tool) change {
	if r, ok := c.Responses[t]; ok {
		return change{r.Face, r.Path}
	}
	return change{t.Usual(analysis.Face, c.Hand), t.Usual(analysis.Path, c.Hand)}
}

// nearest is the tool whose response points most nearly the way the delivery
// has to go, in the golfer's own shot-to-shot spread; none when all point more
// than 45 degrees away from it. Of equals the first in the list is taken.
func nearest(need change, ff, fp, pp float64, c Config) analysis.Tool {
	inner := func(a, b change) float64 { // a' S^-1 b, times the determinant
		return pp*a.face*b.face - fp*(a.face*b.path+a.path*b.face) + ff*a.path*b.path
	}
	best, least := analysis.Tool(""), math.Sqrt2/2
	for _, t := range analysis.Tools() {
		r := c.response(t)
		size := math.Sqrt(inner(r, r) * inner(need, need))
		if !(size > 0) {
			continue
		}
		if cos := inner(r, need) / size; cos > least {
			best, least = t, cos
		}
	}
	return best
}
