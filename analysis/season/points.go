package season

import "math"

// A Result is an entry's score in one challenge, turned so that more is better,
// with its limits.
type Result struct {
	Value, Low, High float64 // equal where no limits could be told
}

// Less is a result of which less is better, turned.
func (r Result) Less() Result { return Result{-r.Value, -r.High, -r.Low} }

// halvedWithin is the share of their limits, of both together, within which two
// results are halved. Half the width of 95 % limits is about two standard errors, so
// a fifth of it is about 0.4: luck alone keeps three in ten pairs of equals closer
// together than that [C].
const halvedWithin = 1.0 / 5

// Points are what the results of one challenge are worth, in the order given: the
// share of the others that was beaten, of 100. Fewer than two results
// are worth nothing, since nobody was beaten.
func Points(results []Result) []int {
	points := make([]int, len(results))
	others := float64(len(results) - 1)
	if others < 1 {
		return points
	}
	for i, r := range results {
		won := 0.0
		for j, o := range results {
			if j != i {
				won += r.against(o)
			}
		}
		points[i] = int(math.Round(100 * won / others))
	}
	return points
}

// against is 1 for a result that beats another, 0 for one that loses to it and
// a half for one that is not apart from it.
func (r Result) against(o Result) float64 {
	within := halvedWithin * math.Hypot(r.half(), o.half())
	switch d := r.Value - o.Value; {
	case math.Abs(d) <= within:
		return 0.5
	case d > 0:
		return 1
	}
	return 0
}

// half is half the width of a result's limits.
func (r Result) half() float64 { return (r.High - r.Low) / 2 }
