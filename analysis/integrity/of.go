package integrity

import (
	"slices"
	"time"

	"rangepost/analysis"
)

// The warnings.
const (
	Missing    = "numbers-missing"     // Count shot numbers between the first and the last are not there
	StartsLate = "numbers-start-late"  // Count come before the first
	Repeated   = "numbers-repeated"    // Count rows have the number of another
	TimesBack  = "times-go-back"       // Count rows are earlier than the row before
	SideOff    = "side-not-of-flight"  // where Count balls finished across the line does not go with start, curve and spin
	CarryOff   = "carry-not-of-flight" // the same of how far they carried
	Alike      = "rows-alike"          // Count balls are others over again, a little changed
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
	add(Alike, len(Twins(s)))
	_, off := Flown(s)
	return append(all, off...)
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
		case Alike, SideOff, CarryOff, Otherwise:
			is = true
		}
		if is {
			odd = append(odd, w)
		}
	}
	return odd
}
