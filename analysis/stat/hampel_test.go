package stat

import (
	"math"
	"math/rand/v2"
	"testing"
)

// Thirteen good balls and two planted mishits, 14 and 15; invented. Expected
// figures: R 4.2.2 mad and robustbase 0.95-0 covMcd. [C]
var (
	plantedX = append(append([]float64{}, twelveX...), 2.9, 31, -18.5)
	plantedY = append(append([]float64{}, twelveY...), -1.9, -38, -52)
)

func TestHampel(t *testing.T) {
	z, ok := Hampel(plantedX)
	if !ok {
		t.Fatal("no distances")
	}
	for i, want := range []float64{0, -1.16738785294026, 0.804200520914402, 0.441013188888543, -0.674490759476595, 1.24521370980295,
		-0.233477570588052, 0.648548807189034, -1.58245908954124, 0.259419522875613, -0.363187332025859, 0.933910282352209,
		-0.0518839045751228, 7.23780468822962, -5.60346169411325} {
		within(t, "z", z[i], want, 1e-12)
		cut, _ := HampelCut(len(z))
		if flagged := math.Abs(z[i]) > cut; flagged != (i >= 13) {
			t.Errorf("ball %d at %.2f: flagged %v at %.2f", i+1, z[i], flagged, cut)
		}
	}
	if _, ok := Hampel([]float64{1, 1, 1, 5}); ok {
		t.Error("a spread of zero measures nothing")
	}
	if _, ok := HampelCut(4); ok {
		t.Error("four balls have a cut-off")
	}
}

// A clean normal set has one chance in twenty of any flag, at sizes in the
// table, between its rows and beyond it.
func TestHampelCutHoldsTheSet(t *testing.T) {
	const sets = 4000
	for _, n := range []int{5, 8, 14, 20, 45, 60, 150} {
		rng := rand.New(rand.NewPCG(3, uint64(n)))
		cut, _ := HampelCut(n)
		flagged := 0
		for range sets {
			z, _ := Hampel(normals(rng, n))
			for _, v := range z {
				if math.Abs(v) > cut {
					flagged++
					break
				}
			}
		}
		// 4 standard errors of 4,000 sets are 1.4 %; steps of the table 0.6 %.
		if share := float64(flagged) / sets; math.Abs(share-0.05) > 0.02 {
			t.Errorf("n %d: %.3f of clean sets flagged", n, share)
		}
	}
}
