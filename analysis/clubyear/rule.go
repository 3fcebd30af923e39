package clubyear

import (
	"math"
	"math/rand/v2"
	"sync"

	"gonum.org/v1/gonum/floats"
	"gonum.org/v1/gonum/stat"
	"gonum.org/v1/gonum/stat/distuv"

	"rangepost/analysis"
	"rangepost/analysis/panel"
)

// needs are the numbers a ball must have to count.
func (r Rule) needs() []analysis.Number {
	switch r.Kind {
	case Within:
		if r.Number == analysis.FaceToPath { // which no device of ours writes
			return []analysis.Number{analysis.Face, analysis.Path}
		}
		return []analysis.Number{r.Number}
	case Area, Nearest:
		return []analysis.Number{analysis.Carry, analysis.Lateral}
	}
	return []analysis.Number{analysis.Lateral}
}

func (r Rule) club() analysis.Club {
	c, err := analysis.ParseClub(r.Club)
	if err != nil {
		panic(err) // a rule of ours
	}
	return c
}

// counted are the first balls of the rule's club that have what it needs.
func (r Rule) counted(shots []analysis.Shot) []analysis.Shot {
	var all []analysis.Shot
next:
	for _, s := range shots {
		for _, n := range r.needs() {
			if !s.Has(n) {
				continue next
			}
		}
		if s.Club == r.club() && len(all) < r.Balls {
			all = append(all, s)
		}
	}
	return all
}

// Score is the plainest reading of the rule, in m, m2, a share or a ratio: less is
// better. It believes whatever it is given, past included, and is no number, with
// ok false, with too few balls or no past to progress from.
func (r Rule) Score(shots []analysis.Shot, left bool, past ...[]analysis.Shot) (score float64, ok bool) {
	balls := r.counted(shots)
	if len(balls) < r.Balls {
		return math.NaN(), false
	}
	side, _ := analysis.Values(balls, analysis.Lateral)
	carry, _ := analysis.Values(balls, analysis.Carry)
	switch r.Kind {
	case Narrow:
		return stat.StdDev(side, nil), true
	case Area:
		cov := stat.Covariance(side, carry, nil)
		return math.Sqrt(max(0, stat.Variance(side, nil)*stat.Variance(carry, nil)-cov*cov)), true
	case Nearest:
		for i := range side {
			score += math.Hypot(carry[i]-r.Target, side[i]) / float64(len(side))
		}
		return score, true
	case Within:
		for _, s := range balls {
			if v := r.number(s, left); v < r.Low || v > r.High {
				score += 1 / float64(len(balls))
			}
		}
		return score, true
	}
	before, n := 0.0, 0
	for _, shots := range past {
		values, _ := analysis.Values(shots, analysis.Lateral)
		for _, v := range values {
			before, n = before+v*v, n+1
		}
	}
	if n == 0 {
		return math.NaN(), false
	}
	for _, v := range side {
		score += v * v / float64(len(side))
	}
	return math.Sqrt(score / (before / float64(n))), true
}

// number is a ball's number of Within in the golfer's own hand.
func (r Rule) number(s analysis.Shot, left bool) float64 {
	v, _ := s.Derived().Value(r.Number)
	return hand(left).Mirror() * v
}

// longRun is how many balls a true skill is taken over. They are the same
// deviates for everybody, so that equals are equal exactly.
const longRun = 64

// longRunDraws come in pairs opposite about the mean, and their second moments are
// exactly those of independent draws: each kind of deviate is taken free of those
// before it, by Gram and Schmidt.
var longRunDraws = sync.OnceValue(func() []draw {
	rng := rand.New(rand.NewPCG(21, longRun))
	var kinds [numDraws][]float64
	for k := range kinds {
		for range longRun / 2 {
			z := rng.NormFloat64()
			kinds[k] = append(kinds[k], z, -z)
		}
		for _, before := range kinds[:k] {
			floats.AddScaled(kinds[k], -floats.Dot(kinds[k], before)/longRun, before)
		}
		floats.Scale(math.Sqrt(longRun)/floats.Norm(kinds[k], 2), kinds[k])
	}
	all := make([]draw, longRun)
	for i := range all {
		for k := range kinds {
			all[i][k] = kinds[k][i]
		}
	}
	return all
})

// skill is the rule's score over the golfer's long run as flown, in still air, so
// many years on; progress is from half of pastYears before to then. Less is better.
func (r Rule) skill(m Member, years float64) float64 {
	if r.Kind == Within {
		return r.outside(m, years)
	}
	long := r
	long.Balls = longRun
	balls := func(years float64) []analysis.Shot {
		f := form{wide: 1, speed: m.reach(r.club(), r.Target)}
		all := make([]analysis.Shot, longRun)
		for i, z := range longRunDraws() {
			d := m.golfer.at(years).deliver(r.club(), m.Left, f, z)
			l, fl := worlds()[m.golfer.world].Hit(r.club(), hand(m.Left), d, f.wind)
			all[i] = trueShot(r.club(), d, l, fl)
		}
		return all
	}
	var past [][]analysis.Shot
	if r.Kind == Progress {
		past = append(past, balls(years-pastYears/2))
	}
	score, _ := long.Score(balls(years), m.Left, past...)
	return score
}

// outside is the share of the golfer's balls outside the limits: what they deliver
// is normal, with the mean and deviation that the long run has exactly.
func (r Rule) outside(m Member, years float64) float64 {
	v := make([]float64, longRun)
	for i, z := range longRunDraws() {
		d := m.golfer.at(years).deliver(r.club(), m.Left, form{wide: 1, speed: 1}, z)
		v[i] = r.number(trueShot(r.club(), d, analysis.Launch{}, panel.Flight{}), m.Left)
	}
	n := distuv.Normal{Mu: stat.Mean(v, nil), Sigma: stat.PopStdDev(v, nil)}
	return n.CDF(r.Low) + n.Survival(r.High)
}

// pastYears is how far back the practice goes that progress is measured against.
const pastYears = 49 / 365.25
