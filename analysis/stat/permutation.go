package stat

import (
	"math"
	"math/rand/v2"

	"gonum.org/v1/gonum/stat/combin"
)

// Permutation is the two-sided probability of means as far apart when the
// labels of the two samples are dealt out at random (Fisher 1935; Pitman 1937,
// Suppl. J. R. Stat. Soc. 4:119). It presumes that without a difference every
// split is as likely, that is, equal shapes; it presumes no shape.
//
// All splits are counted when there are no more of them than draws. Beyond that
// so many are drawn from rng and p = (b+1)/(draws+1) (Phipson & Smyth 2010,
// Stat. Appl. Genet. Mol. Biol. 9:39). ok is false when either sample is empty.
func Permutation(a, b []float64, draws int, rng *rand.Rand) (p float64, exact, ok bool) {
	na, n := len(a), len(a)+len(b)
	if na == 0 || na == n {
		return 0, false, false
	}
	all := append(append(make([]float64, 0, n), a...), b...)
	total, size := 0.0, 0.0
	for _, v := range all {
		total += v
		size += math.Abs(v)
	}
	// The mean difference is a rising function of the sum over a, so sums are
	// compared. A tie must count as "as far" despite rounding.
	expected := total * float64(na) / float64(n)
	sumOf := func(v []float64) (s float64) {
		for _, x := range v {
			s += x
		}
		return s
	}
	far := math.Abs(sumOf(a)-expected) - 1e-12*size

	if logSplits := combin.LogGeneralizedBinomial(float64(n), float64(na)); logSplits < math.Log(float64(draws)+0.5) {
		count, as := 0, 0
		index := make([]int, na)
		for gen := combin.NewCombinationGenerator(n, na); gen.Next(); count++ {
			gen.Combination(index)
			s := 0.0
			for _, i := range index {
				s += all[i]
			}
			if math.Abs(s-expected) >= far {
				as++
			}
		}
		return float64(as) / float64(count), true, true
	}
	as := 0
	for range draws {
		s := 0.0
		for i := range na { // a partial Fisher-Yates shuffle
			j := i + rng.IntN(n-i)
			all[i], all[j] = all[j], all[i]
			s += all[i]
		}
		if math.Abs(s-expected) >= far {
			as++
		}
	}
	return float64(as+1) / float64(draws+1), false, true
}
