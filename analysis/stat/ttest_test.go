package stat_test

import (
	"testing"

	"rangepost/analysis/stat"
)

// Two invented sets of ten and eight face angles, and Student's sleep data
// (Student 1908, Biometrika 6:1, as R's datasets::sleep). Outputs of R 4.2.2
// t.test [C]; R's documentation prints t = -1.8608, df = 17.776, p = 0.07939
// for the latter [M].
var (
	strong = []float64{-0.4, 1.1, 0.3, 1.9, -1.2, 0.8, 0.1, 1.4}
	base   = []float64{2.1, 3.4, 1.2, 4, 2.8, 0.9, 3.1, 2.5, 1.8, 3.7}
	weak   = []float64{3.9, 5.2, 2.7, 4.4, 6.1, 3.3}
	usual  = []float64{2.4, 1.9, 3.6, 2.2, 3, 1.5, 2.7}

	sleepA = []float64{0.7, -1.6, -0.2, -1.2, -0.1, 3.4, 3.7, 0.8, 0, 2}
	sleepB = []float64{1.9, 0.8, 1.1, 0.1, -0.1, 4.4, 5.5, 1.6, 4.6, 3.4}
)

func TestWelch(t *testing.T) {
	for _, c := range []struct {
		name                string
		a, b                []float64
		t, df, p, low, high float64
	}{
		{"sets", strong, base, -4.21709367849459, 15.3687871083906, 0.000710442615878348, -3.08397210203355, -1.01602789796645},
		{"sleep", sleepA, sleepB, -1.86081346748685, 17.7764735161785, 0.0793941401873582, -3.36548323071171, 0.20548323071171},
	} {
		got, ok := stat.Welch(stat.SampleOf(c.a), stat.SampleOf(c.b))
		if !ok {
			t.Fatalf("%s: not ok", c.name)
		}
		near(t, c.name+" t", got.T, c.t, 1e-12)
		near(t, c.name+" df", got.DF, c.df, 1e-12)
		near(t, c.name+" p", got.P, c.p, 1e-12)
		low, high := got.Limits(0.95)
		near(t, c.name+" low", low, c.low, 1e-10)
		near(t, c.name+" high", high, c.high, 1e-10)
	}
}

// R 4.2.2 t.test(var.equal = TRUE) [C].
func TestPooledT(t *testing.T) {
	got, _ := stat.PooledT(stat.SampleOf(strong), stat.SampleOf(base))
	near(t, "t", got.T, -4.19954081743185, 1e-12)
	near(t, "df", got.DF, 16, 0)
	near(t, "p", got.P, 0.00067914682599389, 1e-12)
	low, high := got.Limits(0.95)
	near(t, "low", low, -3.08482881875194, 1e-10)
	near(t, "high", high, -1.01517118124806, 1e-10)
}

func TestTooFewToCompare(t *testing.T) {
	one, two, flat := stat.SampleOf([]float64{1}), stat.SampleOf([]float64{1, 2}), stat.SampleOf([]float64{3, 3})
	for name, pair := range map[string][2]stat.Sample{"none": {{}, two}, "one": {one, two}, "flat": {flat, flat}} {
		if _, ok := stat.Welch(pair[0], pair[1]); ok {
			t.Errorf("Welch of %s: ok, want not", name)
		}
		if _, ok := stat.NewBehrensFisher(pair[0], pair[1]); ok {
			t.Errorf("BehrensFisher of %s: ok, want not", name)
		}
	}
	if _, ok := stat.PooledT(one, two); !ok {
		t.Error("PooledT of one and two values: not ok, want ok: the two tell the variance")
	}
	if _, ok := stat.PooledT(one, one); ok {
		t.Error("PooledT of one and one: ok, want not")
	}
}
