package stat

import (
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
