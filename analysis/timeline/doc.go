// Package timeline follows a student's numbers over sessions: means with
// honest limits, the effect of lessons, drift, trend, and briefs kept or not.
//
// # Sessions, not balls
//
// The balls of one session are not independent: the same day, the same warm-up
// and the same alignment move them together. Every statement here rests on the
// model
//
//	session mean ~ N(mu, between + within/n)
//
// where between is the variance from session to session and within that of one
// ball in its session, pooled over sessions. Sixty balls of one evening weigh
// little more than twenty. A Welch test on the balls before and after a lesson
// finds effects that are not there; the test in this package has such a case.
//
// # Lesson
//
// Before and after are two means of that model, between told by restricted
// maximum likelihood and the limits of the difference by Knapp & Hartung
// (2003). It takes three sessions on either side. The side before starts at
// the lesson before, or reaches further back when that leaves fewer than three.
// A lesson booked after the worst session looks effective whatever it did,
// because the next session would have been nearer the mean anyway (Galton
// 1886); the result says when that is so.
//
// # Drift and trend
//
// Drift is an exponentially weighted chart (lambda 0.3, three sigma) of the
// sessions since the last lesson, which is meant to move the number. Its
// centre and spread come from the same sessions. The spread is told from
// successive sessions (von Neumann 1941, Ann. Math. Stat. 12:367), which a slow
// drift does not widen. It is out when the latest session leaves it outside: a
// number that came back has not drifted. Trend is Theil & Sen's slope with Mann &
// Kendall's test over all sessions.
package timeline
