// Package shapes makes session files as devices and hands really make them,
// each with its truth, and scores what a reader made of them. It is for tests:
// it knows nothing of any reader, and its lists of words are its own.
//
// A shape is made from a seed and a place in the sequence, and always the
// same. [Shapes] makes files, [Pastes] tables pasted into a message, [Typed]
// balls typed by hand.
//
// # What is knowable
//
// A reader that asks what the file says is a nuisance, and one that guesses
// what it does not say is worse. So each column's truth says of three facts
// whether they are in the file.
//
// Which number a column is, is knowable
//   - if the heading has words, however short or misspelt (tiers Ordinary and
//     Unseen);
//   - without words, if it is the spin, in the thousands as nothing else is, or
//     a ball speed, club speed or smash factor of a file with all three, where
//     one is the quotient of the other two.
//
// Its unit is knowable
//   - if it is written: in the heading, in the row below, in the values or in a
//     line above, of this column or of another of its group. The groups are the
//     speeds; the lengths in the unit of the carry; the height; lengths in
//     another unit than the carry; the strike;
//   - if nothing else is in use: degrees, revolutions a minute, seconds;
//   - if figures decide. All pairs of a unit of length (yd, m, ft) and of speed
//     (mph, m/s, km/h) are tried. A pair is out of reach if the median ball of
//     the club hit most would need a driver's head speed outside 25 to 58 m/s,
//     or would carry less than 0.86 or more than 1.04 of what a new ball does in
//     still air (0.12 more on either side if launch or spin is not given, 0.4 to
//     1.6 if the club is not either). Where all pairs in reach agree on a unit,
//     it is knowable. So yards and metres are told apart in half of the files with a
//     new ball and yards or a range ball and metres, and hardly ever in others: a
//     range ball's yards are a new ball's metres;
//   - a height in feet always; another, if it is in the carry's unit and that
//     is knowable;
//   - a strike in millimetres, if its median is over 2.5 mm.
//
// Which way its positive figures point is knowable
//   - if the values have a letter or a word for it, or the heading says it;
//   - if the column is tied to one of which that holds. Two columns are tied if
//     golf ties them (start and lateral, face and start, face to path and axis,
//     axis and lateral, face and lateral, lateral landed and at rest) and the
//     file shows it: at least 8 balls and a correlation of at least 0.6. Face,
//     path and face to path are tied by definition.
//
// Ties alone fix the sides up to a mirror only, and custom (positive is right)
// is no fact in the file: a group without a letter leaves one question open.
// Silence is no fault there as long as it guesses right, which by custom it
// mostly does (94 in 100 files). The golfer's hand is not in the file and is
// for the caller to hand over. A club that is written nowhere leaves one
// question open as well.
//
// The questions left open are in [Truth.Questions]; one that is asked beyond
// them is needless. [Score] tells the rest.
package shapes
