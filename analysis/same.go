package analysis

import (
	"cmp"
	"math"
	"slices"
)

// SameBalls reports whether two sessions' shots are the same balls, however
// their files were dressed: in whatever order, whole or with decimals, in
// whatever unit, with clubs and sets called what they may be. Every ball of one
// has its own of the other with the same measured numbers, each as near as the
// coarser writing of the two allows.
//
// Too few numbers may agree by chance: fewer than ten in all are never the
// same.
func SameBalls(a, b []Shot) bool {
	numbers := measuredAlike(a, b)
	if len(a) != len(b) || len(a)*len(numbers) < 10 {
		return false
	}
	far := make([]float64, len(numbers)) // how far apart the same value may be
	for i, n := range numbers {
		x, _ := Values(a, n)
		y, _ := Values(b, n)
		far[i] = apart(n, grain(n, x), grain(n, y))
	}
	alike := func(x, y Shot) bool {
		for i, n := range numbers {
			if x.Has(n) != y.Has(n) || math.Abs(x.values[n]-y.values[n]) > far[i] {
				return false
			}
		}
		return true
	}
	return pairUp(len(a), near(a, b, numbers[0], far[0]), func(i, j int) bool { return alike(a[i], b[j]) })
}

// near lists, for a ball of a, the balls of b that are near it in one number.
func near(a, b []Shot, n Number, far float64) func(i int) []int {
	order := make([]int, len(b))
	for i := range order {
		order[i] = i
	}
	value := func(j int) float64 { return b[j].values[n] }
	slices.SortFunc(order, func(i, j int) int { return cmp.Compare(value(i), value(j)) })
	return func(i int) []int {
		from, _ := slices.BinarySearchFunc(order, a[i].values[n]-far, func(j int, low float64) int { return cmp.Compare(value(j), low) })
		to := from
		for to < len(order) && value(order[to]) <= a[i].values[n]+far {
			to++
		}
		return order[from:to]
	}
}

// pairUp reports whether n balls of one side can each have their own of the n
// of the other: mostly those in the same place, else by letting a pair go
// where that helps another (augmenting paths: Kuhn 1955, Naval Research
// Logistics Quarterly 2:83 [M]).
func pairUp(n int, near func(i int) []int, alike func(i, j int) bool) bool {
	const nobody = -1
	owner := make([]int, n) // of a ball of the other side
	left := make([]int, 0, n)
	for i := range owner {
		owner[i] = nobody
		if alike(i, i) {
			owner[i] = i
		} else {
			left = append(left, i)
		}
	}
	var find func(i int, tried map[int]bool) bool
	find = func(i int, tried map[int]bool) bool {
		for _, j := range near(i) {
			if tried[j] || !alike(i, j) {
				continue
			}
			tried[j] = true
			if owner[j] == nobody || find(owner[j], tried) {
				owner[j] = i
				return true
			}
		}
		return false
	}
	for _, i := range left {
		if !find(i, map[int]bool{}) {
			return false
		}
	}
	return true
}

// measuredAlike are the numbers both sessions have, if they have the same; what
// follows from others by definition is left out, as it is no writing of its own.
func measuredAlike(a, b []Shot) (numbers []Number) {
	has := func(shots []Shot, n Number) bool {
		return slices.ContainsFunc(shots, func(s Shot) bool { return s.Measured(n) })
	}
	for _, n := range Numbers() {
		if has(a, n) != has(b, n) {
			return nil
		}
		if has(a, n) {
			numbers = append(numbers, n)
		}
	}
	follows := map[Number][2]Number{
		FaceToPath: {Face, Path}, Smash: {BallSpeed, ClubSpeed}, SpinLoft: {DynamicLoft, Attack},
	}
	return slices.DeleteFunc(slices.Clone(numbers), func(n Number) bool {
		from, ok := follows[n]
		return ok && slices.Contains(numbers, from[0]) && slices.Contains(numbers, from[1])
	})
}

// The units a number of a kind may be written in, as SI, and the coarsest step
// it may be written to, in the last.
var writings = map[Kind]struct {
	units  []float64
	coarse float64
}{
	Angle:  {[]float64{Degree}, Degree},
	Speed:  {[]float64{1, MilePerHour, 1 / 3.6}, 1},
	Length: {[]float64{1, Yard, Yard / 3}, 1},
	Small:  {[]float64{Millimetre, 10 * Millimetre, 25.4 * Millimetre}, 25.4 * Millimetre / 10},
	Rate:   {[]float64{RevPerMinute}, 10 * RevPerMinute},
	Time:   {[]float64{1}, 0.1},
	Ratio:  {[]float64{1}, 0.01},
}

// CoarseStep is the coarsest step a number is taken to be written to: what is
// the same, or its mean, is not further apart in two files.
func CoarseStep(n Number) float64 { return writings[n.Info().Kind].coarse }

// Apart is how far apart a value of number n may stand in two files and be the
// same one, by how finely either writes it; of one step, half of it.
func Apart(n Number, a, b []float64) float64 {
	x, y := grain(n, a), grain(n, b)
	return max(apart(n, x, y), min(x, y)/2)
}

// grain is the step a number was written to: the coarsest decimal of a unit
// that all of its values are whole in; 0 if none is.
func grain(n Number, values []float64) (coarsest float64) {
	for _, unit := range writings[n.Info().Kind].units {
		for step := 100.0; step > 1e-5; step /= 10 {
			g := step * unit
			if g <= coarsest {
				break
			}
			if !slices.ContainsFunc(values, func(v float64) bool { return math.Abs(v/g-math.Round(v/g)) > 1e-6 }) {
				coarsest = g
				break
			}
		}
	}
	return coarsest
}

// apart is how far apart one value may be that was written to two steps: half
// of each. What was worked out from two others, and so is whole in nothing, is
// as far as they may be.
func apart(n Number, a, b float64) float64 {
	const rounding = 1e-9 // of the arithmetic
	if a == b && a > 0 {
		return rounding + a*1e-3
	}
	coarse := writings[n.Info().Kind].coarse
	if a == 0 {
		a = coarse
	}
	if b == 0 {
		b = coarse
	}
	far := (a + b) / 2
	if n == Face || n == Path {
		far *= 2 // worked out from face-to-path and the other
	}
	return far + rounding
}
