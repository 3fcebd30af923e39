package cause

import (
	"math"

	"rangepost/analysis"
)

// A Response is what a tool is expected to do to a delivery, rad, and what that
// rests on.
type Response struct {
	Face, Path float64
	Grounds    analysis.Grounds
}

// change is a change of face and path, rad.
type change struct{ face, path float64 }

func (c change) plus(o change) change { return change{c.face + o.face, c.path + o.path} }

func (c change) times(by float64) change { return change{c.face * by, c.path * by} }

// ResponseOf is what the tool does to this golfer's delivery: learned if there
// is anything to go by, what the trade expects if not.
func (c Config) ResponseOf(t analysis.Tool) Response {
	if r, ok := c.Responses[t]; ok {
		return r
	}
	return Response{t.Usual(analysis.Face, c.Hand), t.Usual(analysis.Path, c.Hand), analysis.CommonPractice}
}

// A tool moves a number if it moves it by more than this, and a number is off if
// it is off by more (our choice).
const (
	moves   = 0.3 * analysis.Degree
	leastOn = 0.5 * analysis.Degree
)

// tool is the setup tool that follows from a verdict, and what part of the need
// it is known to do: it moves a number that has to move, takes part of the miss
// away, and moves no number off the target. "" when none does.
func (e evidence) tool(v Verdict, off, need change, miss float64) (best analysis.Tool, share float64) {
	gained := 0.0
	for _, t := range analysis.Tools() {
		response := e.config.ResponseOf(t)
		r := change{response.Face, response.Path}
		if !fits(v, r) || !toward(r.face, off.face) || !toward(r.path, off.path) {
			continue
		}
		if v == Aim {
			if part := -(r.face + r.path) / (off.face + off.path); part > gained {
				best, gained, share = t, part, part
			}
			continue
		}
		if part := -e.shift(r) / miss; part > gained && part > 0.05 {
			best, gained, share = t, part, part
			// Where one number has to move, the share is of that.
			switch {
			case need.path == 0 && need.face != 0:
				share = r.face / need.face
			case need.face == 0 && need.path != 0:
				share = r.path / need.path
			}
		}
	}
	return best, share
}

// fits reports whether a tool moves what a verdict names.
func fits(v Verdict, r change) bool {
	face, path := math.Abs(r.face) > moves, math.Abs(r.path) > moves
	switch v {
	case Face:
		return face
	case Path:
		return path
	case Aim:
		return face && path
	}
	return face || path
}

// toward reports whether a tool that moves a number by r leaves it no further
// off than it is.
func toward(r, off float64) bool {
	return math.Abs(r) <= moves || math.Abs(off) > leastOn && r*off < 0
}
