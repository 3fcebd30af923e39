// Package challenge scores a club contest on posted sessions and says who is
// really apart.
//
// # What counts
//
// The first N balls of the named club that are posted since the opening, in the
// order of the files and over as many of them as it takes, mishits included. The
// best of several is never a rule: the best of ten is worth 1.54 standard
// deviations of luck (Harter 1961, Biometrika 48:151), so it pays scatter and
// free afternoons, not golf. Nor does it pay to stop early, to leave a figure
// out, to delete a row or to write a good one twice: see Take. Rows that are the
// same in all they hold are passed over.
//
// What a rule cannot see is a session that is never posted. The best of five
// has the best score about five times as often as it should; a win is shared by
// whoever is not apart, though, so that it wins no more than its share
// (TestGamesDoNotWin), and a challenge may ask players to say beforehand which
// session counts. Two of its balls may be drawn as they do, to be hit as half shots: a
// session of before cannot hold them, and minutes to post it in leave no time for five
// (draw.go).
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
//	on request  did the shot it was asked for, or not: the share that did
//	progress  distance from the balls' own middle line: the gain on one's past
//
// Narrow and progress are rules of dispersion: they hold balls to a floor and
// count them by their angle (floor.go).
//
// The limits of narrow are the jackknife's of log s2 (Miller 1968, Ann. Math.
// Stat. 39:567), which stand up to the heavy tails of shot patterns where
// chi-square limits do not; its marks are distances from the own median.
//
// Area, the smallest ellipse wherever it lies, is no rule: whoever is narrow and
// uneven in length has the same as whoever is the reverse, so that nobody learns
// from it what to work on. Nearest and zone ask for both, with a target.
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
