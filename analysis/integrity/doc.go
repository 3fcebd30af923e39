// Package integrity says what a session's file tells of itself: whether shot
// numbers are missing or come twice, times go back, figures hang together by
// the flight, and decimals are all written by one program.
//
// It catches gross error: rows that were taken out, a column in another unit or
// scale, balls put together from two sources. It cannot catch a file that was
// made with care, or rows taken out of a file without numbers, and most of what
// it finds has an honest cause: a device that lost shots, an export of one club,
// a clock that was set. So it never refuses, and what it gives are warnings;
// Doubtful picks those that somebody should look at before the balls count
// against others'.
package integrity
