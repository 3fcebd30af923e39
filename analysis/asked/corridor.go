package asked

import (
	"math"

	"rangepost/analysis/cause"
)

// A Delivered place is a face and a path, rad.
type Delivered struct{ Face, Path float64 }

// openCurve is how far either side of the usual curve a corridor is shown that
// asks for a start line alone, of the carry.
const openCurve = 0.08

// Corridor is the faces and paths that do a shot from a swing, as the corners of a
// quadrilateral in order: they start it between the one's edges and curve it
// between the other's. nil where the shot asks for neither, or no delivery does it.
func (w Want) Corridor(s cause.Swing) (corners []Delivered) {
	start, curve := w[Start], w[Curve]
	if !start.OK && !curve.OK || !s.OK {
		return nil
	}
	if !curve.OK {
		curve.Low, curve.High = s.Flight.Curve-openCurve*s.Flight.Carry, s.Flight.Curve+openCurve*s.Flight.Carry
	}
	for _, at := range [][2]float64{{start.Low, curve.Low}, {start.High, curve.Low}, {start.High, curve.High}, {start.Low, curve.High}} {
		goal := cause.Goal{Start: at[0], Curve: at[1], Apex: math.NaN(), Carry: math.NaN(), Lateral: math.NaN()}
		move, ok := s.Toward(goal)
		if !ok {
			return nil
		}
		corners = append(corners, Delivered{s.Usual.Face + move.Face, s.Usual.Path + move.Path})
	}
	return corners
}
