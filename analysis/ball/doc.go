// Package ball answers a delivery with a landing: package impact up to the
// launch, package flight from there on. The two do not know each other; what
// needs both lives here, under the noun they share.
//
// Where a launch was measured as well as a delivery, the measured numbers
// replace the model's own. What they differ by is the ball's Departure, and it
// goes along when the delivery is changed on paper: "the same ball with a
// square face" keeps its own strike, spin and bounce off the face.
package ball
