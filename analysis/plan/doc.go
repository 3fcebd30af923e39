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
// How many balls that takes follows from this golfer's own scatter, and is worked
// out for the judge below: the card shows the change that matters four times in
// five. A trial of one look would want about three fifths of it (Plan.FixedASet); a
// change of twice what matters is found with fewer than that.
//
// # The judge
//
// What is compared is the mean of a set's turn less that of the usual set's in the
// same block, block by block. Each number of each set has an evidence that stays
// honest however often one looks (stat.AnytimeT), at its share of 5 %: half for the
// number of interest, the rest for all others together. So "moved" is said anywhere
// falsely in at most 5 % of plans. Held is said of the number of interest when two
// one-sided evidences, each against the difference being as large as matters to one
// side, have both been enough; falsely in at most 5 %. The mixtures are set by the
// plan before a ball is hit.
//
// A plan ends when every set that is tried has its answer, or when the balls left
// bring one with less than a chance in twenty. It is gone through block by block,
// and the first end counts.
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
