// Package player makes up golfers whose true cause is known: a delivery with
// its own covariance and tails, a club and air that are not the standard
// model's, a device that errs, and a landing for every ball.
//
// It exists so that the analysis can be tried on sessions whose answer is
// known by the golfer's own counterfactual, never by the model under trial,
// and so that there is something to demonstrate with. Every number here is
// invented; sizes are middle-of-the-road (common practice, no source).
package player
