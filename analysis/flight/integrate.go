package flight

import "math"

// The embedded pair of order 5(4) and its continuous extension of order 4:
// Dormand and Prince (1980), J. Comp. Appl. Math. 6:19; Hairer, Norsett and
// Wanner (1993), Solving Ordinary Differential Equations I, II.5-6.
const (
	a21 = 1. / 5
	a31 = 3. / 40
	a32 = 9. / 40
	a41 = 44. / 45
	a42 = -56. / 15
	a43 = 32. / 9
	a51 = 19372. / 6561
	a52 = -25360. / 2187
	a53 = 64448. / 6561
	a54 = -212. / 729
	a61 = 9017. / 3168
	a62 = -355. / 33
	a63 = 46732. / 5247
	a64 = 49. / 176
	a65 = -5103. / 18656
	b1  = 35. / 384
	b3  = 500. / 1113
	b4  = 125. / 192
	b5  = -2187. / 6784
	b6  = 11. / 84
	e1  = 71. / 57600
	e3  = -71. / 16695
	e4  = 71. / 1920
	e5  = -17253. / 339200
	e6  = 22. / 525
	e7  = -1. / 40
	d1  = -12715105075. / 11282082432
	d3  = 87487479700. / 32700410799
	d4  = -10690763975. / 1880347072
	d5  = 701980252875. / 199316789632
	d6  = -1453857185. / 822651844
	d7  = 69997945. / 29380423
)

// tolerance is the error of position allowed in one step, m. A flight takes
// about a dozen steps. Where a ball that barely rises comes down hangs on its
// height far more than usual, so it is flown more carefully.
func (s *state) tolerance() float64 {
	return 1e-4 * min(1, max(0.02, s[5]/5))
}

// maxSteps ends a flight that does not come down; a real one takes a dozen.
const maxSteps = 100_000

// integrate flies the ball from s until it comes back down to z = 0 and
// returns it there, the height of its apex and the time taken: all of them not
// a number where the launch or the air is not.
func (p *problem) integrate(s state, tolerance float64) (end state, apex, t float64) {
	var k1, k2, k3, k4, k5, k6, k7, y, next state
	p.slope(&s, &k1)
	for _, v := range s { // a ball that would not leave the ground hides what is not a number
		if math.IsNaN(v) || math.IsInf(v, 0) {
			return nowhere, math.NaN(), math.NaN()
		}
	}
	if !(s[5] > 0 || s[5] == 0 && k1[5] > 0) {
		return s, 0, 0
	}
	// An error in velocity grows into one of position over the seconds left; a
	// part in a thousand of the spin matters about as much as a centimetre.
	weight := state{1, 1, 1, 4, 4, 4, 10 / max(1, s[6])}
	// A ball that barely rises may be down again before a usual step is over.
	h := min(0.1, max(0.005, s[5]/(2*gravity)))
	for range maxSteps {
		for i := range y {
			y[i] = s[i] + h*a21*k1[i]
		}
		p.slope(&y, &k2)
		for i := range y {
			y[i] = s[i] + h*(a31*k1[i]+a32*k2[i])
		}
		p.slope(&y, &k3)
		for i := range y {
			y[i] = s[i] + h*(a41*k1[i]+a42*k2[i]+a43*k3[i])
		}
		p.slope(&y, &k4)
		for i := range y {
			y[i] = s[i] + h*(a51*k1[i]+a52*k2[i]+a53*k3[i]+a54*k4[i])
		}
		p.slope(&y, &k5)
		for i := range y {
			y[i] = s[i] + h*(a61*k1[i]+a62*k2[i]+a63*k3[i]+a64*k4[i]+a65*k5[i])
		}
		p.slope(&y, &k6)
		for i := range next {
			next[i] = s[i] + h*(b1*k1[i]+b3*k3[i]+b4*k4[i]+b5*k5[i]+b6*k6[i])
		}
		p.slope(&next, &k7)

		worst := 0.0
		for i := range next {
			e := h * (e1*k1[i] + e3*k3[i] + e4*k4[i] + e5*k5[i] + e6*k6[i] + e7*k7[i])
			if e = math.Abs(e) * weight[i]; !(e <= worst) {
				worst = e
			}
		}
		ratio := worst / tolerance
		if math.IsNaN(ratio) {
			break
		}
		// The theory asks for the fifth root; the fourth is a little bolder
		// when the step grows, more careful when it shrinks, and far cheaper.
		grow := min(5, max(0.2, 0.9/math.Sqrt(math.Sqrt(ratio))))
		if ratio > 1 {
			h *= grow
			continue
		}

		if s[5] > 0 && next[5] <= 0 || next[2] <= 0 {
			var r dense
			r.fill(h, &s, &next, &k1, &k3, &k4, &k5, &k6, &k7)
			if s[5] >= 0 {
				apex = max(apex, r.at(2, r.falling(5)))
			}
			if next[2] <= 0 {
				u := r.falling(2)
				for i := range end {
					end[i] = r.at(i, u)
				}
				end[2] = 0
				return end, apex, t + u*h
			}
		}
		t += h
		s, k1 = next, k7
		h *= grow
	}
	return nowhere, math.NaN(), math.NaN()
}

// nowhere is where a ball comes down whose numbers are not.
var nowhere = state{math.NaN(), math.NaN(), math.NaN(), math.NaN(), math.NaN(), math.NaN(), math.NaN()}

// dense is the continuous extension over one step.
type dense [5]state

func (r *dense) fill(h float64, s, next, k1, k3, k4, k5, k6, k7 *state) {
	for i := range s {
		change := next[i] - s[i]
		bend := h*k1[i] - change
		r[0][i] = s[i]
		r[1][i] = change
		r[2][i] = bend
		r[3][i] = change - h*k7[i] - bend
		r[4][i] = h * (d1*k1[i] + d3*k3[i] + d4*k4[i] + d5*k5[i] + d6*k6[i] + d7*k7[i])
	}
}

// at is component i a fraction u through the step.
func (r *dense) at(i int, u float64) float64 {
	v := 1 - u
	return r[0][i] + u*(r[1][i]+v*(r[2][i]+u*(r[3][i]+v*r[4][i])))
}

// falling is the fraction of the step at which component i falls through
// zero: it is not below zero at the start and not above at the end. It halves
// the bracket or, where that is quicker, cuts it by the secant (Illinois).
func (r *dense) falling(i int) float64 {
	lo, hi := 0.0, 1.0
	fLo, fHi := r.at(i, lo), r.at(i, hi)
	if fHi >= 0 {
		return 1
	}
	side := 0
	for range 60 {
		u := (lo*fHi - hi*fLo) / (fHi - fLo)
		if !(u > lo && u < hi) {
			u = (lo + hi) / 2
		}
		f := r.at(i, u)
		if math.Abs(f) < rootTolerance {
			return u
		}
		if f > 0 {
			lo, fLo = u, f
			if side > 0 {
				fHi /= 2
			}
			side = 1
		} else {
			hi, fHi = u, f
			if side < 0 {
				fLo /= 2
			}
			side = -1
		}
	}
	return hi
}

// rootTolerance is in m for a landing and m/s for an apex; a ball on its way
// down a hundredth of a degree steep has moved on by half a centimetre for every
// micrometre.
const rootTolerance = 1e-9
