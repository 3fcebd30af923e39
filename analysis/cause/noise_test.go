package cause

import (
	"math"
	"testing"

	"rangepost/analysis"
	"rangepost/analysis/impact"
)

// The balls of a set tell how noisy its device is; a few do not, nor do those of a
// device that leaves out one of what it takes.
func TestNoiseOf(t *testing.T) {
	usual := impact.TypicalNoise()
	usual.Direction *= deviceNoise
	usual.Axis *= deviceNoise
	of := func(times float64, balls int, without ...analysis.Number) float64 {
		p := golfer(iron, 0, 0)
		p.Device.Noise.Direction, p.Device.Noise.Axis = times*usual.Direction, times*usual.Axis
		p.Device.Noise.Lateral = times
		set := p.Set(balls, "", seeded(3))
		for i := range set.Shots {
			for _, n := range without {
				set.Shots[i] = set.Shots[i].With(n, math.NaN())
			}
		}
		m := ModelOf(iron, Config{})
		got := noiseOf(set.Shots, &m)
		within(t, "start line's over axis's", got.Direction/usual.Direction, got.Axis/usual.Axis, 1e-9)
		return got.Axis / usual.Axis
	}
	within(t, "a quiet device", of(0.4, 60), 0.5, 0.1)
	within(t, "the usual device", of(1, 60), 1, 0.15)
	within(t, "a loud device", of(2, 60), 1.6, 0.3) // its axis hardly varies but by noise, of which the slope takes a part
	within(t, "three balls", of(0.4, 3), 1, 0)
	within(t, "no axis", of(0.4, 60, analysis.SpinAxis), 1, 0)
	within(t, "no finish", of(0.4, 60, analysis.Lateral), 1, 0)
}
