package season

import (
	"cmp"
	"math"
	"slices"
)

// Missed is the points of somebody in a challenge they were not in. It is less
// than any others are worth.
const Missed = -1

// A Row is one member's season.
type Row struct {
	Who     int     // position in what Table was given
	Points  []int   // of each challenge, Missed where they were not in it
	Counted []bool  // which of them count
	Total   float64 // their mean, as Mean has it, to a tenth
	Played  int     // challenges they were in
	Place   int     // the same for the same total
}

// Table orders the members of a season, the best first, from everybody's points
// in each challenge. Of each member's the best count; 0 counts them all. Of the
// same points the earlier ones count, and of the same totals the order given stays.
func Table(points [][]int, best int) []Row {
	rows := make([]Row, 0, len(points))
	for who, p := range points {
		rows = append(rows, rowOf(who, p, best))
	}
	slices.SortStableFunc(rows, func(a, b Row) int { return cmp.Compare(b.Total, a.Total) })
	Places(rows)
	return rows
}

// Begun is the points of the one challenge that everybody begins with.
const Begun = 25

// Mean is what n results are worth that add up to so many points, to a tenth: their
// mean with one of Begun among them, so that one win is no season, and whoever is
// not among the last gains by coming as often as they can. Of no results it is 0.
func Mean(sum, n int) float64 {
	if n == 0 {
		return 0
	}
	return math.Round(10*float64(sum+Begun)/float64(n+1)) / 10
}

func rowOf(who int, points []int, best int) Row {
	r := Row{Who: who, Points: points, Counted: make([]bool, len(points))}
	order := make([]int, 0, len(points))
	for i, p := range points {
		if p != Missed {
			order = append(order, i)
		}
	}
	r.Played = len(order)
	sum, n := 0, 0
	slices.SortStableFunc(order, func(i, j int) int { return cmp.Compare(points[j], points[i]) })
	for k, i := range order {
		if best > 0 && k == best {
			break
		}
		r.Counted[i] = true
		sum, n = sum+points[i], n+1
	}
	r.Total = Mean(sum, n)
	return r
}

// Places numbers rows that are in order, as those of a class are once the
// others are left out.
func Places(rows []Row) {
	for i := range rows {
		rows[i].Place = i + 1
		if i > 0 && rows[i].Total == rows[i-1].Total {
			rows[i].Place = rows[i-1].Place
		}
	}
}
