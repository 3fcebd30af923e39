package timeline

import (
	"math"

	"rangepost/analysis/stat"
)

// Apart is how far apart the last two sessions' means fall in 19 of 20 pairs
// when nothing changed: so many standard deviations of their difference as
// Student's t of the sessions before the last asks for, from what lies between
// those and within them. The last one is left out of the spread it is judged
// by. ok is false with fewer than five sessions before it.
func Apart(r Result) (d float64, ok bool) {
	n := len(r.Points)
	if n < 6 || r.Within <= 0 {
		return 0, false
	}
	within := r.Within * r.Within
	var y, v []float64
	for _, p := range r.Points[:n-1] {
		y = append(y, p.Mean.Mean)
		v = append(v, within/float64(p.Mean.N))
	}
	between := 0.0
	if e, ok := stat.NewRandomEffects(y, v, nil, stat.REML); ok {
		between = e.Tau2
	}
	last, before := float64(r.Points[n-1].Mean.N), float64(r.Points[n-2].Mean.N)
	return stat.StudentQuantile(0.975, n-2) * math.Sqrt(2*between+within/last+within/before), true
}
