// Package plan is the trial that is planned before a ball is hit: which sets,
// how many balls of each, in which order; which balls of a file are which of the
// card's; and what they show so far, however often one looks.
//
// # The card
//
// A plan compares the usual setup with one or two others, in one club. Its balls
// are laid out in turns of a few balls of one set, a turn of every set in each
// block, in an order drawn by chance within the block and kept, so that warming
// up and tiring fall on all sets alike. One visit to the range hits whole blocks.
//
// # Which ball is which
//
// A file is taken for a course along the card: so many warm-up balls, a turn
// skipped or hit twice, stopped there. Every course whose count agrees with the
// file is weighed by how often such things happen, by the numbers of the balls
// and by the time between them. Match takes what is certain enough and offers the
// rest; where it is known what happened and not to which turn, only balls that
// are of the same set wherever it was find a place.
package plan
