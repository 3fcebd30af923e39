package stat

import "gonum.org/v1/gonum/integrate/quad"

// gauss is a Gauss-Legendre rule on [-1, 1], made once: gonum's quad.Fixed
// makes its own at every call.
type gauss struct{ x, weight []float64 }

var gauss24, gauss48 = newGauss(24), newGauss(48)

func newGauss(n int) gauss {
	g := gauss{make([]float64, n), make([]float64, n)}
	quad.Legendre{}.FixedLocations(g.x, g.weight, -1, 1)
	return g
}

// integral of f from low to high.
func (g gauss) integral(f func(float64) float64, low, high float64) float64 {
	mid, half := (low+high)/2, (high-low)/2
	sum := 0.0
	for i, x := range g.x {
		sum += g.weight[i] * f(mid+half*x)
	}
	return half * sum
}
