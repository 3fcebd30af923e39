package stat_test

import (
	"math"
	"math/rand/v2"
	"testing"

	"gonum.org/v1/gonum/integrate/quad"
	"gonum.org/v1/gonum/stat/distuv"

	"rangepost/analysis/stat"
)

func sequence(values ...float64) (s stat.Sequence) {
	for _, v := range values {
		s = s.And(v)
	}
	return s
}

// integrated is the evidence from its two integrals: the density of the values,
// mixed over the scale with the right Haar measure and over the mean in standard
// deviations, from low on, over the same with a mean of zero.
func integrated(values []float64, c2, low float64) float64 {
	// In logarithms of the scale, within which the density lives.
	density := func(delta, logScale float64) float64 {
		scale := math.Exp(logScale)
		sum := 0.0
		for _, x := range values {
			z := x/scale - delta
			sum -= z*z/2 + logScale
		}
		return math.Exp(sum)
	}
	const n = 200
	overScale := func(delta float64) float64 {
		return quad.Fixed(func(l float64) float64 { return density(delta, l) }, -6, 8, n, nil, 0)
	}
	prior := distuv.Normal{Mu: 0, Sigma: 1 / math.Sqrt(c2)}
	high := 9 * prior.Sigma
	low = max(low, -high)
	over := quad.Fixed(func(delta float64) float64 { return prior.Prob(delta) * overScale(delta) }, low, high, n, nil, 0)
	return over / overScale(0) / (1 - prior.CDF(low))
}

func TestAnytimeTAgainstItsIntegrals(t *testing.T) {
	for _, values := range [][]float64{{1.2, 0.4}, {0.3, -0.2, 1.1, 0.8}, {2, 1.5, 2.2, 1.9, 2.4, 1.7}, {-0.5, 0.1, -1.2, 0.4, -0.9}} {
		for _, c2 := range []float64{0.3, 1, 4} {
			a := stat.AnytimeT{Precision: c2}
			s := sequence(values...)
			near(t, "evidence", a.Evidence(s, 0), integrated(values, c2, math.Inf(-1)), 1e-6)
			near(t, "evidence above", a.Above(s, 0), integrated(values, c2, 0), 1e-6)
			// Against another mean it is that of the values less it.
			var less []float64
			for _, v := range values {
				less = append(less, v-0.7)
			}
			near(t, "evidence against 0.7", a.Evidence(s, 0.7), a.Evidence(sequence(less...), 0), 1e-12)
			near(t, "evidence below 0.7", a.Below(s, 0.7), 2*a.Evidence(s, 0.7)-a.Above(s, 0.7), 1e-12) // the halves make the whole
		}
	}
}

// Two values by hand: with c2 = 1 and values 3 and 1, S = 4, V = 10 and
// sqrt(1/3) (1 - 16/30)^-1 = 1.2371791482634837.
func TestAnytimeTByHand(t *testing.T) {
	near(t, "evidence", stat.AnytimeT{Precision: 1}.Evidence(sequence(3, 1), 0), math.Sqrt(1./3)*30/14, 1e-14)
	// One value says nothing of its mean in scales of its own.
	near(t, "one value", stat.AnytimeT{Precision: 2.5}.Evidence(sequence(7), 0), 1, 1e-14)
	near(t, "no value", stat.AnytimeT{Precision: 2.5}.Evidence(stat.Sequence{}, 0), 1, 0)
	near(t, "no value above", stat.AnytimeT{Precision: 2.5}.Above(stat.Sequence{}, 0), 1, 0)
}

// The limits are where the evidence is 1/alpha, and there are none while values
// are so few that it cannot be.
func TestAnytimeTLimits(t *testing.T) {
	rng := rand.New(rand.NewPCG(1, 2))
	for _, c2 := range []float64{0.2, 1, 5} {
		a := stat.AnytimeT{Precision: c2}
		for _, alpha := range []float64{0.05, 0.025, 0.003} {
			var s stat.Sequence
			told := false
			for range 40 {
				s = s.And(3 + rng.NormFloat64())
				low, high, ok := a.Limits(s, alpha)
				if told && !ok {
					t.Fatalf("limits are gone after %d values", s.N)
				}
				told = ok
				if !ok {
					if e := a.Evidence(s, 1e9); e >= 1/alpha {
						t.Errorf("no limits after %d values, and evidence of %v", s.N, e)
					}
					continue
				}
				near(t, "evidence at the low limit", a.Evidence(s, low)*alpha, 1, 1e-6)
				near(t, "evidence at the high limit", a.Evidence(s, high)*alpha, 1, 1e-6)
				if low, high, ok := a.LimitsSided(s, alpha); ok {
					near(t, "evidence above the low limit", a.Above(s, low)*alpha, 1, 1e-6)
					near(t, "evidence below the high limit", a.Below(s, high)*alpha, 1, 1e-6)
				}
			}
			if !told {
				t.Errorf("no limits after 40 values, precision %v, alpha %v", c2, alpha)
			}
		}
	}
	if _, _, ok := (stat.AnytimeT{Precision: 1}).Limits(stat.Sequence{}, 0.05); ok {
		t.Error("limits of no values")
	}
}

// Every value is what is in question: no evidence against it, and no NaN.
func TestAnytimeTOfWhatDoesNotVary(t *testing.T) {
	a := stat.AnytimeT{Precision: 1}
	s := sequence(2, 2, 2, 2)
	if e := a.Evidence(s, 2); !(e < 1) {
		t.Errorf("evidence %v", e)
	}
	for _, e := range []float64{a.Above(s, 2), a.Below(s, 2), a.Evidence(s, 1), a.Above(s, 1), a.Below(s, 1)} {
		if math.IsNaN(e) || math.IsInf(e, 0) {
			t.Errorf("evidence %v", e)
		}
	}
	if a.Above(s, 1) < 10*a.Below(s, 1) {
		t.Errorf("twos lie above one: %v, below: %v", a.Above(s, 1), a.Below(s, 1))
	}
}

// Looked at after each of 60 values, the evidence passes 1/alpha in at most alpha
// of sequences: normal ones, ones with heavy tails, ones whose spread changes, and
// for the one-sided evidence at any mean on the wrong side.
func TestAnytimeTIsHonest(t *testing.T) {
	const alpha, looks, sequences = 0.05, 60, 2000
	rng := rand.New(rand.NewPCG(3, 4))
	for name, draw := range map[string]func(i int) float64{
		"normal":         func(int) float64 { return rng.NormFloat64() },
		"heavy":          func(int) float64 { return rng.NormFloat64() / math.Sqrt(rng.ExpFloat64()) }, // t with 2 degrees of freedom
		"spread changes": func(i int) float64 { return rng.NormFloat64() * float64(1+i%5*i%3) },
	} {
		for _, tau := range []float64{0.5, 1, 2} {
			a := stat.AnytimeT{Precision: 1 / (tau * tau)}
			for _, mean := range []float64{0, -0.3, -2, -9} {
				two, one := 0, 0
				for range sequences {
					var s stat.Sequence
					passedTwo, passedOne := false, false
					for i := range looks {
						s = s.And(mean + draw(i))
						passedTwo = passedTwo || a.Evidence(s, mean) >= 1/alpha
						passedOne = passedOne || a.Above(s, 0) >= 1/alpha
					}
					if passedTwo {
						two++
					}
					if passedOne {
						one++
					}
				}
				for _, c := range []int{two, one} {
					if low, _, _ := stat.Wilson(c, sequences, 0.95); low > alpha {
						t.Errorf("%s, mixture of %v, mean %v: %d and %d of %d pass", name, tau, mean, two, one, sequences)
					}
				}
				t.Logf("%s, mixture of %v, mean %v: %d and %d of %d pass", name, tau, mean, two, one, sequences)
			}
		}
	}
}

// The evidence is on average 1 while what it is against is true, however many
// values there are: it is a martingale and not just small.
func TestAnytimeTIsOneOnAverage(t *testing.T) {
	rng := rand.New(rand.NewPCG(5, 6))
	a := stat.AnytimeT{Precision: 9} // bounded enough for an average to settle
	for _, n := range []int{1, 2, 5, 20} {
		var two, one []float64
		for range 20000 {
			var s stat.Sequence
			for range n {
				s = s.And(rng.NormFloat64())
			}
			two, one = append(two, a.Evidence(s, 0)), append(one, a.Above(s, 0))
		}
		for _, e := range [][]float64{two, one} {
			if m := stat.Mean(e); math.Abs(m.Mean-1) > 5*m.SD/math.Sqrt(float64(m.N))+1e-9 {
				t.Errorf("%d values: %v on average", n, m.Mean)
			}
		}
	}
}
