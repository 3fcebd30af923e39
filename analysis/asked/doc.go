// Package asked reads what shot a golfer was asked for, says of every ball
// whether it did that shot, and of the club how much of the change that was asked
// of it the golfer made.
//
// # A shot
//
// A shot is asked for by up to four parts of a ball's flight: where it starts,
// how it curves, how high and how far it flies. Each has a value to work back to
// and a width that counts as done (want.go). A draw is a left-hander's for a
// left-hander. A shape without a start is meant to come back to the target: it
// starts as far to the other side as it curves, give or take the target's own
// half-width. What is not asked for may be what it comes to.
//
//	text  = piece { ("," | ";" | "and" | line end) piece }
//	piece = shape [amount] | amount shape
//	      | "start" [amount] side | "curve" amount side
//	      | "high" | "low" | "apex" amount | "short" | "carry" amount
//	shape = "straight" | "draw" | "fade" | "hook" | "slice"
//
// in any of the languages that files are read in (words.go). A figure without a
// unit is degrees of a start line, else the golfer's own unit of distance.
//
// A label is a shot only where every word of it is known to be one: "low handle"
// and "draw drill" are labels like any other. One that may be either is asked
// about (Ambiguous).
//
// # Done
//
// A ball did the shot when every part that was asked for was inside its width.
// Its flight is as it was measured, else as the model flies it, and never quite
// known: the probability that it was inside is what it is judged by, and a ball
// too near to an edge is said to be too close to call. Limits of a share are
// Wilson's for the balls these count for.
//
// Why not is the part that failed most. It is put down to the club where the mean
// of the balls is outside the width with a probability of 0.8, to their scatter
// where it is inside with as much, and is too few balls otherwise.
//
// # Control
//
// For each number of the delivery, the slope of what the sets had in the mean over
// what their shots ask for, worked back from one swing: 1 is a golfer who makes all
// of the change, 0 one who makes none. Limits hold the scatter of the balls and
// what the model leaves open of the change. A number of which little was asked has
// no slope; it may have moved along, and that is said against the usual set.
package asked
