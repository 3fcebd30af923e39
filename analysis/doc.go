// Package analysis holds the words every other package speaks: a shot and its
// numbers, a set, a session, a club, the golfer's hand, and what a club does at
// impact (Delivery) and a ball does just after it (Launch).
//
// # Units
//
// SI and radians, always. Nothing below the door (package sessionfile on the way
// in; packages words, pictures and report on the way out) knows yards, miles
// an hour or degrees. Spin is in radians a second.
//
// # Frame and signs
//
// x runs along the target line, y to the RIGHT of it as the golfer looks at
// the target, z up. Face, path and launch direction are positive to the right
// of the target, for every golfer: the hand changes words, never stored
// numbers. Face-to-path is face minus path. Attack is positive up. A positive
// spin axis tilts, and curves the ball, to the right. Strike offsets are
// positive toward the toe and up; they are the only numbers given in the
// golfer's own frame, so a mirror image leaves them alone.
//
// # Purity
//
// The packages below this one do no input or output, read no clock and log
// nothing. Where they draw random numbers they take a seeded *rand.Rand. They
// never change their inputs. What they are unsure of they return as data.
package analysis
