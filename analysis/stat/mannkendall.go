package stat

import (
	"math"

	"gonum.org/v1/gonum/stat/distuv"
)

// MannKendall is a test for a trend in values taken in order (Mann 1945,
// Econometrica 13:245; Kendall 1975, Rank Correlation Methods): S counts later
// values above earlier ones less those below,
//
//	Var S = [n(n-1)(2n+5) - Sum t(t-1)(2t+5)]/18,  Z = (S -+ 1)/sqrt(Var S)
//
// over the groups of t ties. P is two-sided; up to ten values without ties it
// is exact, by counting permutations by their inversions. It presumes
// independent values; nothing of their shape.
type MannKendall struct {
	S      int
	VarS   float64
	Z      float64
	P      float64
	PExact bool
}

// NewMannKendall tests the values, in order. ok is false under four values,
// where no order is unlikely enough, or when all are equal.
func NewMannKendall(values []float64) (m MannKendall, ok bool) {
	n := len(values)
	ties := map[float64]int{}
	for i, a := range values {
		ties[a]++
		for _, b := range values[i+1:] {
			switch {
			case b > a:
				m.S++
			case b < a:
				m.S--
			}
		}
	}
	if n < 4 || len(ties) < 2 {
		return MannKendall{}, false
	}
	term := func(t int) float64 { return float64(t) * float64(t-1) * float64(2*t+5) }
	m.VarS = term(n)
	for _, t := range ties {
		m.VarS -= term(t)
	}
	m.VarS /= 18
	if m.S != 0 {
		m.Z = (float64(m.S) - math.Copysign(1, float64(m.S))) / math.Sqrt(m.VarS)
	}
	if n <= 10 && len(ties) == n {
		m.P, m.PExact = KendallTail(n, m.S), true
	} else {
		m.P = min(1, 2*distuv.UnitNormal.Survival(math.Abs(m.Z)))
	}
	return m, true
}

// KendallTail is the exact P(|S| >= |s|) over all orders of n distinct values.
// S = n(n-1)/2 - 2 inversions; the orders with k inversions are counted by
// adding the values one at a time.
func KendallTail(n, s int) float64 {
	counts := []float64{1}
	for m := 2; m <= n; m++ {
		next := make([]float64, len(counts)+m-1)
		for k, c := range counts {
			for j := range m {
				next[k+j] += c
			}
		}
		counts = next
	}
	all, far := 0.0, 0.0
	for k, c := range counts {
		all += c
		if at := n*(n-1)/2 - 2*k; max(at, -at) >= max(s, -s) {
			far += c
		}
	}
	return far / all
}
