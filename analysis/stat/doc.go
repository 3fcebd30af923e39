// Package stat holds the small-sample statistics that gonum lacks. One file
// is one method; each file's comment gives the formula, what it presumes and
// where it is from.
//
// Sample variances divide by n-1. Too few values are answered with ok = false,
// never with 0 or NaN. No input is changed or kept.
package stat
