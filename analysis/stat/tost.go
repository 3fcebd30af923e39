package stat

import "gonum.org/v1/gonum/stat/distuv"

// Equivalence is two one-sided tests that a difference lies inside +-margin
// (Schuirmann 1987, J. Pharmacokin. Biopharm. 15:657; Lakens 2017, Soc.
// Psychol. Pers. Sci. 8:355). P is the larger of the two one-sided p values;
// P under 0.05 is the same as 90 % limits inside the margin.
type Equivalence struct {
	TLower, PLower float64 // against a difference at or under -margin
	TUpper, PUpper float64 // against a difference at or over +margin
	P              float64
}

// TOST runs the two one-sided tests on a comparison of means.
func TOST(t TTest, margin float64) Equivalence {
	d := distuv.StudentsT{Sigma: 1, Nu: t.DF}
	e := Equivalence{TLower: (t.Difference + margin) / t.SE, TUpper: (t.Difference - margin) / t.SE}
	e.PLower, e.PUpper = d.Survival(e.TLower), d.CDF(e.TUpper)
	e.P = max(e.PLower, e.PUpper)
	return e
}
