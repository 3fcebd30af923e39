package stat

import "testing"

// Twelve invented laterals and depths, used by several tests; the expected
// figures are R 4.2.2 (t.test, qchisq, eigen, pf and qf) on them. [C]
var (
	twelveX = []float64{3.1, -1.4, 6.2, 4.8, 0.5, 7.9, 2.2, 5.6, -3, 4.1, 1.7, 6.7}
	twelveY = []float64{-2.5, 1, -6.1, 3.2, -4.4, -1.2, 0.8, -5, 2.1, -3.3, -0.6, -7.2}
)

func TestMean(t *testing.T) {
	e := Mean(twelveX)
	if e.N != 12 || !e.OK {
		t.Fatalf("N %d OK %v", e.N, e.OK)
	}
	within(t, "mean", e.Mean, 3.2, 1e-13)
	within(t, "sd", e.SD, 3.33875316956386, 1e-13)
	within(t, "low", e.Low, 1.07865744258003, 1e-12)
	within(t, "high", e.High, 5.32134255741997, 1e-12)
	low, high, ok := NextValue(twelveX, 0.95)
	if !ok {
		t.Fatal("no next value")
	}
	within(t, "next low", low, -4.44860936360162, 1e-12)
	within(t, "next high", high, 10.8486093636016, 1e-12)
}

// NIST StRD NumAcc4: a mean of 10000000.2 and a standard deviation of 0.1,
// exactly. https://www.itl.nist.gov/div898/strd/univ/numacc4.html [S]
func TestMeanKeepsDigits(t *testing.T) {
	x := []float64{10000000.2}
	for range 500 {
		x = append(x, 10000000.1, 10000000.3)
	}
	e := Mean(x)
	within(t, "mean", e.Mean, 10000000.2, 1e-8)
	within(t, "sd", e.SD, 0.1, 1e-8) // the data themselves are rounded to 2e-9
}

func TestMeanOfTooFew(t *testing.T) {
	if e := Mean(nil); e.OK || e.N != 0 {
		t.Errorf("of nothing: %+v", e)
	}
	if e := Mean([]float64{4}); e.OK || e.N != 1 || e.Mean != 4 {
		t.Errorf("of one: %+v", e)
	}
	if _, _, ok := NextValue([]float64{4}, 0.95); ok {
		t.Error("one value has a next one")
	}
}

// Factors by n: half-width of the mean and of the next value in sample standard
// deviations, radii of the centre's 95 % region and the next point's 95 and
// 50 % regions in the plane. R 4.2.2 from the formulas [C].
func TestFactors(t *testing.T) {
	for _, r := range []struct {
		n                            int
		mean, next, centre, p95, p50 float64
	}{
		{2, 8.98464353209375, 15.5618590854815, 0, 0, 0},
		{3, 2.48413771175033, 4.96827542350066, 16.3095064303001, 32.6190128606002, 2.82842712474619},
		{5, 1.24166399820376, 3.04144322758327, 2.25708892111601, 5.52871616082321, 1.6791441419507},
		{10, 0.715356905970665, 2.37257044829424, 1.00163280407194, 3.32204018881819, 1.36863086277014},
		{20, 0.46801440641992, 2.14471144374911, 0.612538369626181, 2.80700344487681, 1.26380053446005},
		{60, 0.258327392505796, 2.0176014335962, 0.327126101633015, 2.55493652925986, 1.20456235023445},
	} {
		x := make([]float64, r.n)
		x[0], x[1] = -1, 1
		e := Mean(x)
		within(t, "mean", (e.High-e.Low)/2/e.SD, r.mean, 1e-9*r.mean)
		low, high, _ := NextValue(x, 0.95)
		within(t, "next", (high-low)/2/e.SD, r.next, 1e-9*r.next)
		centre, ok := CentreRadius2(r.n, 0.95)
		if ok != (r.n >= 3) {
			t.Fatalf("n %d: centre region %v", r.n, ok)
		}
		next95, _ := NextRadius2(r.n, 0.95)
		next50, _ := NextRadius2(r.n, 0.5)
		within(t, "centre", centre, r.centre*r.centre, 1e-9*r.centre*r.centre)
		within(t, "next 95", next95, r.p95*r.p95, 1e-9*r.p95*r.p95)
		within(t, "next 50", next50, r.p50*r.p50, 1e-9*r.p50*r.p50)
	}
}
