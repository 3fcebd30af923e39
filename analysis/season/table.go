package season

import (
	"cmp"
	"slices"
)

// Missed is the points of somebody in a challenge they were not in. It is less
// than any others are worth.
const Missed = -1

// A Row is one member's season.
type Row struct {
	Who     int    // position in what Table was given
	Points  []int  // of each challenge, Missed where they were not in it
	Counted []bool // which of them count
	Total   int    // of those
	Played  int    // challenges they were in
	Place   int    // the same for the same total
}

// Table orders the members of a season, the best first, from everybody's points
// in each challenge. Of each member's the best count; 0 counts them all. Of the
// same points the earlier ones count, and of the same totals the order given
// stays.
func Table(points [][]int, best int) []Row {
	rows := make([]Row, 0, len(points))
	for who, p := range points {
		rows = append(rows, rowOf(who, p, best))
	}
	slices.SortStableFunc(rows, func(a, b Row) int { return cmp.Compare(b.Total, a.Total) })
	Places(rows)
	return rows
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
	slices.SortStableFunc(order, func(i, j int) int { return cmp.Compare(points[j], points[i]) })
	for k, i := range order {
		if best > 0 && k == best {
			break
		}
		r.Counted[i] = true
		r.Total += points[i]
	}
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
