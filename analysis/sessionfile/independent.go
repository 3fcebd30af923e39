package sessionfile

import (
	"math"
	"slices"

	"rangepost/analysis"
	"rangepost/analysis/impact"
)

// What a device works out of two readings it gives as a third. It bears no
// witness: where one of the two is wrong, so is it.
var workedOut = []struct {
	n      analysis.Number
	of     []analysis.Number
	by     func(x *ballRow) float64 // what it should be
	within float64                  // what rounding leaves, SI, or a share of it
	share  bool
}{
	{analysis.FaceToPath, []analysis.Number{analysis.Face, analysis.Path},
		func(x *ballRow) float64 { return x[analysis.Face] - x[analysis.Path] }, 0.35 * degree, false},
	{analysis.Smash, []analysis.Number{analysis.BallSpeed, analysis.ClubSpeed},
		func(x *ballRow) float64 { return x[analysis.BallSpeed] / x[analysis.ClubSpeed] }, 0.03, true},
	{analysis.SpinLoft, []analysis.Number{analysis.DynamicLoft, analysis.Attack, analysis.Face, analysis.Path},
		spinLoftOf, 0.5 * degree, false},
	{analysis.Total, []analysis.Number{analysis.Carry},
		func(x *ballRow) float64 { return 1.15 * x[analysis.Carry] }, 0.2, true},
	{analysis.LateralTotal, []analysis.Number{analysis.Lateral},
		func(x *ballRow) float64 { return 1.1 * x[analysis.Lateral] }, 0.3, true},
}

// spinLoftOf is the spin loft of a row, with face and path where it has them.
func spinLoftOf(x *ballRow) float64 {
	d := analysis.Delivery{DynamicLoft: x[analysis.DynamicLoft], Attack: x[analysis.Attack]}
	if x.has(analysis.Face, analysis.Path) {
		d.Face, d.Path = x[analysis.Face], x[analysis.Path]
	}
	return impact.SpinLoft(d)
}

func follows(x *ballRow, i int) bool {
	w := &workedOut[i]
	want := w.by(x)
	within := w.within
	if w.share {
		within *= math.Abs(want)
	}
	return math.Abs(x[w.n]-want) <= within
}

// independent takes the numbers out of a row that follow from others in it.
func (x *ballRow) independent() {
	whole := *x
	for i, w := range workedOut {
		if follows(&whole, i) {
			x[w.n] = math.NaN()
		}
	}
}

// withIt are number n and what was worked out of it.
func withIt(s analysis.Shot, n analysis.Number) []analysis.Number {
	x := rowOf(s)
	ns := []analysis.Number{n}
	for i, w := range workedOut {
		if slices.Contains(w.of, n) && follows(&x, i) {
			ns = append(ns, w.n)
		}
	}
	return ns
}
