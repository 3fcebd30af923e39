package stat_test

import (
	"math"
	"testing"

	"rangepost/analysis/stat"
)

// Six invented members with 3 to 40 balls each. R package metafor, rma and
// blup [C]. The member with three lucky balls leads as seen and not once drawn
// in.
func TestShrinkMembers(t *testing.T) {
	n := []int{5, 40, 12, 20, 8, 3}
	mean := []float64{6.2, 8.9, 7.4, 10.1, 9, 5.5}
	sd := []float64{2.9, 4.1, 3.3, 4.6, 3.8, 1.2}
	var members []stat.Sample
	for i := range n {
		members = append(members, stat.Sample{N: n[i], Mean: mean[i], Variance: sd[i] * sd[i]})
	}
	within, _, _ := stat.Pooled(members...)
	near(t, "pooled variance", within, 16.0368292682927, 1e-12)
	v := make([]float64, len(n))
	for i := range v {
		v[i] = within / float64(n[i])
	}
	for _, c := range []struct {
		name     string
		method   stat.Heterogeneity
		mu, tau2 float64
		drawn    []float64
		tol      float64
	}{
		{"DerSimonian-Laird", stat.DerSimonianLaird, 8.49662720484288, 0.697031101772305,
			[]float64{8.08662263583378, 8.75270709401459, 8.1207195326769, 9.242254773135, 8.62649912504665, 8.15096006835038}, 1e-12},
		{"REML", stat.REML, 8.51037092700418, 0.635095807759647, // metafor stops at 1e-5
			[]float64{8.12850456606723, 8.74922019380087, 8.15267752202709, 9.21295327378086, 8.62817273572796, 8.19069728062109}, 1e-5},
	} {
		r, ok := stat.NewRandomEffects(mean, v, nil, c.method)
		if !ok {
			t.Fatalf("%s: not ok", c.name)
		}
		near(t, c.name+" mean", r.B[0], c.mu, c.tol)
		near(t, c.name+" tau2", r.Tau2, c.tau2, c.tol)
		least, leader := math.Inf(1), -1
		for i := range mean {
			drawn := stat.Shrink(mean[i], v[i], r.B[0], r.Tau2)
			near(t, c.name+" drawn in", drawn, c.drawn[i], c.tol)
			if drawn < least {
				least, leader = drawn, i
			}
		}
		if leader != 0 {
			t.Errorf("%s: member %d leads, want the first", c.name, leader)
		}
	}
}
