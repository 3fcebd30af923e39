package stat_test

import (
	"testing"

	"rangepost/analysis/stat"
)

// R 4.2.2, anova(lm(abs(y - median) ~ set)) on the four invented sets [C].
func TestBrownForsythe(t *testing.T) {
	p, ok := stat.BrownForsythe([][]float64{base, strong, weak, usual})
	if !ok {
		t.Fatal("not ok")
	}
	near(t, "p", p, 0.510207179484959, 1e-9)
}
