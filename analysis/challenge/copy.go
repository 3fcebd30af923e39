package challenge

import (
	"cmp"
	"math"
	"slices"

	"gonum.org/v1/gonum/stat/distuv"

	"rangepost/analysis"
	"rangepost/analysis/stat"
)

// CopiedAt is the chance under which two stretches are not taken for two
// people's. Among the 780 pairs of forty entries it takes one honest pair in
// a thousand contests for a copy.
const CopiedAt = 1e-6

// Alike is the chance that two people's balls are as alike as these by luck. A
// device that writes tenths says much more by one ball than one that writes
// whole yards, so it is the likeliness that counts and not how many are alike.
// Two things are tried, and the rarer counts, twice:
//
//   - balls with a twin in the other stretch, as they stand or in a mirror, in
//     whatever order. Of n times m pairs, of which each is alike with chance p,
//     so many or more are with the tail of a Poisson variable of mean n m p;
//   - balls in one order, or in the reverse one, whose figures rise and fall
//     together or against each other: scaled and shifted they still do. Of n
//     figures in no order, so few inversions come with the chance that Kendall
//     counted (1938, Biometrika 30:81 [M]).
func Alike(a, b Stretch) float64 {
	x, y := measured(a), measured(b)
	if len(x) == 0 || len(y) == 0 {
		return 1
	}
	return min(1, 2*min(twins(x, y), together(x, y)))
}

// figures are what is known of a ball, each with a number of its kind.
var figures = []struct {
	n  analysis.Number
	of func(Ball) float64
}{
	{analysis.Carry, func(b Ball) float64 { return b.Carry }},
	{analysis.Lateral, func(b Ball) float64 { return b.Lateral }},
	{analysis.Face, func(b Ball) float64 { return b.Number }}, // an angle mostly
}

func measured(s Stretch) (balls []Ball) {
	for _, b := range s.Balls {
		if !b.Unmeasured {
			balls = append(balls, b)
		}
	}
	return balls
}

func column(balls []Ball, of func(Ball) float64) []float64 {
	values := make([]float64, len(balls))
	for i, b := range balls {
		values[i] = of(b)
	}
	return values
}

// varies reports whether a figure is known of balls: one that is the same of
// all of them says nothing.
func varies(values []float64) bool { return slices.Max(values) > slices.Min(values) }

func twins(x, y []Ball) float64 {
	best := 1.0
	for _, mirror := range []float64{1, -1} {
		near := func(Ball, Ball) bool { return true }
		p, known := 1.0, false
		for _, f := range figures {
			u, v := column(x, f.of), column(y, f.of)
			if !varies(u) || !varies(v) {
				continue
			}
			known = true
			sign := mirror
			if f.n == analysis.Carry {
				sign = 1
			}
			within := analysis.Apart(f.n, u, v)
			p *= agree(u, v, within)
			before := near
			near = func(a, b Ball) bool { return before(a, b) && math.Abs(f.of(a)-sign*f.of(b)) <= within }
		}
		if !known {
			return 1
		}
		n, taken := 0, make([]bool, len(y))
		for _, a := range x {
			for j, b := range y {
				if !taken[j] && near(a, b) {
					taken[j] = true
					n++
					break
				}
			}
		}
		if n > 0 {
			expected := distuv.Poisson{Lambda: p * float64(len(x)*len(y))}
			best = min(best, 2*expected.Survival(float64(n-1)))
		}
	}
	return best
}

// agree is the chance that a value of u and one of v, of one normal scatter,
// are within so much of each other.
func agree(u, v []float64, within float64) float64 {
	variance := (stat.SampleOf(u).Variance + stat.SampleOf(v).Variance) / 2
	return min(1, 2*distuv.UnitNormal.CDF(within/math.Sqrt(2*variance))-1)
}

// leastTogether is the fewest balls whose order says anything, and
// mostTogether as many as are looked at.
const leastTogether, mostTogether = 5, 30

func together(x, y []Ball) float64 {
	best, tried := 1.0, 0
	for range 2 {
		for shift := leastTogether - len(y); shift <= len(x)-leastTogether; shift++ {
			from, to := max(0, shift), min(len(x), shift+len(y))
			if to-from < leastTogether {
				continue
			}
			tried++
			best = min(best, inStep(x[from:to], y[from-shift:to-shift]))
		}
		y = slices.Clone(y)
		slices.Reverse(y)
	}
	return min(1, best*float64(max(1, tried)))
}

// inStep is the chance that the figures of paired balls, in no order, go so
// well together: Fisher's sum of the numbers' own chances.
func inStep(x, y []Ball) float64 {
	n, sum, known := min(len(x), mostTogether), 0.0, 0
	for _, f := range figures {
		u, v := column(x[:n], f.of), column(y[:n], f.of)
		if !varies(u) || !varies(v) {
			continue
		}
		known++
		s := 0
		for i := range u {
			for j := range i {
				s += cmp.Compare((u[i]-u[j])*(v[i]-v[j]), 0)
			}
		}
		// Far from all of the way together they are nowhere near a copy.
		if max(s, -s) > n*(n-1)*2/5 {
			sum -= 2 * math.Log(stat.KendallTail(n, s))
		}
	}
	if known == 0 {
		return 1
	}
	return distuv.ChiSquared{K: float64(2 * known)}.Survival(sum)
}
