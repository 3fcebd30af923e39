package stat

import "math"

// A LocalLevel is readings of a level that walks,
//
//	y(t)     = level(t) + X(t)'b + e(t),  e(t) ~ N(0, scale w(t))
//	level(t+1) = level(t) + n(t),         n(t) ~ N(0, scale q)
//
// with interventions b (Harvey 1989, Forecasting, Structural Time Series Models
// and the Kalman Filter, 2.4 and 7.6; Durbin & Koopman 2012, Time Series
// Analysis by State Space Methods, 2nd ed., ch. 2 and 3.2 [M]). The level
// starts unknown, and again at every start. scale is common to both and not
// known.
type LocalLevel struct {
	Y      []float64
	W      []float64   // relative variances of the readings, positive
	X      [][]float64 // interventions: each as long as Y
	Start  []bool      // whether the level is unknown anew at a reading; nil for the first alone
	Absent []bool      // readings that are left out, while the level walks on; nil for none
}

// Innovations are what the filter leaves of a LocalLevel's readings and
// interventions: of each, how far it lies from what those before it say, with
// variance 1 times scale. A fit is least squares on them, whichever of the
// interventions it takes.
type Innovations struct {
	n     int         // innovations: readings less starts
	logF  float64     // sum of their log variances
	cross [][]float64 // products of the columns: 0 is y, 1+j is X[j]
}

// Innovations runs the filter for a walk of variance q a step: one pass for
// all columns (the augmented filter, de Jong 1991, Ann. Stat. 19:1073 [M]).
func (l LocalLevel) Innovations(q float64) Innovations {
	k := 1 + len(l.X)
	in := Innovations{cross: make([][]float64, k)}
	for i := range in.cross {
		in.cross[i] = make([]float64, k)
	}
	a, v := make([]float64, k), make([]float64, k)
	p := math.Inf(1) // variance of the level, unknown at first
	for t := range l.Y {
		if l.Start != nil && l.Start[t] {
			p = math.Inf(1)
		}
		if l.Absent != nil && l.Absent[t] {
			p += q
			continue
		}
		column := func(j int) float64 {
			if j == 0 {
				return l.Y[t]
			}
			return l.X[j-1][t]
		}
		if math.IsInf(p, 1) {
			for j := range a {
				a[j] = column(j)
			}
			p = l.W[t] + q
			continue
		}
		f := p + l.W[t]
		gain := p / f
		for j := range a {
			v[j] = column(j) - a[j]
			a[j] += gain * v[j]
		}
		for i, vi := range v {
			vi /= f
			for j := range i + 1 {
				in.cross[i][j] += vi * v[j]
			}
		}
		in.n++
		in.logF += math.Log(f)
		p = p*(1-gain) + q
	}
	for i := range in.cross {
		for j := range i {
			in.cross[j][i] = in.cross[i][j]
		}
	}
	return in
}

// LevelFit is a LocalLevel fitted with some of its interventions.
type LevelFit struct {
	B      [mostFitted]float64             // coefficients, in the order they were named
	Cov    [mostFitted][mostFitted]float64 // of B, times Scale
	Scale  float64                         // residual squares over degrees of freedom
	DF     int                             // innovations less interventions of which nothing was known
	LogLik float64                         // restricted, scale integrated over with density 1/scale; up to a constant of DF
}

// mostFitted is how many interventions are fitted at once.
const mostFitted = 4

// A Known is what is known of something before the data: of a variance, as
// much as so many readings of it say that give this mean square.
type Known struct {
	DF    int
	Scale float64
}

// Fit fits the interventions named by their places in X, at most four. Of each, prior is
// the variance, times scale, that it is known to have about zero: infinite if
// nothing is known. ok is false when no degree of freedom is left, or they
// cannot be told apart.
func (in Innovations) Fit(x []int, prior []float64, known Known) (f LevelFit, ok bool) {
	k := len(x)
	f.DF = in.n
	// Cholesky's factor of S + P, and the solution by it.
	var l, inv [mostFitted][mostFitted]float64
	var z [mostFitted]float64
	logDet := 0.0
	rss := in.cross[0][0]
	for i := range k {
		for j := range i {
			sum := in.cross[1+x[i]][1+x[j]]
			for m := range j {
				sum -= l[i][m] * l[j][m]
			}
			l[i][j] = sum / l[j][j]
		}
		whole := in.cross[1+x[i]][1+x[i]]
		if math.IsInf(prior[i], 1) {
			f.DF--
		} else {
			whole += 1 / prior[i]
			logDet += math.Log(prior[i])
		}
		left := whole
		for m := range i {
			left -= l[i][m] * l[i][m]
		}
		if !(left > 1e-10*whole) {
			return f, false
		}
		l[i][i] = math.Sqrt(left)
		logDet += math.Log(left)
		z[i] = in.cross[1+x[i]][0]
		for m := range i {
			z[i] -= l[i][m] * z[m]
		}
		z[i] /= l[i][i]
		rss -= z[i] * z[i]
		inv[i][i] = 1 / l[i][i]
		for j := range i {
			sum := 0.0
			for m := j; m < i; m++ {
				sum -= l[i][m] * inv[m][j]
			}
			inv[i][j] = sum / l[i][i]
		}
	}
	if f.DF < 1 {
		return f, false
	}
	for i := range k {
		for m := i; m < k; m++ {
			f.B[i] += inv[m][i] * z[m]
		}
		for j := range k {
			for m := max(i, j); m < k; m++ {
				f.Cov[i][j] += inv[m][i] * inv[m][j]
			}
		}
	}
	// What lies within rounding of nothing is nothing.
	rss = max(rss, 1e-14*in.cross[0][0]) + float64(known.DF)*known.Scale
	if !(rss > 0) {
		return f, false
	}
	f.DF += known.DF
	f.Scale = rss / float64(f.DF)
	f.LogLik = -(in.logF + logDet + float64(f.DF)*math.Log(rss)) / 2
	return f, true
}
