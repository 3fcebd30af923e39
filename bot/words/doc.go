// Package words turns analysis results into sentences for people: how far, why,
// how sure, and what next.
//
// # How the sentences sound
//
// Short and plain, as a coach would say it. Every number carries its unit and
// no more digits than its limits support: a length is a whole yard or metre, an
// angle a tenth of a degree when its 95 % limits lie within a degree of it and
// a whole degree otherwise. Limits are rounded outward, so the range said is
// never narrower than the one computed.
//
// Left and right are as the golfer looks at the target, for either hand. Open
// and closed go by the golfer's own hand: for a right-handed golfer a face
// turned right of the path is open, for a left-handed one a face turned left.
//
// A sentence speaks of the delivery (face, path, attack, loft, speed, strike)
// and of setup tools, and of nothing else: no sentence names a body position.
// A label, a note or a name is somebody else's text. It is echoed in quotation
// marks and escaped, and never adopted.
//
// Trade words stand bare in the templates; [Plainly] puts the plain word beside
// the first of each in a whole reply.
package words
