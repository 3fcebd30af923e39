package cause

import (
	"math"

	"rangepost/analysis"
)

// A Response is what a tool does to a delivery, rad, as a mean over trials.
type Response struct{ Face, Path float64 }

// change is a change of face and path, rad.
type change struct{ face, path float64 }

// tools in the order they are tried; the first of equals is taken.
var tools = []Tool{StrongerGrip, WeakerGrip, AimLeft, AimRight, BallForward, BallBack, HandleForward, HandleBack}

// prior is what a tool tends to do to a right-hander's face and path, in deg:
// common practice, no source. Only the direction is used. Handle changes loft.
var prior = map[Tool]Response{
	StrongerGrip: {Face: -2, Path: 0},
	WeakerGrip:   {Face: 2, Path: 0},
	AimLeft:      {Face: -2, Path: -2},
	AimRight:     {Face: 2, Path: 2},
	BallForward:  {Face: 0, Path: -1.5},
	BallBack:     {Face: 0, Path: 1.5},
}

// response is what the tool does to this golfer's delivery: learned if there
// is anything to go by, the trade's prior if not. Aim goes by the target, grip
// and ball position by the golfer's hand.
func (c Config) response(t Tool) change {
	if r, ok := c.Responses[t]; ok {
		return change{r.Face, r.Path}
	}
	r := prior[t]
	k := analysis.Degree
	if t != AimLeft && t != AimRight {
		k *= c.Hand.Mirror()
	}
	return change{k * r.Face, k * r.Path}
}

// nearest is the tool whose response points most nearly the way the delivery
// has to go, in the golfer's own shot-to-shot spread; none when all point more
// than 45 degrees away from it.
func nearest(need change, ff, fp, pp float64, c Config) Tool {
	inner := func(a, b change) float64 { // a' S^-1 b, times the determinant
		return pp*a.face*b.face - fp*(a.face*b.path+a.path*b.face) + ff*a.path*b.path
	}
	best, least := Tool(""), math.Sqrt2/2
	for _, t := range tools {
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
