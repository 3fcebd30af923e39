// Package pictures draws what an analysis found, for a phone: a post, a trial,
// a timeline, ordered bars and a tally, each as a PNG 1200 pixels wide that is
// still read at 360.
//
// A picture says its finding in the title, which the caller takes from package
// words, and then shows it. A thing has one colour and one shape in every
// picture (palette.go): the face is vermilion, the path blue, the target and
// what finds it green (in a trial, where the baseline's balls finished), a coach's
// brief orange, the ball and what is usual ink. No colour means two things in
// one picture, and none carries meaning alone: every mark differs in shape or
// carries its word.
//
// # Frame
//
// Patterns are seen from above with the target straight up; right on the
// picture is right of the target for every golfer. The golfer's hand changes
// words (open, closed, in-to-out), never which side a ball is drawn on.
//
// # Drawing
//
// go-chart gives the raster, the font, the axes and the grid; the layout is our
// own, because a panel whose box follows the width of its tick labels cannot
// keep equal scale both ways, nor stand in line with the panel below it.
//
// go-chart does not clip and cannot be interrupted: a line to a NaN or to a
// point far off the canvas keeps a core busy for ever. Every stroke therefore
// goes through canvas, which drops what is not finite, clips what is outside
// and stops when the context ends. At most as many pictures are drawn at once
// as there are cores.
//
// # Letters
//
// The font is go-chart's own (Roboto Medium): Latin, Greek and Cyrillic. A
// letter it lacks is shown by its base letter where Unicode has one and as a
// replacement mark where it has not, so a label in another script is seen to be
// missing rather than silently left out. Replies carry labels as text, whole.
package pictures
