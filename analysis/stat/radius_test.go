package stat

import (
	"math"
	"testing"
)

// R 4.2.2: qf and eigen(cov) on the twelve points. [C]
func TestRadii(t *testing.T) {
	m, ok := MomentsOf(twelveX, twelveY)
	if !ok {
		t.Fatal("no moments")
	}
	within(t, "XX", m.XX, 11.1472727272727, 1e-12)
	within(t, "XY", m.XY, -5.85272727272727, 1e-12)
	within(t, "YY", m.YY, 11.2533333333333, 1e-12)
	centre, _ := CentreRadius2(12, 0.95)
	next, _ := NextRadius2(12, 0.95)
	half, _ := NextRadius2(12, 0.5)
	within(t, "centre radius", centre, 0.752183852773907, 1e-12)
	within(t, "next radius", next, 9.77839008606079, 1e-11)
	within(t, "next radius, 50 %", half, 1.77198873038133, 1e-12)
	major, minor, angle := m.Axes(centre)
	within(t, "centre major", major, 3.5815073281825, 1e-11)
	within(t, "centre minor", minor, 2.00553719220369, 1e-11)
	within(t, "angle", angle*180/math.Pi+180, 134.740434735515, 1e-9)
	major, minor, _ = m.Axes(next)
	within(t, "next major", major, 12.913308315212, 1e-10)
	within(t, "next minor", minor, 7.23106718134048, 1e-10)
}

// At 10 points the region of the next one has a squared radius of 11.04, where
// the chi-square with a known scatter would have 5.99.
func TestNextRadiusIsNotChiSquare(t *testing.T) {
	r2, _ := NextRadius2(10, 0.95)
	within(t, "n 10", r2, 11.04, 0.005)
	r2, _ = NextRadius2(1_000_000, 0.95)
	within(t, "n without end", r2, 5.99146454710798, 1e-4)
}

func TestMomentsOfTooFew(t *testing.T) {
	spot, _ := MomentsOf([]float64{5, 5, 5}, []float64{1, 1, 1})
	if !spot.Singular() {
		t.Error("a spot is not singular")
	}
	if _, ok := MomentsOf([]float64{1}, []float64{1}); ok {
		t.Error("one point has a covariance")
	}
}
