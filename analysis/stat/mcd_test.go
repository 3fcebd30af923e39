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

// robustbase 0.95-0, covMcd(X, alpha = .75, nsamp = "exact") in R 4.2.2. [C]
// The constants of Pison et al. are as that package has them.
func TestMinimumCovariance(t *testing.T) {
	m, ok := MinimumCovariance(plantedX, plantedY)
	if !ok {
		t.Fatal("no estimate")
	}
	if want := []int{0, 1, 2, 4, 5, 6, 7, 8, 9, 10, 11, 12}; !slices.Equal(m.Best, want) {
		t.Errorf("best %v, want %v", m.Best, want)
	}
	within(t, "raw x", m.Raw.X, 3.04166666666667, 1e-13)
	within(t, "raw y", m.Raw.Y, -2.35833333333333, 1e-13)
	within(t, "raw xx", m.Raw.XX, 21.663262494853, 1e-10)
	within(t, "raw xy", m.Raw.XY, -13.2693300812764, 1e-10)
	within(t, "raw yy", m.Raw.YY, 17.2203196948879, 1e-10)
	within(t, "x", m.X, 3.17692307692308, 1e-13)
	within(t, "y", m.Y, -1.93076923076923, 1e-13)
	within(t, "xx", m.XX, 16.7796535364271, 1e-10)
	within(t, "xy", m.XY, -8.80523138357868, 1e-10)
	within(t, "yy", m.YY, 16.9279747589303, 1e-10)
	raw := []float64{0.00139132656803396, 0.95540871894852, 0.819615576775767, 4.98495111616045, 1.72237169398168, 2.96930100588053,
		0.800843567229957, 0.429134000126461, 1.74809293518597, 0.0611717582451625, 0.179555317527136, 1.36174262499779,
		0.016109917797644, 73.7905058960391, 455.671876144373}
	final := []float64{0.030546578897266, 1.2711677328161, 1.08669015559167, 3.06502587658921, 1.64645844705324, 2.16626530349388,
		0.456643012378903, 0.612492131168767, 2.32447885998565, 0.114395715647698, 0.155091686769174, 1.69032992016206,
		0.0056363287154432, 83.5848387842917, 334.763232410017}
	for i := range raw {
		within(t, "raw d2", m.RawD2[i], raw[i], 1e-9*(1+raw[i]))
		within(t, "d2", m.D2[i], final[i], 1e-9*(1+final[i]))
		if m.Inside[i] != (i < 13) {
			t.Errorf("ball %d inside: %v", i+1, m.Inside[i])
		}
		cut, _ := MCDCut(15)
		if flagged := m.D2[i] > cut; flagged != (i >= 13) {
			t.Errorf("ball %d flagged: %v", i+1, flagged)
		}
	}
}

// The cut-offs against an independent simulation with robustbase, 2,000 sets a
// size (R 4.2.2, set.seed(20240601)) [C]: its 95 % quantiles have standard
// errors of about 4 to 10 %, more in the smallest sets.
func TestMCDCutAgainstAnother(t *testing.T) {
	for n, theirs := range map[int]float64{6: 43.5131213990101, 8: 53.5164612148479, 10: 27.861155208464, 12: 29.9861772031217,
		15: 20.5265173935794, 20: 20.9546970824473, 30: 17.5733251375229, 60: 16.4237250448122} {
		if cut, ok := MCDCut(n); !ok {
			t.Errorf("n %d: no cut-off", n)
		} else {
			within(t, "cut-off", cut, theirs, 0.10*theirs)
		}
	}
	if _, ok := MCDCut(5); ok {
		t.Error("five points have a cut-off")
	}
}

// The same 5 % of clean sets, on sets the table was not made from.
func TestMCDCutHoldsTheSet(t *testing.T) {
	const sets = 1500
	for _, n := range []int{6, 11, 17, 24, 48} {
		rng := rand.New(rand.NewPCG(4, uint64(n)))
		cut, _ := MCDCut(n)
		flagged := 0
		for range sets {
			if m, _ := MinimumCovariance(normals(rng, n), normals(rng, n)); slices.Max(m.D2) > cut {
				flagged++
			}
		}
		// 4 standard errors of 1,500 sets are 2.3 %.
		if share := float64(flagged) / sets; share < 0.027 || share > 0.073 {
			t.Errorf("n %d: %.3f of clean sets flagged", n, share)
		}
	}
}

// Concentration from many starts finds what trying every subset finds.
func TestConcentrationFindsTheBest(t *testing.T) {
	for seed := range uint64(40) {
		rng := rand.New(rand.NewPCG(5, seed))
		n := 10 + int(seed%9)
		x, y := normals(rng, n), normals(rng, n)
		h := coverSize(n)
		every, few := everySubset(x, y, h), concentrated(x, y, h)
		if !slices.Equal(every, few) {
			a, _ := MomentsOf(pick(x, every), pick(y, every))
			b, _ := MomentsOf(pick(x, few), pick(y, few))
			t.Errorf("seed %d: determinants %g and %g", seed, a.Det(), b.Det())
		}
	}
}

func TestMinimumCovarianceOfLittle(t *testing.T) {
	if _, ok := MinimumCovariance([]float64{1, 2, 3, 4}, []float64{1, 3, 2, 4}); ok {
		t.Error("four points have an estimate")
	}
	same, line := make([]float64, 30), make([]float64, 30)
	for i := range line {
		line[i] = float64(i)
	}
	for _, n := range []int{6, 30} {
		if _, ok := MinimumCovariance(same[:n], same[:n]); ok {
			t.Error("a spot has an estimate")
		}
		if _, ok := MinimumCovariance(line[:n], line[:n]); ok {
			t.Error("a line has an estimate")
		}
	}
}

func TestSmallest(t *testing.T) {
	rng := rand.New(rand.NewPCG(8, 8))
	for n := 1; n < 60; n++ {
		v := normals(rng, n)
		v[n-1] = v[0] // a tie
		sorted := slices.Sorted(slices.Values(v))
		for k := range n {
			if got := smallest(slices.Clone(v), k); got != sorted[k] {
				t.Fatalf("rank %d of %d: %v, want %v", k, n, got, sorted[k])
			}
		}
	}
}
