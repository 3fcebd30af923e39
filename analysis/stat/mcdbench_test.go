package stat

import (
	"math/rand/v2"
	"strconv"
	"testing"
)

func BenchmarkMinimumCovariance(b *testing.B) {
	for _, n := range []int{10, 20, 30, 60} {
		rng := rand.New(rand.NewPCG(1, 1))
		x, y := normals(rng, n), normals(rng, n)
		b.Run(strconv.Itoa(n), func(b *testing.B) {
			for b.Loop() {
				MinimumCovariance(x, y)
			}
		})
	}
}
