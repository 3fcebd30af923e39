package cause

import (
	"math"

	"rangepost/analysis"
	"rangepost/analysis/ball"
)

// corridor solves the model for the faces that put the ball on either edge of
// the target, at paths around the set's own and the square one. Speed, attack
// and loft are the set's means; the median of what the model leaves over is
// added, so that the band is where this golfer's balls find the target.
func corridor(balls []struck, m *ball.Model, typical analysis.Delivery, own ball.Departure, half float64) Corridor {
	rest := median(balls, func(b struck) float64 { return b.lateral - m.Land(b.delivery, b.own).Lateral })
	at := func(face, path float64) float64 {
		d := typical
		d.Face, d.Path = face, path
		return m.Land(d, own).Lateral + rest
	}
	low, high := 0.0, 0.0
	for _, b := range balls {
		low, high = min(low, b.delivery.Path), max(high, b.delivery.Path)
	}
	// As far beyond the balls as a panel with one scale both ways shows.
	const margin, steps = 8 * analysis.Degree, 24
	low, high = low-margin, high+margin
	var c Corridor
	for i := range steps + 1 {
		path := low + (high-low)*float64(i)/steps
		left, okLeft := faceFor(at, path, -half)
		right, okRight := faceFor(at, path, half)
		if okLeft && okRight && left < right {
			c.Edges = append(c.Edges, CorridorEdge{Path: path, FaceLow: left, FaceHigh: right})
		}
	}
	c.OK = len(c.Edges) >= 2
	return c
}

// faceFor finds the face that lands a ball of this path at a lateral, by the
// secant method; the lateral is close to a straight line in the face. ok is
// false when there is none within 25 degrees.
func faceFor(at func(face, path float64) float64, path, lateral float64) (face float64, ok bool) {
	const most, near = 25 * analysis.Degree, 0.01 // m
	miss := func(face float64) float64 { return at(face, path) - lateral }
	b := path + math.Copysign(2*analysis.Degree, -miss(path))
	return secant(miss, path, b, near, most)
}
