package cause

import "math"

// secant finds the angle, rad, at which f is within near of zero, from two
// angles to begin with; f has to be close to a straight line. ok is false when
// there is none within most of zero or it is not found in twenty steps.
func secant(f func(float64) float64, a, b, near, most float64) (angle float64, ok bool) {
	fa, fb := f(a), f(b)
	for range 20 {
		if math.Abs(fb) < near {
			return b, true
		}
		if fa == fb {
			return 0, false
		}
		next := b - fb*(b-a)/(fb-fa)
		if !(math.Abs(next) <= most) {
			return 0, false
		}
		a, fa = b, fb
		b, fb = next, f(next)
	}
	return 0, false
}
