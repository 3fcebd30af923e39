package integrity

import (
	"math"
	"slices"
	"time"

	gonum "gonum.org/v1/gonum/stat"

	"rangepost/analysis"
	"rangepost/analysis/flight"
	"rangepost/analysis/stat"
)

// The warnings.
const (
	Missing    = "numbers-missing"     // Count shot numbers between the first and the last are not there
	StartsLate = "numbers-start-late"  // Count come before the first
	Repeated   = "numbers-repeated"    // Count rows have the number of another
	TimesBack  = "times-go-back"       // Count rows are earlier than the row before
	SideOff    = "side-not-of-flight"  // where Count balls finished across the line does not go with start, curve and spin
	CarryOff   = "carry-not-of-flight" // the same of how far they carried
	Otherwise  = "decimals-otherwise"  // Count figures are written otherwise than the rest of their column
)

// Of is what a file tells of itself: what its rows say, and the balls it was
// read as. It is empty where nothing is odd.
func Of(w analysis.Written, s analysis.Session) (all []analysis.Warning) {
	add := func(code string, n int) {
		if n > 0 {
			all = append(all, analysis.Warning{Code: code, Count: n})
		}
	}
	missing, before, repeated := numbers(w.Numbers)
	add(Missing, missing)
	add(StartsLate, before)
	add(Repeated, repeated)
	add(TimesBack, back(w))
	add(Otherwise, w.Otherwise)
	return append(all, flown(s)...)
}

// numbers counts what is missing in shot numbers, what comes before the first,
// and what is there twice. Numbers that begin again, with another device or
// battery, are another run; in a file that runs from the newest shot back they
// are turned round.
func numbers(ns []int) (missing, before, repeated int) {
	ns = slices.DeleteFunc(slices.Clone(ns), func(n int) bool { return n == 0 })
	if len(ns) == 0 {
		return 0, 0, 0
	}
	seen := map[int]bool{}
	unique := true
	for _, n := range ns {
		unique = unique && !seen[n]
		seen[n] = true
	}
	switch {
	case unique:
		slices.Sort(ns)
	case falls(ns, func(a, b int) bool { return b < a }) > len(ns)/2:
		slices.Reverse(ns)
	}
	before = ns[0] - 1
	for i := 1; i < len(ns); i++ {
		switch step := ns[i] - ns[i-1]; {
		case step == 0:
			repeated++
		case step > 1:
			missing += step - 1
		}
	}
	return missing, before, repeated
}

// back counts the rows that are earlier than the one before, in the order of
// the shot numbers if each has its own.
func back(w analysis.Written) int {
	type row struct {
		n  int
		at time.Time
	}
	var rows []row
	seen := map[int]bool{}
	for i, at := range w.Times {
		r := row{0, at}
		if len(w.Numbers) == len(w.Times) {
			r.n = w.Numbers[i]
		}
		seen[r.n] = true
		if !at.IsZero() {
			rows = append(rows, r)
		}
	}
	if len(rows) > 1 && len(seen) == len(w.Times) {
		slices.SortStableFunc(rows, func(a, b row) int { return a.n - b.n })
	}
	n := falls(rows, func(a, b row) bool { return b.at.Before(a.at) })
	if len(seen) < len(w.Times) && n > len(rows)/2 { // from the newest back
		slices.Reverse(rows)
		n = falls(rows, func(a, b row) bool { return b.at.Before(a.at) })
	}
	return n
}

func falls[T any](all []T, lower func(a, b T) bool) (n int) {
	for i := 1; i < len(all); i++ {
		if lower(all[i-1], all[i]) {
			n++
		}
	}
	return n
}

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

// flown holds carry and finish against the flight of the launch, for all balls
// together: a single one that does not fit is the reader's to leave out.
func flown(s analysis.Session) (all []analysis.Warning) {
	model := flight.Of(s.Conditions)
	var far, across, sides []float64 // carries over the model's; finishes; the model's
	for _, shot := range s.Shots {
		if shot.Aside != analysis.Used || !whole(shot) {
			continue
		}
		launch, _ := shot.Launch()
		to := model.Fly(launch)
		if v, ok := shot.Value(analysis.Carry); ok && shot.Measured(analysis.Carry) && to.Carry > 10 && v > 0 {
			far = append(far, math.Log(v/to.Carry))
		}
		if v, ok := shot.Value(analysis.Lateral); ok && shot.Measured(analysis.Lateral) {
			across, sides = append(across, v), append(sides, to.Lateral)
		}
	}
	if off, ok := stat.Median(far); ok && len(far) >= leastFlown && math.Abs(off) > math.Log(mostOver) {
		all = append(all, analysis.Warning{Code: CarryOff, Count: len(far)})
	}
	if len(sides) < leastFlown {
		return all
	}
	a, b := stat.SampleOf(across), stat.SampleOf(sides)
	if math.Sqrt(b.Variance) < leastScatter {
		return all
	}
	wide := math.Sqrt(a.Variance / b.Variance)
	if wide > mostOver || wide < 1/mostOver || gonum.Correlation(across, sides, nil) < leastInStep {
		all = append(all, analysis.Warning{Code: SideOff, Count: len(sides)})
	}
	return all
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

// Doubtful are the warnings that somebody should look at before a session's
// balls count against others'. A device loses shots, counts from where another
// golfer stopped and has its clock set once; it does not lose a fifth of them,
// nor go back twice. Of a session with several clubs the first shots may be of
// another day's practice, and an export of one club skips the rest.
func Doubtful(all []analysis.Warning, s analysis.Session) (odd []analysis.Warning) {
	rows := len(s.Shots)
	clubs := map[analysis.Club]bool{}
	for _, shot := range s.Shots {
		clubs[shot.Club] = true
	}
	for _, w := range all {
		var is bool
		switch w.Code {
		case Missing:
			is = w.Count >= 3 && 5*w.Count > rows+w.Count
		case StartsLate:
			is = w.Count >= 3 && len(clubs) == 1
		case Repeated:
			is = 5*w.Count > rows
		case TimesBack:
			is = w.Count >= 2
		case SideOff, CarryOff, Otherwise:
			is = true
		}
		if is {
			odd = append(odd, w)
		}
	}
	return odd
}
