package words

import (
	"fmt"
	"strings"

	"rangepost/analysis"
	"rangepost/analysis/tally"
)

// FlightName is a flight as its button has it: "left, curves right".
func FlightName(f tally.Flight) string {
	start := map[tally.Side]string{tally.Left: "Left", tally.Straight: "Straight", tally.Right: "Right"}[f.Start]
	switch f.Curve {
	case tally.Left:
		return start + ", curves left"
	case tally.Right:
		return start + ", curves right"
	}
	return start + ", no curve"
}

// FlightCall is what the trade calls a flight of this golfer: "push-draw".
func (v Voice) FlightCall(f tally.Flight) string {
	mirror := tally.Side(v.Hand.Mirror())
	start, curve := f.Start*mirror, f.Curve*mirror // right is away from the golfer
	starts := map[tally.Side]string{tally.Left: "pull", tally.Right: "push"}
	curves := map[tally.Side]string{tally.Left: "draw", tally.Right: "fade"}
	if start == curve { // curving further the same way
		curves = map[tally.Side]string{tally.Left: "hook", tally.Right: "slice"}
	}
	switch {
	case start == tally.Straight && curve == tally.Straight:
		return "straight"
	case start == tally.Straight:
		return curves[curve]
	case curve == tally.Straight:
		return starts[start]
	}
	return starts[start] + "-" + curves[curve]
}

// Tally says what flights counted by eye say of face and path, with the limits
// of each share, what they cannot say, and what to measure first.
func (v Voice) Tally(r tally.Result) []string {
	switch {
	case r.Balls == 0:
		return []string{"Press what each ball did: the side it started, then the way it curved. Nothing is measured here; this counts what you saw."}
	case r.Balls < 5:
		return []string{Count(r.Balls, "ball") + " counted: too few to tell. From about 10 on the flights begin to say something."}
	}
	lines := []string{
		fmt.Sprintf("%s by eye, most often: %s, %s (%s).", sentence(balls(r.Balls)), strings.ToLower(FlightName(r.Common)), v.FlightCall(r.Common), shareOf(r.Usual)),
		"The start: " + v.thirds(r.Start, startSide) + ".",
		"The curve goes away from the path: " + v.thirds(r.Curve, v.curveSide) + ".",
		v.faceLine(r),
		v.pathLine(r),
		"What only measuring tells: by how many degrees, " + openWhy(r) + "and whether a strike off the centre curved the ball instead.",
	}
	switch r.First {
	case tally.Face:
		lines = append(lines, "Measure first: the face angle.")
	case tally.Path:
		lines = append(lines, "Measure first: the club path.")
	}
	return append(lines, "(How starts and curves follow from face and path is common practice; counts by eye are kept apart from measured numbers.)")
}

// shareOf says a share: "12 of 20, 38 to 79 %".
func shareOf(s tally.Share) string {
	low, high := percentOutward(s.Low, s.High)
	return fmt.Sprintf("%d of %d, between %s and %s %%", s.N, s.Of, low, high)
}

// thirds says the largest of three shares: mostly where its limits say so, else
// that it may be luck.
func (v Voice) thirds(t tally.Thirds, name func(tally.Side) string) string {
	most := tally.Straight
	for _, s := range []tally.Side{tally.Left, tally.Right} {
		if t.Of(s).N > t.Of(most).N {
			most = s
		}
	}
	if side, ok := t.Mostly(); ok {
		return "mostly " + name(side) + " (" + shareOf(t.Of(side)) + ")"
	}
	return "most often " + name(most) + " (" + shareOf(t.Of(most)) + "), which may be luck"
}

// startSide says where balls started.
func startSide(s tally.Side) string {
	switch s {
	case tally.Left:
		return "left"
	case tally.Right:
		return "right"
	}
	return "on line"
}

// faceSide says where the face pointed, with the golfer's own word.
func (v Voice) faceSide(s tally.Side) string {
	switch s {
	case tally.Left:
		return "left of target, " + v.openOrClosed(s)
	case tally.Right:
		return "right of target, " + v.openOrClosed(s)
	}
	return "at the target"
}

// curveSide says where the face pointed against the path.
func (v Voice) curveSide(s tally.Side) string {
	switch s {
	case tally.Left:
		return "left, so the face was " + v.openOrClosed(s) + " to the path"
	case tally.Right:
		return "right, so the face was " + v.openOrClosed(s) + " to the path"
	}
	return "none, so face and path agreed"
}

func pathSide(s tally.Side) string {
	switch s {
	case tally.Left:
		return "to the left of target"
	case tally.Right:
		return "to the right of target"
	}
	return "at the target"
}

// openOrClosed is the golfer's own word for a face turned to a side.
func (v Voice) openOrClosed(s tally.Side) string {
	if (s == tally.Right) == (v.Hand == analysis.RightHanded) {
		return "open"
	}
	return "closed"
}

func (v Voice) faceLine(r tally.Result) string {
	if 2*r.Either > r.Balls {
		return "On which side of the target the face pointed cannot be known of " + most(r.Either, r.Balls) + "."
	}
	return "So the face: " + v.thirds(r.Face, v.faceSide) + unknown(r.Either) + "."
}

func (v Voice) pathLine(r tally.Result) string {
	if 2*r.Open > r.Balls {
		return "On which side of the target the path was cannot be known of " + most(r.Open, r.Balls) + "."
	}
	return "So the path: " + v.thirds(r.Path, pathSide) + unknown(r.Open) + "."
}

// most says more than half of some balls.
func most(n, of int) string {
	if n == of {
		return "any of them"
	}
	return fmt.Sprintf("%d of them, so it is left open", n)
}

// unknown says of how many balls a side cannot be known.
func unknown(n int) string {
	if n == 0 {
		return ""
	}
	return fmt.Sprintf("; of %s it cannot be known", balls(n))
}

// openWhy says which sides flights leave open, and when.
func openWhy(r tally.Result) string {
	text := ""
	if r.Either > 0 {
		text += "on which side of the target the face pointed when a ball curved back, "
	}
	if r.Open > 0 {
		text += "on which side of the target the path was when a ball curved further the way it started, "
	}
	return text
}

// TallyLine is one tally of several: "3 June 2026, 7-iron: 20 balls, started
// left 12, straight 5, right 3; curved left 2, not 4, right 14".
func TallyLine(when, club string, r tally.Result) string {
	return fmt.Sprintf("%s%s: %s; started left %d, straight %d, right %d; curved left %d, not %d, right %d.",
		when, club, balls(r.Balls), r.Start.Left.N, r.Start.Straight.N, r.Start.Right.N,
		r.Curve.Left.N, r.Curve.Straight.N, r.Curve.Right.N)
}
