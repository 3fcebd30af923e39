package panel

import (
	"math"

	"rangepost/analysis"
)

// alone is the change of one thing, nearest to none, that brings the mean of
// run to the target line, rad, or NaN when none within 25 deg does. It is
// looked for with the mean ball and found with all of them.
func (h hitter) alone(p plan, run []flown, move func(*analysis.Delivery, float64)) float64 {
	one := func(by float64) float64 {
		d := p.mean
		move(&d, by)
		return h.lateral(d, h.wind.toward(1))
	}
	all := func(by float64) float64 {
		sum := 0.0
		for _, r := range run {
			move(&r.d, by)
			sum += h.lateral(r.d, r.wind)
		}
		return sum / float64(len(run))
	}
	const most, stride = 25 * deg, 2.5 * deg
	start := one(0)
	left, right := start, start
	for by := stride; by <= most+1e-9; by += stride {
		l, r := one(-by), one(by)
		lo, left0 := root(one, -by, -by+stride, l, left)
		hi, right0 := root(one, by-stride, by, right, r)
		switch {
		case left0 && (!right0 || -lo < hi):
			return polish(all, one, lo, most)
		case right0:
			return polish(all, one, hi, most)
		}
		left, right = l, r
	}
	return math.NaN()
}

// root is where f crosses zero between a and b, by false position's Illinois
// variant, if fa and fb are of opposite sides.
func root(f func(float64) float64, a, b, fa, fb float64) (float64, bool) {
	if fa*fb > 0 {
		return 0, false
	}
	x := a
	for range 30 {
		if fa == fb {
			break
		}
		x = b - fb*(b-a)/(fb-fa)
		fx := f(x)
		if math.Abs(fx) < 1e-3 {
			break
		}
		if fx*fb < 0 {
			a, fa = b, fb
		} else {
			fa /= 2
		}
		b, fb = x, fx
	}
	return x, true
}

// polish moves a root of the mean ball to one of the mean of the balls, some
// tenths of a degree off: by secants, the first with the mean ball's slope.
func polish(all, one func(float64) float64, x, most float64) float64 {
	const near = 0.1 * deg
	slope := (one(x+near) - one(x-near)) / (2 * near)
	fx := all(x)
	for range 8 {
		if math.Abs(fx) < 0.01 {
			return x
		}
		if slope == 0 {
			break
		}
		next := x - fx/slope
		if math.Abs(next) > most {
			return math.NaN()
		}
		f := all(next)
		slope = (f - fx) / (next - x)
		x, fx = next, f
	}
	if math.Abs(fx) < 0.1 {
		return x
	}
	return math.NaN()
}
