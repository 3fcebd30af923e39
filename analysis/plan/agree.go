package plan

import "math"

// What a set's difference from the usual one may be, in spreads of one ball,
// before anything is seen of it (common practice, no source).
const (
	moves  = 0.4 // the chance that a set moves a number at all
	effect = 0.7 // the spread of a difference, where it does
	apart  = 0.7 // likewise of warm-up balls, and of balls after the end

	// tempered is how much of a ball's worth counts: balls resemble the ones
	// before them, and each turn is set up for anew.
	tempered = 0.5
)

// The balls of a course are the usual set's, those of one or two others, in
// front of the card, or after it.
const (
	mostGroups = 4
	mostDrift  = 16
	usual      = -1
)

// agreement is room to work in.
type agreement struct {
	figures
	alone []float64 // by number, what earlier visits alone are worth

	group  []int // of each stretch
	count  [mostGroups]float64
	in     [mostGroups][mostDrift]float64
	factor [mostGroups][mostGroups]float64 // Cholesky's, of prior and data
	log    float64                         // half the logarithm of how much more is known than before
}

func newAgreement(f figures) *agreement {
	a := &agreement{figures: f}
	a.factorise(f.sets)
	for j := range f.value {
		var b [mostGroups]float64
		copy(b[:], f.prior[j])
		a.alone = append(a.alone, mixed(a.worth(b, f.sets)))
	}
	return a
}

// of is the logarithm of how much likelier the figures are under a course than
// if no set moved anything: Bayes factors, number by number, of sets that move
// it against sets that do not, mixed (the linear model with normal priors, in
// closed form; Gelman et al. 2013, Bayesian Data Analysis, 3rd ed., ch. 14 [M]).
func (a *agreement) of(p Plan, stretches []stretch) float64 {
	if len(a.value) == 0 {
		return 0
	}
	groups := a.sets + 2
	a.group = a.group[:0]
	clear(a.count[:groups])
	clear(a.in[:groups])
	slot := 0
	for i, s := range stretches {
		g := usual
		switch {
		case s.turn != Nowhere:
			g = p.Turns[s.turn].Set - 1
		case i == 0:
			g = a.sets
		default:
			g = a.sets + 1
		}
		a.group = append(a.group, g)
		end := slot + s.slots
		if g != usual {
			a.count[g] += a.weight[end] - a.weight[slot]
			for q, d := range a.drift {
				a.in[g][q] += d[end] - d[slot]
			}
		}
		slot = end
	}
	a.factorise(groups)
	sum, product := 0.0, 1.0 // one logarithm for all
	for j, value := range a.value {
		var b [mostGroups]float64
		copy(b[:], a.prior[j])
		slot := 0
		for i, s := range stretches {
			end := slot + s.slots
			if g := a.group[i]; g != usual {
				b[g] += value[end] - value[slot]
			}
			slot = end
		}
		worth := a.worth(b, groups)
		if worth > large {
			sum += worth
			product *= moves
		} else {
			product *= 1 - moves + moves*math.Exp(worth)
		}
		sum -= a.alone[j]
	}
	return sum + math.Log(product)
}

// factorise takes the groups' information, by the prior, earlier visits and the
// counts, into its factor.
func (a *agreement) factorise(groups int) {
	a.log = 0
	for i := range groups {
		prior := 1 / (effect * effect)
		if i >= a.sets {
			prior = 1 / (apart * apart)
		}
		for k := range i + 1 {
			v := 0.0
			if i == k {
				v = a.count[i]
			}
			if i < a.sets {
				v += a.known[i][k]
			}
			for q := range a.drift {
				v -= a.in[i][q] * a.in[k][q]
			}
			v *= tempered
			if i == k {
				v += prior
			}
			for l := range k {
				v -= a.factor[i][l] * a.factor[k][l]
			}
			if i == k {
				a.log += 0.5 * math.Log(v/prior)
				a.factor[i][i] = math.Sqrt(v)
			} else {
				a.factor[i][k] = v / a.factor[k][k]
			}
		}
	}
}

// worth is the logarithm of the Bayes factor of a number with these sums.
func (a *agreement) worth(b [mostGroups]float64, groups int) float64 {
	sum := 0.0
	for i := range groups {
		v := tempered * b[i]
		for k := range i {
			v -= a.factor[i][k] * b[k]
		}
		b[i] = v / a.factor[i][i]
		sum += b[i] * b[i]
	}
	return sum/2 - a.log
}

// large is a logarithm beside whose exponential 1 is nothing.
const large = 30

func mixed(logRatio float64) float64 {
	if logRatio > large {
		return logRatio + math.Log(moves)
	}
	return math.Log(1 - moves + moves*math.Exp(logRatio))
}
