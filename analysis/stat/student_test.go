package stat_test

import (
	"fmt"
	"math"
	"testing"

	"gonum.org/v1/gonum/stat/distuv"

	"rangepost/analysis/stat"
)

// By gonum's incomplete beta function, and by quantiles of printed tables.
func TestStudentBelow(t *testing.T) {
	for _, df := range []int{1, 2, 3, 4, 7, 10, 31, 60, 241} {
		want := distuv.StudentsT{Sigma: 1, Nu: float64(df)}
		for _, x := range []float64{-9, -2.5, -1, -0.01, 0, 0.3, 1.7, 4, 30} {
			near(t, fmt.Sprintf("t %g, %d degrees of freedom", x, df), stat.StudentBelow(x, df), want.CDF(x), 1e-12)
		}
	}
	// Student's own table (1908), and after.
	near(t, "one", stat.StudentBelow(12.7062047364, 1), 0.975, 1e-10)
	near(t, "five", stat.StudentBelow(-2.5705818356, 5), 0.025, 1e-10)
	if p := stat.StudentBelow(math.Inf(1), 4); p != 1 {
		t.Errorf("below infinity: %g", p)
	}
	if p := stat.StudentBelow(math.Inf(-1), 4); p != 0 {
		t.Errorf("below minus infinity: %g", p)
	}
}
