package sessionfile

import (
	"math"

	"rangepost/analysis"
)

// A tie is what hangs columns together if they are what they are taken for:
// score says by how much their figures speak for it or against, in units of
// log likelihood. v are the values of its fields in SI, right of target for
// some unknown sign.
type tie struct {
	fields []field
	score  func(v [][]float64) float64
}

// share is the share of shots with all values for which a statement holds; ok
// is false where hardly any has them.
func share(v [][]float64, holds func(at func(k int) float64) bool) (s float64, ok bool) {
	n, good := 0, 0
	for i := range v[0] {
		missing := false
		for k := range v {
			missing = missing || math.IsNaN(v[k][i])
		}
		if missing {
			continue
		}
		n++
		if holds(func(k int) float64 { return v[k][i] }) {
			good++
		}
	}
	return float64(good) / float64(max(n, 1)), n >= 2
}

// together is the correlation of two series where both have a value, 0 unless
// five shots have.
func together(a, b []float64) float64 {
	var n, sa, sb, saa, sbb, sab float64
	for i := range a {
		if math.IsNaN(a[i]) || math.IsNaN(b[i]) {
			continue
		}
		n++
		sa, sb = sa+a[i], sb+b[i]
		saa, sbb, sab = saa+a[i]*a[i], sbb+b[i]*b[i], sab+a[i]*b[i]
	}
	va, vb := saa-sa*sa/n, sbb-sb*sb/n
	if n < 5 || !(va > 0 && vb > 0) {
		return 0
	}
	return (sab - sa*sb/n) / math.Sqrt(va*vb)
}

// judged is for where at least most of the shots agree, against where fewer
// than half do, and in proportion between.
func judged(v [][]float64, most, forIt, against float64, holds func(at func(k int) float64) bool) float64 {
	s, ok := share(v, holds)
	switch {
	case !ok:
		return 0
	case s >= most:
		return forIt
	case s < 0.5:
		return against
	}
	return against + (forIt-against)*(s-0.5)/(most-0.5)*0.5
}

// drawn is the score of a correlation that ought to be there: it speaks for
// the tie from half way up, and against it near nothing.
func drawn(r, forIt, against float64) float64 {
	r = math.Abs(r)
	switch {
	case r == 0:
		return 0
	case r > 0.45:
		return forIt * (r - 0.45) / 0.55
	}
	return against * (0.45 - r) / 0.45
}

// mix is a weighted sum of two series.
func mix(a []float64, wa float64, b []float64, wb float64) []float64 {
	m := make([]float64, len(a))
	for i := range a {
		m[i] = wa*a[i] + wb*b[i]
	}
	return m
}

// strongest is the larger of two correlations in size.
func strongest(a, b float64) float64 {
	if math.Abs(a) > math.Abs(b) {
		return a
	}
	return b
}

// ties is the list. The sign of sideways columns is not known yet, so both are
// tried where it matters. The weights are ours (common practice, no source):
// a definition says much, a habit little.
var ties = []tie{
	{[]field{ballSpeed, clubSpeed}, func(v [][]float64) float64 {
		return judged(v, 0.8, 1.5, -6, func(at func(int) float64) bool { r := at(0) / at(1); return r > 1.03 && r < 1.56 }) +
			max(0, drawn(together(v[0], v[1]), 1, 0))
	}},
	{[]field{smash, ballSpeed, clubSpeed}, func(v [][]float64) float64 {
		return judged(v, 0.8, 6, -6, func(at func(int) float64) bool { return math.Abs(at(0)-at(1)/at(2)) < 0.025 })
	}},
	{[]field{total, carry}, func(v [][]float64) float64 {
		return judged(v, 0.9, 2, -6, func(at func(int) float64) bool { r := at(0) / at(1); return r >= 0.96 && r < 1.35 }) +
			drawn(together(v[0], v[1]), 1.5, -1)
	}},
	{[]field{descent, launch}, func(v [][]float64) float64 {
		return judged(v, 0.85, 1, -3, func(at func(int) float64) bool { return at(0) > 1.05*at(1) })
	}},
	{[]field{apex, carry}, func(v [][]float64) float64 {
		return judged(v, 0.8, 0.7, -4, func(at func(int) float64) bool { r := at(0) / at(1); return r > 0.04 && r < 0.36 })
	}},
	{[]field{apex, carry, launch}, func(v [][]float64) float64 {
		return judged(v, 0.8, 1.5, -3, func(at func(int) float64) bool {
			r := at(0) / (at(1) * math.Tan(at(2)) / 2)
			return r > 0.6 && r < 1.9
		})
	}},
	{[]field{apex, carry, launch, descent}, func(v [][]float64) float64 {
		// A parabola's height is an eighth of its range times both slopes.
		return judged(v, 0.8, 2, -2, func(at func(int) float64) bool {
			r := at(0) / (at(1) * (math.Tan(at(2)) + math.Tan(at(3))) / 8)
			return r > 0.7 && r < 1.4
		})
	}},
	{[]field{faceToPath, face, path}, func(v [][]float64) float64 {
		best := -6.0
		for _, s := range [][2]float64{{1, -1}, {-1, 1}, {1, 1}, {-1, -1}} {
			score := judged(v, 0.8, 7, -6, func(at func(int) float64) bool { return math.Abs(at(0)-s[0]*at(1)-s[1]*at(2)) < 0.25*degree })
			if s[0] == s[1] {
				score -= 1
			}
			best = max(best, score)
		}
		return best
	}},
	{[]field{direction, face, path}, func(v [][]float64) float64 {
		return drawn(strongest(together(v[0], mix(v[1], 0.75, v[2], 0.25)), together(v[0], mix(v[1], 0.75, v[2], -0.25))), 3, -2)
	}},
	{[]field{direction, face}, func(v [][]float64) float64 { return drawn(together(v[0], v[1]), 1, -1) }},
	{[]field{spinAxis, face, path}, func(v [][]float64) float64 {
		return drawn(strongest(together(v[0], mix(v[1], 1, v[2], -1)), together(v[0], mix(v[1], 1, v[2], 1))), 2.5, -1.5)
	}},
	{[]field{spinAxis, faceToPath}, func(v [][]float64) float64 { return drawn(together(v[0], v[1]), 2, -1) }},
	{[]field{lateral, direction, spinAxis, carry}, func(v [][]float64) float64 {
		off := make([]float64, len(v[0]))
		for i := range off {
			off[i] = v[0][i] / v[3][i]
		}
		return drawn(strongest(together(off, mix(v[1], 1, v[2], 0.25)), together(off, mix(v[1], 1, v[2], -0.25))), 3, -2)
	}},
	{[]field{lateral, direction}, func(v [][]float64) float64 { return drawn(together(v[0], v[1]), 1, -0.5) }},
	{[]field{lateral, spinAxis}, func(v [][]float64) float64 { return drawn(together(v[0], v[1]), 0.7, -0.3) }},
	{[]field{lateral, face}, func(v [][]float64) float64 { return drawn(together(v[0], v[1]), 0.5, -0.2) }},
	{[]field{lateralTotal, lateral}, func(v [][]float64) float64 {
		if math.Abs(together(v[0], v[1])) < 0.9 {
			return -4
		}
		return 2 + judged(v, 0.8, 1, -2, func(at func(int) float64) bool { return math.Abs(at(0)) >= math.Abs(at(1))-0.1 })
	}},
	{[]field{dynamicLoft, launch}, func(v [][]float64) float64 {
		return judged(v, 0.8, 1, -3, func(at func(int) float64) bool { r := at(1) / at(0); return r > 0.5 && r < 1.02 }) +
			drawn(together(v[0], v[1]), 1, -0.5)
	}},
	{[]field{field(analysis.SpinLoft), dynamicLoft, attack}, func(v [][]float64) float64 {
		return judged(v, 0.8, 4, -4, func(at func(int) float64) bool {
			d := at(0) - (at(1) - at(2))
			return d > -0.4*degree && d < 2.5*degree
		})
	}},
	{[]field{flightTime, apex}, func(v [][]float64) float64 {
		return judged(v, 0.8, 1, -2.5, func(at func(int) float64) bool {
			r := at(0) / (2 * math.Sqrt(2*at(1)/9.81))
			return r > 0.8 && r < 1.35
		})
	}},
	{[]field{carry, ballSpeed}, func(v [][]float64) float64 {
		return judged(v, 0.8, 0.7, -5, func(at func(int) float64) bool { r := at(0) / at(1); return r > 1 && r < 4.3 }) +
			drawn(together(v[0], v[1]), 1, -0.5)
	}},
	{[]field{carry, clubSpeed}, func(v [][]float64) float64 {
		return judged(v, 0.8, 0.5, -4, func(at func(int) float64) bool { r := at(0) / at(1); return r > 1.2 && r < 6.3 })
	}},
	{[]field{spin, launch}, func(v [][]float64) float64 { return max(0, drawn(together(v[0], v[1]), 0.5, 0)) }},
	{[]field{backSpin, sideSpin}, func(v [][]float64) float64 {
		return judged(v, 0.9, 0.5, -4, func(at func(int) float64) bool { return math.Abs(at(1)) < at(0) })
	}},
	{[]field{spin, backSpin}, func(v [][]float64) float64 {
		return judged(v, 0.9, 2, -5, func(at func(int) float64) bool { r := at(1) / at(0); return r > 0.6 && r <= 1.001 })
	}},
}
