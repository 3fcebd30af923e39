// Package months is test support: golfers simulated over months, by another hand
// than the model's, with the truth of them. It knows none of the product's
// statistics; what is said of a lesson, a drift or a brief is judged by what was
// put into the student.
//
// # A student
//
//	mean of a session = level + the day
//	a ball            = mean of its session + what is left of the ball before + its own
//
// The day is a normal of 0.8 deg, or a Student's t of 3 degrees of freedom of
// that standard deviation where days are heavy-tailed. A ball is 2.5 deg about
// its day, and the balls of a day may be a first-order autoregression. The level
// may walk 0.2 deg a session, improve on its own, shift and stay, and answer to
// lessons. All of these figures are the task's (common practice, no source).
//
// Positive is the bad side: golfers book a lesson when they are far on it, and a
// lesson that helps moves the number down.
package months
