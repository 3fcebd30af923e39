package stat_test

import (
	"testing"

	"rangepost/analysis/stat"
)

// Yields of six batches of dyestuff (Davies & Goldsmith 1972, Statistical
// Methods in Research and Production, as lme4::Dyestuff). The design is
// balanced, so the variances have closed forms, 1764.05 and 2451.25; the other
// figures are lme4's [C], whose optimiser stops at about 1e-7.
func TestOneWayDyestuff(t *testing.T) {
	var batches []stat.Sample
	for _, b := range [][]float64{
		{1545, 1440, 1440, 1520, 1580}, {1540, 1555, 1490, 1560, 1495}, {1595, 1550, 1605, 1510, 1560},
		{1445, 1440, 1595, 1465, 1545}, {1595, 1630, 1515, 1635, 1625}, {1520, 1455, 1450, 1480, 1445},
	} {
		batches = append(batches, stat.SampleOf(b))
	}
	o, ok := stat.NewOneWay(batches)
	if !ok {
		t.Fatal("not ok")
	}
	near(t, "between", o.Between, 1764.05, 1e-9)
	near(t, "within", o.Within, 2451.25, 1e-9)
	near(t, "mean", o.Mean, 1527.5, 1e-12)
	near(t, "SE", o.SE, 19.3834121787528, 1e-8)
	near(t, "criterion", o.Criterion, 319.654276842257, 1e-12)
	near(t, "ICC", o.Between/(o.Between+o.Within), 0.418487415918282, 1e-7)
	for i, want := range []float64{-17.606851366879, 0.391263363707636, 28.5622255507125, -23.0845384587967, 56.7331877377178, -44.9952868264672} {
		near(t, "batch", o.Groups[i], want, 1e-7)
	}
}

// The sessions before the lesson and after as one: unbalanced. lmer on the
// four sessions before agrees with DerSimonian and Laird's mean nearby; the
// figure checked is that the criterion cannot be bettered.
func TestOneWayUnbalancedIsAtTheMinimum(t *testing.T) {
	var groups []stat.Sample
	for _, s := range beforeAfter {
		groups = append(groups, stat.SampleOf(s))
	}
	o, ok := stat.NewOneWay(groups)
	if !ok || !(o.Between > 0) {
		t.Fatalf("ok, Between = %v, %v", ok, o.Between)
	}
	// The two-stage fit with the same within variance has the same optimum to
	// first order.
	var y, v []float64
	for _, g := range groups {
		y = append(y, g.Mean)
		v = append(v, o.Within/float64(g.N))
	}
	r, _ := stat.NewRandomEffects(y, v, nil, stat.REML)
	near(t, "between", o.Between, r.Tau2, 1e-3)
	near(t, "mean", o.Mean, r.B[0], 1e-3)
}

// Groups that differ by less than their own noise have nothing between them.
func TestOneWayNothingBetween(t *testing.T) {
	o, ok := stat.NewOneWay([]stat.Sample{stat.SampleOf([]float64{1, 3, 2}), stat.SampleOf([]float64{3, 1, 2}), stat.SampleOf([]float64{2, 1, 3.1})})
	if !ok || o.Between != 0 {
		t.Errorf("ok, Between = %v, %v; want true, 0", ok, o.Between)
	}
	if _, ok := stat.NewOneWay([]stat.Sample{stat.SampleOf([]float64{1}), stat.SampleOf([]float64{3})}); ok {
		t.Error("single values: ok, want not")
	}
}
