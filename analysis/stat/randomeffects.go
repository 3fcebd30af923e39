package stat

import (
	"math"

	"gonum.org/v1/gonum/stat/distuv"
)

// RandomEffects is the model of means y(i), each with a known squared standard
// error v(i), that themselves vary by tau2 about a line:
//
//	y(i) ~ N(b0 + b1 x(i), tau2 + v(i))
//
// fitted with weights 1/(tau2 + v(i)). Without x there is b0 alone.
type RandomEffects struct {
	B    []float64 // coefficients
	SE   []float64 // their standard errors, Knapp & Hartung's, never under the plain ones
	Free []float64 // Knapp & Hartung's as published, without that floor
	Wald []float64 // the plain ones, which take tau2 for known: too small
	DF   int       // of Knapp & Hartung's t: means less coefficients
	Tau2 float64
	Q    float64 // Cochran's: weighted squares about the fit with tau2 = 0
}

// A Heterogeneity is a way to estimate tau2.
type Heterogeneity uint8

const (
	// REML is restricted maximum likelihood by Fisher scoring (Viechtbauer
	// 2005, J. Educ. Behav. Stat. 30:261). The default.
	REML Heterogeneity = iota
	// DerSimonianLaird is by moments (DerSimonian & Laird 1986, Control. Clin.
	// Trials 7:177); it undercovers for few means.
	DerSimonianLaird
	// PauleMandel makes the generalised Q its expectation (Paule & Mandel
	// 1982, J. Res. NBS 87:377).
	PauleMandel
)

// NewRandomEffects fits the model; x is nil or as long as y and v. Standard
// errors are those of Knapp & Hartung (2003, Stat. Med. 22:2693), which carry
// the uncertainty of tau2 by t with as many degrees of freedom as means left
// over. Where the means happen to lie closer than their own errors explain, the
// plain standard error stands: without that floor the limits miss too often in
// some designs (Roever, Knapp & Friede 2015, BMC Med. Res. Methodol. 15:99
// [M]). ok is false when no degree of freedom is left, some v is negative, x
// does not vary, or nothing varies.
func NewRandomEffects(y, v, x []float64, method Heterogeneity) (r RandomEffects, ok bool) {
	p := 1
	if x != nil {
		p = 2
	}
	k := len(y)
	if k <= p {
		return RandomEffects{}, false
	}
	known := false
	for _, u := range v {
		if u < 0 {
			return RandomEffects{}, false
		}
		known = known || u > 0
	}
	r.DF = k - p
	if !known {
		// Exact means: plain least squares, all of the scatter is tau2.
		f, ok := fitLine(y, v, x, 1)
		if !ok || !(f.rss > 0) {
			return RandomEffects{}, false
		}
		r.Tau2, r.Q = f.rss/float64(r.DF), math.Inf(1)
		return r.finish(f, r.Tau2), true
	}
	f, ok := fitLine(y, v, x, 0)
	if !ok {
		return RandomEffects{}, false
	}
	r.Q = f.rss
	switch method {
	case DerSimonianLaird:
		r.Tau2 = max(0, (f.rss-float64(r.DF))/f.traceP)
	case PauleMandel:
		r.Tau2 = pauleMandel(y, v, x, float64(r.DF), f.rss)
	default:
		r.Tau2 = reml(y, v, x, f, r.DF)
	}
	f, _ = fitLine(y, v, x, r.Tau2)
	if !(f.rss > 0) {
		return RandomEffects{}, false
	}
	return r.finish(f, 1), true
}

// finish takes over a fit whose weights are scale times the right ones.
func (r RandomEffects) finish(f lineFit, scale float64) RandomEffects {
	q := f.rss / scale / float64(r.DF)
	for i, b := range f.b {
		wald := math.Sqrt(scale * f.cov[i][i])
		r.B = append(r.B, b)
		r.Wald = append(r.Wald, wald)
		r.Free = append(r.Free, math.Sqrt(q)*wald)
		r.SE = append(r.SE, math.Sqrt(max(1, q))*wald)
	}
	return r
}

// Limits are the Knapp-Hartung limits of coefficient i.
func (r RandomEffects) Limits(i int, level float64) (low, high float64) {
	half := StudentQuantile((1+level)/2, r.DF) * r.SE[i]
	return r.B[i] - half, r.B[i] + half
}

// FreeLimits are those without the floor under the error: of means alike in
// precision exact, where the others hold too much.
func (r RandomEffects) FreeLimits(i int, level float64) (low, high float64) {
	half := StudentQuantile((1+level)/2, r.DF) * r.Free[i]
	return r.B[i] - half, r.B[i] + half
}

// P is the two-sided Knapp-Hartung p of coefficient i being zero.
func (r RandomEffects) P(i int) float64 {
	return 2 * distuv.StudentsT{Sigma: 1, Nu: float64(r.DF)}.Survival(math.Abs(r.B[i]/r.SE[i]))
}

// pauleMandel solves Q(tau2) = df; Q falls in tau2.
func pauleMandel(y, v, x []float64, df, q0 float64) float64 {
	if q0 <= df {
		return 0
	}
	excess := func(tau2 float64) float64 {
		f, _ := fitLine(y, v, x, tau2)
		return f.rss - df
	}
	high := 1.0
	for excess(high) > 0 {
		high *= 4
	}
	return root(excess, 0, high, 1e-12)
}

// reml is Fisher scoring from the moment estimate, steps that overshoot zero
// being cut in half until they no longer do.
func reml(y, v, x []float64, at0 lineFit, df int) float64 {
	tau2 := max(0, (at0.rss-float64(df))/at0.traceP)
	for range 100 {
		f, _ := fitLine(y, v, x, tau2)
		step := (f.yPPy - f.traceP) / f.tracePP
		if tau2 == 0 && step < 0 {
			return 0
		}
		for tau2+step < 0 {
			step /= 2
			if tau2+step < 1e-10*(tau2-step) {
				step = -tau2
			}
		}
		tau2 += step
		if math.Abs(step) <= 1e-12*tau2 {
			break
		}
	}
	return tau2
}

// lineFit is weighted least squares with weights w = 1/(v + tau2), and the
// traces of P = W - WX(X'WX)^-1 X'W that estimating tau2 needs.
type lineFit struct {
	b               []float64
	cov             [2][2]float64 // (X'WX)^-1
	rss             float64       // y'Py
	yPPy            float64
	traceP, tracePP float64
}

func fitLine(y, v, x []float64, tau2 float64) (f lineFit, ok bool) {
	// s[m][j] is the sum of w^(m+1) x^j.
	var s [3][3]float64
	var wy, wxy float64
	for i := range y {
		w := 1 / (v[i] + tau2)
		xi := 0.0
		if x != nil {
			xi = x[i]
		}
		wy += w * y[i]
		wxy += w * xi * y[i]
		for m, wm := 0, w; m < 3; m, wm = m+1, wm*w {
			s[m][0] += wm
			s[m][1] += wm * xi
			s[m][2] += wm * xi * xi
		}
	}
	if x == nil {
		f.cov[0][0] = 1 / s[0][0]
		f.b = []float64{wy / s[0][0]}
	} else {
		det := s[0][0]*s[0][2] - s[0][1]*s[0][1]
		if !(det > 1e-12*s[0][0]*s[0][2]) {
			return f, false
		}
		f.cov = [2][2]float64{{s[0][2] / det, -s[0][1] / det}, {-s[0][1] / det, s[0][0] / det}}
		f.b = []float64{f.cov[0][0]*wy + f.cov[0][1]*wxy, f.cov[1][0]*wy + f.cov[1][1]*wxy}
	}
	for i := range y {
		w := 1 / (v[i] + tau2)
		r := y[i] - f.b[0]
		if x != nil {
			r -= f.b[1] * x[i]
		}
		f.rss += w * r * r
		f.yPPy += w * w * r * r
	}
	// A = (X'WX)^-1 X'W^2X and B = (X'WX)^-1 X'W^3X.
	a := times(f.cov, [2][2]float64{{s[1][0], s[1][1]}, {s[1][1], s[1][2]}})
	b := times(f.cov, [2][2]float64{{s[2][0], s[2][1]}, {s[2][1], s[2][2]}})
	aa := times(a, a)
	f.traceP = s[0][0] - a[0][0] - a[1][1]
	f.tracePP = s[1][0] - 2*(b[0][0]+b[1][1]) + aa[0][0] + aa[1][1]
	return f, true
}

func times(a, b [2][2]float64) (c [2][2]float64) {
	for i := range 2 {
		for j := range 2 {
			c[i][j] = a[i][0]*b[0][j] + a[i][1]*b[1][j]
		}
	}
	return c
}
