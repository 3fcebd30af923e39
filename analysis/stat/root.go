package stat

import "math"

// root is a zero of the monotone function f between low and high, to the
// relative tolerance tol, by bisection hurried by false position (the Illinois
// rule: Dowell & Jarratt 1971, BIT 11:168). Where f has one sign on the whole
// interval the end nearer zero is returned.
func root(f func(float64) float64, low, high, tol float64) float64 {
	fl, fh := f(low), f(high)
	if fl == 0 {
		return low
	}
	if fh == 0 {
		return high
	}
	if (fl > 0) == (fh > 0) {
		if math.Abs(fl) < math.Abs(fh) {
			return low
		}
		return high
	}
	side := 0
	for range 200 {
		if math.Abs(high-low) <= tol*max(math.Abs(low), math.Abs(high)) {
			break
		}
		x := (fl*high - fh*low) / (fl - fh)
		if !(x > min(low, high) && x < max(low, high)) {
			x = (low + high) / 2
		}
		fx := f(x)
		switch {
		case fx == 0:
			return x
		case (fx > 0) == (fh > 0):
			high, fh = x, fx
			if side == -1 {
				fl /= 2
			}
			side = -1
		default:
			low, fl = x, fx
			if side == 1 {
				fh /= 2
			}
			side = 1
		}
		if math.Abs(fx) < 1e-13 {
			return x
		}
	}
	return (low + high) / 2
}
