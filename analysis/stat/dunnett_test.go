package stat_test

import (
	"math"
	"slices"
	"testing"

	"rangepost/analysis/stat"
)

// Dunnett's own blood counts (1955, section 4). The t values are printed
// there; p values and critical value from the double integral in R [C], the
// first also in scipy's tests, 0.6201020 and 0.0058254 [S].
func TestDunnettBloodCounts1955(t *testing.T) {
	control := stat.SampleOf([]float64{7.4, 8.5, 7.2, 8.24, 9.84, 8.32})
	drugA := stat.SampleOf([]float64{9.76, 8.8, 7.68, 9.36})
	drugB := stat.SampleOf([]float64{12.8, 9.68, 12.16, 9.2, 10.55})
	d, ok := stat.NewDunnett(control, []stat.Sample{drugA, drugB})
	if !ok || d.DF != 12 {
		t.Fatalf("ok, DF = %v, %d; want true, 12", ok, d.DF)
	}
	near(t, "t of drug A", d.Each[0].T, 0.857032125934382, 1e-12)
	near(t, "t of drug B", d.Each[1].T, 3.69375231123573, 1e-12)
	near(t, "p of drug A", d.P[0], 0.620101980018467, 1e-8)
	near(t, "p of drug B", d.P[1], 0.0058253608479788, 1e-8)
	near(t, "p of drug B alone", d.Each[1].P, 0.00307063487890225, 1e-12)
	critical := d.Critical(0.95)
	near(t, "critical value", critical, 2.51348290359686, 1e-7)
	low, high := d.Limits(1, critical)
	near(t, "low of drug B", low, 0.839728206420334, 1e-6)
	near(t, "high of drug B", high, 4.41627179357967, 1e-6)
}

// Three invented sets against a baseline; double integral in R [C].
func TestDunnettUnequalSizes(t *testing.T) {
	d, ok := stat.NewDunnett(stat.SampleOf(base), []stat.Sample{stat.SampleOf(strong), stat.SampleOf(weak), stat.SampleOf(usual)})
	if !ok {
		t.Fatal("not ok")
	}
	for i, want := range []float64{0.000630166935873921, 0.00802097773124522, 0.997483816925219} {
		near(t, "p", d.P[i], want, 1e-8)
	}
	near(t, "critical value", d.Critical(0.95), 2.50573643073979, 1e-7)
}

// Two-sided 5 % values for equal sizes, from the same double integral in R to
// six decimals [C]; rows of Dunnett 1964, Biometrics 20:482.
func TestDunnettQuantile(t *testing.T) {
	for df, want := range map[int][]float64{
		3:   {3.182446, 3.86651, 4.262617, 4.538242, 4.747947, 4.916296},
		5:   {2.570582, 3.030236, 3.293155, 3.475893, 3.615117, 3.727109},
		10:  {2.228139, 2.568339, 2.758997, 2.89048, 2.99029, 3.070432},
		20:  {2.085963, 2.37869, 2.54035, 2.65103, 2.734677, 2.80164},
		60:  {2.000298, 2.265267, 2.409942, 2.50839, 2.582496, 2.641648},
		120: {1.97993, 2.238411, 2.379116, 2.474703, 2.546572, 2.603892},
		0:   {1.959964, 2.212128, 2.348971, 2.441771, 2.511463, 2.566997},
	} {
		for i, w := range want {
			lambda := slices.Repeat([]float64{math.Sqrt(0.5)}, i+1)
			near(t, "quantile", stat.DunnettQuantile(0.95, lambda, df), w, 1e-6)
		}
	}
}
