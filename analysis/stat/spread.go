package stat

import "math"

// Means are estimates of effects, each with its squared standard error.
type Means struct{ Y, V []float64 }

// About is the mean the effects vary about, and its squared standard error, if
// they do so by tau: weights are 1/(tau^2 + v(i)).
func (m Means) About(tau float64) (mean, v float64) {
	precision, pull := 0.0, 0.0
	for i, y := range m.Y {
		w := 1 / (tau*tau + m.V[i])
		precision += w
		pull += w * y
	}
	return pull / precision, 1 / precision
}

// A Spread is what is known of a standard deviation tau: values it may have, and
// the probability of each. The probabilities add up to 1.
type Spread struct{ Tau, P []float64 }

// SpreadOf is the posterior of the standard deviation by which effects vary about
// a mean of their own in each of some groups,
//
//	y(g,i) ~ N(mu(g), tau^2 + v(g,i)),  tau ~ |N(0, scale^2)|,
//
// with every mu(g) unknown (flat), which is to say by the restricted likelihood
// that REML maximises. Averaging over it carries the doubt of tau into what is
// made of it; the one tau of REML does not, and its prediction limits for 5 to 40
// effects hold 87 to 92 % where tau is no larger than the errors (Partlett & Riley
// 2017, Stat. Med. 36:301 [M] find as much; here [C]). A half-normal prior is what
// Roever et al. (2021, Res. Synth. Methods 12:448 [M]) recommend. Groups of one
// say nothing of tau.
func SpreadOf(scale float64, groups ...Means) Spread {
	const grid = 64
	s := Spread{make([]float64, grid), make([]float64, grid)}
	least := math.Inf(1)
	for k := range grid {
		// Denser near zero, up to four times the scale.
		u := (float64(k) + 0.5) / grid
		tau := 4 * scale * u * u
		cost := tau*tau/(scale*scale) - 2*math.Log(u) // -2 log posterior
		for _, g := range groups {
			if len(g.Y) < 2 {
				continue
			}
			mean, v := g.About(tau)
			cost -= math.Log(v)
			for i, y := range g.Y {
				each := tau*tau + g.V[i]
				cost += math.Log(each) + (y-mean)*(y-mean)/each
			}
		}
		s.Tau[k], s.P[k] = tau, cost
		least = min(least, cost)
	}
	total := 0.0
	for k, cost := range s.P {
		s.P[k] = math.Exp((least - cost) / 2)
		total += s.P[k]
	}
	for k := range s.P {
		s.P[k] /= total
	}
	return s
}

// Mean is the mean of tau.
func (s Spread) Mean() (mean float64) {
	for k, tau := range s.Tau {
		mean += s.P[k] * tau
	}
	return mean
}

// Square is the mean of tau squared.
func (s Spread) Square() (square float64) {
	for k, tau := range s.Tau {
		square += s.P[k] * tau * tau
	}
	return square
}

// A Predicted is what effects say of the mean they vary about, and of one effect
// more.
type Predicted struct {
	Mean            float64
	Low, High       float64 // limits of that mean
	NewLow, NewHigh float64 // of one effect more (Higgins, Thompson & Spiegelhalter 2009, J. R. Stat. Soc. A 172:137 [M])
}

// Predict averages over the spread of m, which must have an effect at least.
func (s Spread) Predict(m Means, level float64) (p Predicted) {
	n := len(s.Tau)
	means, ses, sds := make([]float64, n), make([]float64, n), make([]float64, n)
	for k, tau := range s.Tau {
		mean, v := m.About(tau)
		means[k], ses[k], sds[k] = mean, math.Sqrt(v), math.Sqrt(v+tau*tau)
		p.Mean += s.P[k] * mean
	}
	tail := (1 - level) / 2
	p.Low, p.High = MixtureQuantile(tail, means, ses, s.P), MixtureQuantile(1-tail, means, ses, s.P)
	p.NewLow, p.NewHigh = MixtureQuantile(tail, means, sds, s.P), MixtureQuantile(1-tail, means, sds, s.P)
	return p
}
