// Package visits is test support: students who hit the trials their coaches
// planned, files with the troubles that such files have, and coaches with what
// their tools truly do to their students; all of it simulated, with the truth.
//
// It was written by another hand than what it judges: without reading the
// packages that plan trials, place balls on a card, judge looks at it or pool
// what students' trials saw, nor any of the statistics. It imports package
// analysis alone, for its words.
//
// # Seeds
//
// Seeds 1 to 9 are for the developers to look at and tune by. Seeds from 10 on
// are held out: what is claimed is measured on them, and nobody looks at a case
// of theirs to mend the code by it. Coaches has many coaches to a seed, as Files
// has files, and Coach is one coach to a seed. The tests of this package use 1 to 9.
//
// # Where figures come from
//
// The project's reference notes have next to nothing on how golfers' deliveries
// scatter: the one study of many golfers (Betzler and others 2012) is there as a
// citation only, and no correlation of face and path is found at all. Used from
// the notes are that a ball starts 61-83 % of the way from path to face (Wood,
// Henrikson and Broadie 2018 [S]) and that shot patterns have longer tails than a
// normal (Ko 2012 [S]), which is why two golfers of three here are not normal.
// All other figures are the task's or, where it gives none, this hand's guess at
// what ranges see (common practice, no source).
//
// # A golfer
//
// A number of the delivery at ball i of a visit is
//
//	level + effect of the set + the visit + the turn + warming up + tiring + the ball
//
// where
//
//   - The visit is a normal of 0.8 deg for every angle; for speed and strike the
//     same part of a ball's scatter.
//   - The turn is a normal of 0 to 0.6 deg, likewise, drawn anew at every turn and
//     whatever else is set up for.
//   - Warming up is there in full at the first ball of a visit, up to 2 deg of face
//     and path and 1 deg of attack and loft, and gone evenly after 10-15 balls of
//     the visit, those that are of no turn counting too.
//   - Tiring is 0 at the first ball and in full at the last, evenly; up to 2 deg in
//     a drawn golfer. A judge who wants it as large as an effect sets Golfer.Tire.
//   - The ball is a first-order autoregression along the visit, of correlation 0 to
//     0.35, across turns; face 1.5-3 deg, path 1.5-3.5, attack 1-2, loft 1-2.5,
//     strike 5-10 mm each way, club speed 0.5-1.2 m/s; face and path correlate by
//     -0.3 to 0.3; what is new in each ball is normal, t of 5 degrees of freedom, or
//     skewed (gamma of shape 4). With a correlation the balls themselves are a
//     little nearer to a normal than that.
//   - 0 to 6 % of the balls are mishits: 15-25 mm off to toe or heel, or 12-20 mm thin
//     or fat, slower, with the face twisted. They come by chance alone, count as a
//     ball of their turn and are not hit again.
//
// One golfer in eight plays from the left. What the ball does follows by plain
// formulas of this package; the air is still. Devices measure without error
// beyond rounding, so a ball's scatter is the golfer's and the device's in one.
//
// # Effects
//
// An effect is a shift of the means or a factor of the scatter, the same at
// every ball of its set. Where face and path compensate, the path moves the same
// way as the face, so that the ball starts further out and curves back; how much
// of the face's part in where it finishes is so undone is an argument, and a
// quarter of it in a drawn effect: all of it would take two to five times as much
// path as face, which no golfer has.
//
// # Files
//
// Every trouble has its share (Trouble.Share); 57 % are intact. Files before the
// one in question are intact and known, apart from the first half of a visit that
// is in two files. Truth is what the golfer was doing: a turn hit twice is that
// turn both times, a ball more in a turn is of that turn, a ball of no turn is
// -1, and so is every ball of a file that is posted again. Warm-ups and balls after
// the end are set up for as usual; that makes them no part of the trial.
//
// Half of the golfers have shot numbers in their files, which in one visit of six
// do not begin at 1. Two thirds have times, to the second: 6-40 s between balls,
// 45-240 s more between turns for half of the golfers and now and then for
// anybody. The club is named, and rightly, but for one in five of those who warm
// up with another one: the device was not told. The balls do not say their set.
//
// Some troubles leave no mark in the file but where the balls went: of those that
// cancel most without times, and who happens to hit as many balls on another day
// as the card has. Case.Clues says what there is, Case.Silent that there is
// nothing. Nobody can place those rightly without asking of every file, so a judge
// counts them apart and says so.
//
// Not simulated: a visit that goes on where the one before stopped early, a file
// that holds another one's balls and more, rows out of order, mishits hit again.
//
// # Coaches
//
// A coach uses four to eight tools. What one does to a golfer is, by number,
//
//	mean of the tool + the golfer's own part + that trial's part
//
// with an sd from 0 to 2.5 deg of either part, face and path correlated by the
// tool's -0.3 to 0.5. With one coach in four golfers' own parts are t of 5 degrees
// of freedom. The mean is what the trade expects, give or take 1.2 deg (0.6 of a
// number of which it expects nothing), but for one tool in ten the opposite, and
// for fifteen in a hundred nothing of it.
//
// Trials are hit ball by ball: 8-30 as usual, 5-25 tried, normal about the trial's
// true effect. Differences and standard errors are those of the balls. Students
// have 0 to 6 trials, chosen as coaches do: by what the trade thinks of the need
// and by what looked best before, so tools that did well are tried more often. A
// need has nothing to do with what the tools do in that student's hands.
//
// Left-handers: everything given is in the frame of the target, positive to the
// right of it. A tool does to a left-hander the mirror image of what it does to a
// right-hander, face, path and face-to-path with the other sign, attack and loft
// as they are; a tool that goes by the target (Expected.ByTarget: aiming) does the
// same to both. Tool.Mean is a right-hander's. One student in twelve is
// left-handed.
package visits
