package cause

import (
	"math"

	"rangepost/analysis"
	"rangepost/analysis/ball"
	"rangepost/analysis/stat"
)

// strikeSide is the side of the face the balls were struck on. Measured, it is
// the measured side, when its limits keep to one. Unmeasured, a rounded face
// tells it: toward the toe it looks away from the golfer, so that the ball starts
// that way of what face and path give, and turns under it, so that the axis
// tilts the other way; toward the heel both the reverse. Both have to be seen,
// and in every measure of doubt: one alone may be wind, device or face.
func strikeSide(balls []struck, m *ball.Model, measured analysis.Estimate) Side {
	if measured.N > 0 {
		return sideOf(measured)
	}
	if m.Head.Bulge <= 0 || m.Head.Depth <= 0 {
		return SideUnknown
	}
	var start, axis []float64
	for _, b := range balls {
		if b.spun && b.started && b.inference == nil {
			start = append(start, m.Head.Hand.Mirror()*b.own.Direction)
			axis = append(axis, -m.Head.Hand.Mirror()*b.own.Axis)
		}
	}
	if len(start) < leastBalls {
		return SideUnknown
	}
	a, b := sideOf(stat.Mean(start)), sideOf(stat.Mean(axis))
	if a != b {
		return SideUnknown
	}
	return a
}

func sideOf(e analysis.Estimate) Side {
	if !e.Excludes(0) {
		return SideUnknown
	}
	return Side(math.Copysign(1, e.Mean))
}
