package stat_test

import (
	"math"
	"testing"

	"rangepost/analysis/stat"
)

// Efron & Morris's eighteen batters after 45 at-bats (1975, J. Am. Stat.
// Assoc. 70:311). The 1977 article (Sci. Am. 236(5):119) prints the factor
// .212 about the mean .265 [S], and total squared errors .077 against .022
// [M]; the figures are R's on pscl::EfronMorris [C].
var (
	hits      = []float64{18, 17, 16, 15, 14, 14, 13, 12, 11, 11, 10, 10, 10, 10, 10, 9, 8, 7}
	remainder = []float64{0.346, 0.298, 0.276, 0.222, 0.273, 0.27, 0.263, 0.21, 0.269, 0.23, 0.264, 0.256, 0.303, 0.264, 0.226, 0.285, 0.316, 0.2}
)

func TestJamesSteinBatters(t *testing.T) {
	y := make([]float64, len(hits))
	mean := 0.0
	for i, h := range hits {
		y[i] = h / 45
		mean += y[i] / float64(len(hits))
	}
	drawn, c, ok := stat.JamesStein(y, mean*(1-mean)/45)
	if !ok {
		t.Fatal("not ok")
	}
	near(t, "factor", c, 0.211653417144266, 1e-12)
	near(t, "first", drawn[0], 0.29391385489966, 1e-12)
	near(t, "last", drawn[17], 0.242176352931062, 1e-12)
	raw, shrunk := 0.0, 0.0
	for i := range y {
		raw += (y[i] - remainder[i]) * (y[i] - remainder[i])
		shrunk += (drawn[i] - remainder[i]) * (drawn[i] - remainder[i])
	}
	near(t, "squared error as seen", raw, 0.0753169506172839, 1e-12)
	near(t, "squared error drawn in", shrunk, 0.0213069148901974, 1e-12)
}

// The arcsine scale of the 1975 paper, where the variance is 1; it prints
// total squared errors 17.56 and 5.01 [M].
func TestJamesSteinArcsine(t *testing.T) {
	y := make([]float64, len(hits))
	for i, h := range hits {
		y[i] = math.Sqrt(45) * math.Asin(2*h/45-1)
	}
	drawn, c, _ := stat.JamesStein(y, 1)
	near(t, "factor", c, 0.208974232098123, 1e-12)
	raw, shrunk := 0.0, 0.0
	for i := range y {
		theta := math.Sqrt(45) * math.Asin(2*remainder[i]-1)
		raw += (y[i] - theta) * (y[i] - theta)
		shrunk += (drawn[i] - theta) * (drawn[i] - theta)
	}
	near(t, "squared error as seen", raw, 17.5706807426189, 1e-10)
	near(t, "squared error drawn in", shrunk, 4.99889913871531, 1e-10)
}
