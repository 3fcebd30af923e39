package stat_test

import (
	"math"
	"testing"

	"rangepost/analysis/stat"
)

// The thirteen BCG trials, and the first six of them, by R package bayesmeta 3.4
// (Roever 2020, J. Stat. Softw. 93(6)), tau.prior half-normal, flat prior of the
// mean, central intervals,
// delta 1e-4 and epsilon 1e-7 [C]: mu's mean and limits, theta's are those of one
// trial more.
func TestSpreadAgainstReference(t *testing.T) {
	six := stat.Means{Y: bcg.Y[:6], V: bcg.V[:6]}
	for _, c := range []struct {
		name                       string
		m                          stat.Means
		scale                      float64
		tau, tauSD, mu             float64
		low, high, newLow, newHigh float64
	}{
		{"thirteen", bcg, 0.5, 0.5719096716, 0.1430049490, -0.7118596371, -1.0912042367, -0.3469947426, -1.9581380768, 0.5172722235},
		{"six", six, 2, 0.6567523426, 0.3378516211, -0.9984052106, -1.6896982828, -0.3459811056, -2.6664180152, 0.6268782821},
	} {
		s := stat.SpreadOf(c.scale, c.m)
		p := s.Predict(c.m, 0.95)
		const tol = 3e-4 // 64 values of tau
		near(t, c.name+": tau", s.Mean(), c.tau, tol)
		near(t, c.name+": tau's SD", math.Sqrt(s.Square()-s.Mean()*s.Mean()), c.tauSD, tol)
		near(t, c.name+": mean", p.Mean, c.mu, tol)
		near(t, c.name+": low", p.Low, c.low, tol)
		near(t, c.name+": high", p.High, c.high, tol)
		near(t, c.name+": one more, low", p.NewLow, c.newLow, tol)
		near(t, c.name+": one more, high", p.NewHigh, c.newHigh, tol)
	}
}

// Groups with means of their own tell of one spread as their deviations do: two
// exact pairs half a unit to either side of whatever mean. A group of one, and a
// shift of a whole group, change nothing.
func TestSpreadWithinGroups(t *testing.T) {
	exact := []float64{1e-9, 1e-9}
	alike := stat.SpreadOf(1, stat.Means{Y: []float64{-0.5, 0.5}, V: exact}, stat.Means{Y: []float64{-0.5, 0.5}, V: exact})
	apart := stat.SpreadOf(1, stat.Means{Y: []float64{6.5, 7.5}, V: exact}, stat.Means{Y: []float64{-4.5, -3.5}, V: exact},
		stat.Means{Y: []float64{40}, V: exact[:1]})
	near(t, "mean", apart.Mean(), alike.Mean(), 1e-9)
	near(t, "square", apart.Square(), alike.Square(), 1e-9)
	// The posterior is tau^-2 exp(-1/2 (tau^-2 sum of squares + tau^2)): by plain
	// sums over a fine grid.
	var total, mean float64
	for tau := 0.0005; tau < 8; tau += 0.001 {
		p := math.Exp(-(0.5+0.5)/(2*tau*tau)-tau*tau/2) / (tau * tau)
		total, mean = total+p, mean+p*tau
	}
	near(t, "mean by sums", alike.Mean(), mean/total, 0.002)
}
