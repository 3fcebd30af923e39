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

// middling is the score of a quotient whose middle ought to be one, give or take
// a deviation of its logarithm.
func middling(v [][]float64, wide float64, quotient func(at func(k int) float64) float64) float64 {
	var logs []float64
	for i := range v[0] {
		if q := quotient(func(k int) float64 { return v[k][i] }); q > 0 {
			logs = append(logs, math.Log(q))
		}
	}
	if len(logs) < 2 {
		return 0
	}
	z := median(logs) / wide
	return max(0.7-0.5*z*z, -5)
}

// spreadOf is the standard deviation of a series where it has values.
func spreadOf(vs []float64) float64 {
	n, sum, squares := 0.0, 0.0, 0.0
	for _, v := range vs {
		if !math.IsNaN(v) {
			n, sum, squares = n+1, sum+v, squares+v*v
		}
	}
	if n < 5 {
		return 0
	}
	return math.Sqrt(max(0, squares/n-sum*sum/n/n))
}

// within is the score of a spread that ought to be less than another.
func within(less, more float64) float64 {
	switch {
	case less == 0 || more == 0:
		return 0
	case less < more:
		return 0.5
	}
	return max(-2, 1-1.5*less/more)
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

// followed is the score of a correlation where one follows from the others: the
// nearer it is to one, the more it says against what comes less near.
func followed(r, forIt, against float64) float64 {
	if r = math.Abs(r); r <= 0.45 {
		return drawn(r, forIt, against)
	}
	return forIt * min(1, (math.Log(1/(1-min(r*r, 0.9999)))-0.2255)/4.4)
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
		return judged(v, 0.8, 0.8, -6, func(at func(int) float64) bool { r := at(0) / at(1); return r > 1.03 && r < 1.56 }) +
			middling(v, 0.11, func(at func(int) float64) float64 { return at(0) / at(1) / 1.36 }) +
			max(0, drawn(together(v[0], v[1]), 1, 0))
	}},
	{[]field{smash, ballSpeed, clubSpeed}, func(v [][]float64) float64 {
		return judged(v, 0.8, 6, -6, func(at func(int) float64) bool { return math.Abs(at(0)-at(1)/at(2)) < 0.025 })
	}},
	{[]field{total, carry}, func(v [][]float64) float64 {
		further, _ := share(v, func(at func(int) float64) bool { return at(0) > at(1) })
		shorter, _ := share(v, func(at func(int) float64) bool { return at(0) < at(1) })
		return judged(v, 0.9, 2, -6, func(at func(int) float64) bool { r := at(0) / at(1); return r >= 0.96 && r < 1.35 }) +
			judged(v, 0.9, 1.5, 0, func(at func(int) float64) bool { r := at(0) / at(1); return r >= 1 && r < 1.16 }) +
			drawn(together(v[0], v[1]), 1.5, -1) + 5*min(0, further-shorter) // a ball runs on
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
		// A parabola's height is an eighth of its range times both slopes; the air
		// makes it as much as an eighth more, the higher it flies for its length:
		// package flight [C]. It goes with it ball by ball, too, and that it does not
		// speaks against it: a loft may have the middle of a height.
		heights := make([]float64, len(v[0]))
		for i := range heights {
			heights[i] = v[1][i] * (math.Tan(v[2][i]) + math.Tan(v[3][i])) / 8
		}
		return 2 + middling(v, 0.06, func(at func(int) float64) float64 {
			slopes := math.Tan(at(2)) + math.Tan(at(3))
			return at(0) / (at(1) * slopes / 8) / min(0.87+1.25*at(0)/at(1), 1.13)
		}) + min(0, followed(together(v[0], heights), 3, -3)-1)
	}},
	{[]field{faceToPath, face, path}, func(v [][]float64) float64 {
		best := -6.0
		for _, s := range [][2]float64{{1, -1}, {-1, 1}, {1, 1}, {-1, -1}} {
			score := judged(v, 0.8, 7, -6, func(at func(int) float64) bool { return math.Abs(at(0)-s[0]*at(1)-s[1]*at(2)) < 0.25*degree })
			if s[0] == s[1] {
				score -= 2
			}
			best = max(best, score)
		}
		return best
	}},
	{[]field{direction, face, path}, func(v [][]float64) float64 {
		like, unlike := together(v[0], mix(v[1], 0.75, v[2], 0.25)), together(v[0], mix(v[1], 0.75, v[2], -0.25))
		score := followed(strongest(like, unlike), 6, -2)
		if math.Abs(unlike) > math.Abs(like) {
			return score - 1 // path counts the other way than face
		}
		// It starts between face and path: nearer the path than the face is.
		way := 1.0
		if like < 0 {
			way = -1
		}
		return score + within(spreadOf(mix(v[0], way, v[2], -1)), spreadOf(mix(v[1], 1, v[2], -1)))
	}},
	{[]field{direction, face}, func(v [][]float64) float64 { return drawn(together(v[0], v[1]), 1, -1) }},
	{[]field{spinAxis, face, path}, func(v [][]float64) float64 {
		like, unlike := together(v[0], mix(v[1], 1, v[2], -1)), together(v[0], mix(v[1], 1, v[2], 1))
		score := followed(strongest(like, unlike), 5, -1.5)
		if math.Abs(unlike) > math.Abs(like) {
			return score - 1
		}
		return score + within(spreadOf(mix(v[1], 1, v[2], -1)), spreadOf(v[0]))
	}},
	{[]field{spinAxis, faceToPath}, func(v [][]float64) float64 {
		return followed(together(v[0], v[1]), 4, -1) + within(spreadOf(v[1]), spreadOf(v[0]))
	}},
	{[]field{lateral, direction, spinAxis, carry}, func(v [][]float64) float64 {
		off := make([]float64, len(v[0]))
		for i := range off {
			off[i] = v[0][i] / v[3][i]
		}
		like, unlike := mix(v[1], 1, v[2], 0.25), mix(v[1], 1, v[2], -0.25)
		best := together(off, like)
		if r := together(off, unlike); math.Abs(r) > math.Abs(best) {
			best, like = r, unlike
		}
		score := followed(best, 6, -2)
		if s, c := spreadOf(off), spreadOf(like); s > 0 && c > 0 && math.Abs(best) > 0.45 {
			z := math.Log(s/c) / 0.3
			score -= min(3, 0.5*z*z) // it lands where start and curve take it, no further
		}
		return score
	}},
	{[]field{lateral, direction}, func(v [][]float64) float64 { return drawn(together(v[0], v[1]), 1, -0.5) }},
	{[]field{lateral, spinAxis}, func(v [][]float64) float64 { return drawn(together(v[0], v[1]), 0.7, -0.3) }},
	{[]field{lateral, face}, func(v [][]float64) float64 { return drawn(together(v[0], v[1]), 0.5, -0.2) }},
	{[]field{lateralTotal, lateral}, func(v [][]float64) float64 {
		if math.Abs(together(v[0], v[1])) < 0.9 {
			return -4
		}
		further, _ := share(v, func(at func(int) float64) bool { return math.Abs(at(0)) > math.Abs(at(1)) })
		nearer, _ := share(v, func(at func(int) float64) bool { return math.Abs(at(0)) < math.Abs(at(1)) })
		alike := 0.0
		if math.Abs(together(v[0], v[1])) > 0.98 {
			alike = 2
		}
		return 3 + alike + 8*min(0, further-nearer) // it runs on the way it flew
	}},
	{[]field{dynamicLoft, launch}, func(v [][]float64) float64 {
		// A ball leaves a little under the loft it is struck with.
		return judged(v, 0.8, 0.3, -3, func(at func(int) float64) bool { r := at(1) / at(0); return r > 0.5 && r < 1.02 }) +
			middling(v, 0.1, func(at func(int) float64) float64 { return at(1) / at(0) / launchOfLoft }) +
			drawn(together(v[0], v[1]), 1, -0.5)
	}},
	{[]field{dynamicLoft, launch, attack}, func(v [][]float64) float64 {
		// It leaves between attack and loft, 72 to 83 % of the way to the loft
		// (Wood et al. 2018 [S], see package impact).
		return 1.5 + middling(v, 0.09, func(at func(int) float64) float64 { return (at(1) - at(2)) / (at(0) - at(2)) / 0.8 })
	}},
	{[]field{field(analysis.SpinLoft), dynamicLoft, attack}, func(v [][]float64) float64 {
		return judged(v, 0.8, 4, -4, func(at func(int) float64) bool {
			d := at(0) - (at(1) - at(2))
			return d > -0.4*degree && d < 2.5*degree
		})
	}},
	{[]field{flightTime, apex}, func(v [][]float64) float64 {
		// Up and down again without air, and a third more: package flight [C].
		return judged(v, 0.8, 1, -2.5, func(at func(int) float64) bool {
			r := at(0) / (2 * math.Sqrt(2*at(1)/9.81))
			return r > 1.05 && r < 1.5
		})
	}},
	{[]field{flightTime, apex, carry}, func(v [][]float64) float64 {
		// The lower it flies for its length, the more the air holds it up: 1.37
		// at a tenth, 1.17 at a quarter, by package flight [C].
		return judged(v, 0.8, 2, -2, func(at func(int) float64) bool {
			r := at(0) / (2 * math.Sqrt(2*at(1)/9.81))
			return math.Abs(r-1.5+1.3*at(1)/at(2)) < 0.1
		})
	}},
	{[]field{carry, ballSpeed}, func(v [][]float64) float64 {
		// Seconds of ball speed that a full shot carries: 2.2 of 30 m/s, 3.3 of
		// 70, by package flight with the launch and spin of such speeds [C].
		return middling(v, 0.15, func(at func(int) float64) float64 { return at(0) / (at(1) * (1.3 + 0.028*at(1))) }) +
			drawn(together(v[0], v[1]), 1, -0.5)
	}},
	{[]field{carry, clubSpeed}, func(v [][]float64) float64 {
		// Likewise of club speed: 2.8 of 32 m/s, 4.9 of 50.
		return middling(v, 0.22, func(at func(int) float64) float64 { return at(0) / (at(1) * (0.117*at(1) - 0.95)) })
	}},
	{[]field{spin, launch}, func(v [][]float64) float64 { return max(0, drawn(together(v[0], v[1]), 0.5, 0)) }},
	{[]field{backSpin, sideSpin}, func(v [][]float64) float64 {
		return judged(v, 0.9, 0.5, -4, func(at func(int) float64) bool { return math.Abs(at(1)) < at(0) })
	}},
	{[]field{spin, backSpin}, func(v [][]float64) float64 {
		return judged(v, 0.9, 2, -5, func(at func(int) float64) bool { r := at(1) / at(0); return r > 0.6 && r <= 1.001 })
	}},
}
