// Package trial compares labelled sets with a baseline set: did the change
// move the club, or only the picture?
//
// # Moved, held, cannot tell
//
// For each number of each set the difference from the baseline is tested by
// the Behrens-Fisher distribution (stat.BehrensFisher), and the p values are
// adjusted by Holm's step-down over all sets and numbers: a trial in which
// nothing differs says "moved" anywhere in at most 5 % of trials. Welch's test
// would not do: at two balls against thirty, and the significance that one row
// of many is left with, it calls a difference that is not there dozens of times
// too often.
//
// A number held when its 90 % limits lie inside the practical zero, the
// smallest difference a golfer would care about: two one-sided tests, each at
// 5 %. A row can be both (moved a little) or neither (cannot tell).
//
// The simultaneous limits are Bonferroni's, of level 1 - 0.05/rows. Where
// Holm's step-down calls a row moved that these limits leave at zero, the
// limit on that side is zero itself (Strassburger & Bretz 2008, Stat. Med.
// 27:4914).
//
// # Compensation
//
// With what a degree of face and of path is worth at this speed and loft, the
// difference of each is turned into metres. The fraction cancelled is a ratio
// of two differences that were told from the same balls, so its limits are
// Fieller's (1954, J. R. Stat. Soc. B 16:175), on average over what the two may be
// worth against each other, and wider where balls came in streaks.
//
// # Response
//
// What a setup tool does to this student's delivery is learned over trials by
// a normal-normal update from a prior: what the trade expects, and wide, or what
// is to be expected of one more of their coach's students.
//
// # Over golfers
//
// That is a model of two spreads (Pool): how an effect differs from trial to trial
// of one golfer, and from golfer to golfer. Neither is taken for known: limits,
// and those of a golfer more, are averaged over what it may be (stat.SpreadOf). On
// coaches of another hand (analysis/visits, seed 19, 5 to 40 students) the
// latter hold the truth in 95.5 %, and the tool to go by is within a degree of the
// best in 70 % of students; by their own trials alone in 63 %, by what the trade
// expects in 54 % [C].
package trial
