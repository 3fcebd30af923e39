// Package challenge scores a club contest on posted sessions and says who is
// really apart.
//
// # What counts
//
// The first N balls of the named club, in the order of the file, mishits
// included. The best of several is never a rule: the best of ten is worth 1.54
// standard deviations of luck (Harter 1961, Biometrika 48:151), so it pays
// scatter and free afternoons, not golf. Rows that are no ball (misreads,
// repeated rows) are passed over, at most one for every ten balls; a stretch
// with more of them is not entered.
//
// # Scores
//
// Every rule turns each ball into one mark, so that entries are compared by
// their marks' means:
//
//	nearest   distance to the target, m: the mean
//	narrow    width that holds 80 %, m
//	zone      in or out of a width and a depth: the share in
//	brief     in or out of the limits of a number: the share in
//	progress  distance to the target line: the gain on one's own past
//
// The limits of narrow are the jackknife's of log s2 (Miller 1968, Ann. Math.
// Stat. 39:567), which stand up to the heavy tails of shot patterns where
// chi-square limits do not; its marks are distances from the own median.
//
// # Standings
//
// Places follow the scores; scores that are the same as shown share a place.
// Apart is another question: two entries are when Welch's test of their marks
// (Fisher's for shares), adjusted for all pairs (Holm 1979), is under 5 %. From
// the pairs follows the interval of ranks each may truly hold (Goeman & Solari,
// and Mohamad, van Zwet & Goeman 2019, on ranks from pairwise tests [S]).
//
// Where balls resemble the ones before, they count for fewer: in the limits of a
// score by its own balls, in what is apart by the entries' all together
// (stat.Streak).
package challenge
