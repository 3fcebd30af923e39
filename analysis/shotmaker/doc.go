// Package shotmaker is test support: golfers who play shots on request in the
// panel's worlds, written without the product's code. A Case hands over a session
// as a device's file would, its sets labelled as a student types what was asked
// for, and the Truth of it: what each ball did, what each shot needed of the club
// in that world, and what the golfer made of that in the long run.
//
// How wide a shot is, the product says itself: a judge gives the product's widths
// as a Want and asks whether the world's flights agree.
//
// # A golfer
//
// The plain straight delivery that a world needs for no curve and no side is found
// with the world's own flights, and so is the one of every asked shot: start by
// the face, curve by the path, height by loft, carry by speed, four equations for
// as many numbers, in the session's mean wind. A golfer who goes down for a low
// ball and up for a high one (half of them) has that much attack asked as well.
// Between the two lies the change that is asked. A golfer makes it times a gain
// for each number, adds cross-talk (one number's asked change moves another), and
// carries their own habit through every shot alike:
//
//	made = straight + habit + gain x asked + cross-talk x asked
//
// Balls scatter about that as the world's golfer does. Some take a draw for a
// fade, or start on the other side: what they were asked stays what the label
// says, so that their gain comes out negative.
//
// # Signs
//
// As in package analysis: right of target positive for every golfer, whichever
// hand. In a world whose device is askew the truth is about the true line.
// Sizes of shots, habits, gains and cross-talk are common practice, no source.
package shotmaker
