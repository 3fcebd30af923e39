package stat

import (
	"math"
	"sync"

	"gonum.org/v1/gonum/stat/distuv"
)

// StudentQuantile is the p quantile of Student's t with df degrees of freedom,
// df >= 1. Limits at 95 % are asked for by every mean there is, so those are
// kept: the inverse incomplete beta function takes 10 us.
func StudentQuantile(p float64, df int) float64 {
	if p == 0.975 && df < len(student975()) {
		return student975()[df]
	}
	return distuv.StudentsT{Sigma: 1, Nu: float64(df)}.Quantile(p)
}

var student975 = sync.OnceValue(func() []float64 {
	table := make([]float64, 128)
	for df := 1; df < len(table); df++ {
		table[df] = distuv.StudentsT{Sigma: 1, Nu: float64(df)}.Quantile(0.975)
	}
	return table
})

// StudentBelow is the probability that Student's t with df degrees of freedom,
// df >= 1, is at or below t, within 1e-14: the finite sums for whole degrees of
// freedom (Abramowitz & Stegun 1964, 26.7.3 and 26.7.4 [M]), which take a
// twentieth of the incomplete beta function's time.
func StudentBelow(t float64, df int) float64 {
	n := float64(df)
	square := n / (n + t*t) // of the cosine
	sin := t / math.Sqrt(n+t*t)
	if math.IsInf(t, 0) {
		square, sin = 0, math.Copysign(1, t)
	}
	if df%2 == 0 {
		term, sum := 1.0, 1.0
		for k := 2; k < df; k += 2 {
			term *= square * float64(k-1) / float64(k)
			sum += term
		}
		return (1 + sin*sum) / 2
	}
	sum := 0.0
	if df > 1 {
		term := math.Sqrt(square)
		sum = term
		for k := 3; k < df; k += 2 {
			term *= square * float64(k-1) / float64(k)
			sum += term
		}
	}
	return 0.5 + (math.Atan2(t, math.Sqrt(n))+sin*sum)/math.Pi
}
