package stat

import (
	"flag"
	"fmt"
	"math/rand/v2"
	"slices"
	"testing"
)

var calibrate = flag.Int("calibrate", 0, "simulate the cut-offs of the flags with this many sets a size and print them")

// TestCalibrateCuts prints the tables in mcdcut.go and hampel.go. It takes
// minutes at 20,000 sets a size and is run by hand:
//
//	go test ./analysis/stat -run CalibrateCuts -calibrate 20000 -v
func TestCalibrateCuts(t *testing.T) {
	if *calibrate == 0 {
		t.Skip("-calibrate not given")
	}
	for _, n := range mcdSizesToSimulate {
		rng := rand.New(rand.NewPCG(7, uint64(n)))
		far := make([]float64, *calibrate)
		for k := range far {
			x, y := normals(rng, n), normals(rng, n)
			m, ok := MinimumCovariance(x, y)
			if !ok {
				t.Fatalf("n %d: no estimate", n)
			}
			far[k] = slices.Max(m.D2)
		}
		q, _ := Quantile(far, 0.95)
		fmt.Printf("%d: %.2f\n", n, q)
	}
}

var mcdSizesToSimulate = []int{6, 7, 8, 9, 10, 11, 12, 13, 14, 15, 16, 17, 18, 19, 20, 21, 22, 23, 24, 25, 26, 27, 28, 29, 30, 35, 40, 50, 60, 80, 100, 150, 200}

func normals(rng *rand.Rand, n int) []float64 {
	v := make([]float64, n)
	for i := range v {
		v[i] = rng.NormFloat64()
	}
	return v
}
