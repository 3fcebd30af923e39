package integrity

import (
	"math"
	"slices"

	gonum "gonum.org/v1/gonum/stat"

	"rangepost/analysis"
	"rangepost/analysis/flight"
	"rangepost/analysis/stat"
)

// leastFlown is how many balls show that figures do not hang together.
const leastFlown = 6

// How far figures may be off what their flights give before they do not hang
// together. Balls, air, wind and devices are off by a quarter at most (the range
// ball of a cold day, thin air), the reader's own check says so from a fifth on;
// half as much again is a unit or a scale (our choice).
const (
	mostOver     = 1.6 // times as far, or as wide
	leastInStep  = 0.5 // correlation of where balls finished with where they should have
	leastScatter = 2.5 // m, of where they should have: less is the device's noise
)

// Flown holds carry and finish against the flight of the launch, for all balls
// together: a single one that does not fit is the reader's to leave out. Where they
// do not hang together it gives the warnings, and the session with the figures in
// question as the flights give them.
func Flown(s analysis.Session) (as analysis.Session, all []analysis.Warning) {
	model := flight.Of(s.Conditions)
	var far, across, sides []float64 // carries over the model's; finishes; the model's
	landed := map[int]flight.Landing{}
	for i, shot := range s.Shots {
		if shot.Aside != analysis.Used && shot.Aside != analysis.Mishit || !whole(shot) {
			continue
		}
		launch, _ := shot.Launch()
		to := model.Fly(launch)
		landed[i] = to
		if shot.Aside != analysis.Used {
			continue
		}
		if v, ok := shot.Value(analysis.Carry); ok && shot.Measured(analysis.Carry) && to.Carry > 10 && v > 0 {
			far = append(far, math.Log(v/to.Carry))
		}
		if v, ok := shot.Value(analysis.Lateral); ok && shot.Measured(analysis.Lateral) {
			across, sides = append(across, v), append(sides, to.Lateral)
		}
	}
	as = s
	as.Shots = slices.Clone(s.Shots)
	if off, ok := stat.Median(far); ok && len(far) >= leastFlown && math.Abs(off) > math.Log(mostOver) {
		all = append(all, analysis.Warning{Code: CarryOff, Count: len(far)})
		for i, to := range landed {
			as.Shots[i] = as.Shots[i].With(analysis.Carry, to.Carry)
		}
	}
	if apart(across, sides) {
		all = append(all, analysis.Warning{Code: SideOff, Count: len(sides)})
		for i, to := range landed {
			as.Shots[i] = as.Shots[i].With(analysis.Lateral, to.Lateral)
		}
	}
	return as, all
}

// apart reports whether finishes across the line are not those of the flights.
func apart(across, sides []float64) bool {
	if len(sides) < leastFlown {
		return false
	}
	a, b := stat.SampleOf(across), stat.SampleOf(sides)
	if math.Sqrt(b.Variance) < leastScatter {
		return false
	}
	wide := math.Sqrt(a.Variance / b.Variance)
	return wide > mostOver || wide < 1/mostOver || gonum.Correlation(across, sides, nil) < leastInStep
}

// whole reports whether all of a ball's launch was measured.
func whole(s analysis.Shot) bool {
	for _, n := range []analysis.Number{analysis.BallSpeed, analysis.LaunchAngle, analysis.Direction, analysis.Spin, analysis.SpinAxis} {
		if !s.Measured(n) {
			return false
		}
	}
	return true
}
