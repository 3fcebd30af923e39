// Package pattern says where the balls of a set finished: their centre and
// their scatter, always as two statements, and which of them are mishits.
package pattern

import (
	"rangepost/analysis"
	"rangepost/analysis/stat"
)

// A Point is where one ball landed: metres, x along the target line from the
// golfer, y to the right of it.
type Point struct {
	N     int // the shot's number
	X, Y  float64
	Aside analysis.Aside
}

// An Ellipse is a region on the ground. Angle is from the target line, in rad,
// positive to the right.
type Ellipse struct {
	X, Y         float64 // centre, m
	Major, Minor float64 // semi-axes, m
	Angle        float64
}

// Pattern is where the balls of a set finished.
type Pattern struct {
	Balls   int   // balls with a landing place, set aside or not
	Used    int   // of those, the ones the figures rest on
	Mishits []int // shot numbers flagged as not of this pattern
	Points  []Point

	// Streak is how far each ball resembles the one before; limits allow for it.
	Streak stat.Streak

	Lateral analysis.Estimate // m, right positive, used balls
	Carry   analysis.Estimate // m, used balls

	// Parts are the two patterns that the used balls are of, the one hit first
	// first; none when they are of one.
	Parts []Part

	// WithMishits are the same two with mishits counted in.
	WithMishits struct{ Lateral, Carry analysis.Estimate }

	Centre    *Ellipse // 95 % region of the centre (Hotelling), nil under 5 balls
	Ellipse80 *Ellipse // expected to hold 80 % of balls, nil under 5 balls
	Width80   float64  // width, m, across the target line that holds 80 % of balls; 0 unless Width80OK
	Width80OK bool

	Warnings []analysis.Warning
}

// A Part is one of two patterns hit in one set: its balls and where they finished.
type Part struct {
	analysis.Set
	Pattern
}
