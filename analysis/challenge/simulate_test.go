package challenge_test

import (
	"math"
	"math/rand/v2"
	"os"
	"testing"

	"gonum.org/v1/gonum/integrate/quad"
	"gonum.org/v1/gonum/stat/distuv"

	"rangepost/analysis"
	"rangepost/analysis/challenge"
)

// challenges is how many a simulation plays: RANGEPOST_STUDY=1 plays the long
// version.
func challenges(short, long int) int {
	if os.Getenv("RANGEPOST_STUDY") != "" {
		return long
	}
	return short
}

// A member scatters balls about the target as ranges see them: heavier tails
// than the normal (t with 6 degrees of freedom), and some carry.
type member struct {
	sd     float64
	normal bool // no heavier tails than the normal
}

func (m member) hit(rng *rand.Rand) challenge.Ball {
	chi := 0.0
	for range 6 {
		z := rng.NormFloat64()
		chi += z * z
	}
	stretch := m.sd * math.Sqrt(4/chi)
	if m.normal {
		stretch = m.sd
	}
	face := stretch * rng.NormFloat64()
	return challenge.Ball{Carry: 120 + stretch*rng.NormFloat64(), Lateral: face, Number: 0.004 * face}
}

func (m member) stretch(n int, rng *rand.Rand) (s challenge.Stretch) {
	for range n {
		s.Balls = append(s.Balls, m.hit(rng))
	}
	return s
}

// past is the member's, from all the balls they posted.
func (m member) past(t *testing.T, terms challenge.Terms, n int, rng *rand.Rand) challenge.Past {
	t.Helper()
	var posted []analysis.Session
	for left := n; left > 0; left -= 15 { // in sessions of fifteen, and what is left
		var s analysis.Session
		for range min(left, 15) {
			b := m.hit(rng)
			s.Shots = append(s.Shots, analysis.Shot{Club: terms.Club}.With(analysis.Lateral, b.Lateral).With(analysis.Carry, b.Carry))
		}
		posted = append(posted, s)
	}
	p, err := terms.PastOf(posted)
	if err != nil {
		t.Fatal(err)
	}
	return p
}

func rules() []challenge.Terms {
	low, high := -0.02, 0.02
	all := []challenge.Terms{
		{Rule: challenge.Nearest, Club: iron, Balls: 10, Target: 120},
		{Rule: challenge.Narrow, Club: iron, Balls: 10},
		{Rule: challenge.Zone, Club: iron, Balls: 10, Target: 120, Wide: 12, Deep: 12},
		{Rule: challenge.Brief, Club: iron, Balls: 10, Number: analysis.Face, Low: &low, High: &high},
		{Rule: challenge.Progress, Club: iron, Balls: 10},
	}
	for i := range all {
		all[i] = all[i].Fairly(1)
	}
	return all
}

// Forty equal members: every one wins as often as every other, and in at most
// 5 % of the challenges are any two called apart. Members differ in how many
// balls they posted before, 30 to 110, which must not help: neither any of them
// nor those who posted as much together win more. What they post after the
// first session that counts is not looked at (package bot, counting).
func TestEqualMembersWinEqually(t *testing.T) {
	const members = 40
	const n = 2000
	for _, terms := range rules() {
		t.Run(string(terms.Rule), func(t *testing.T) {
			t.Parallel()
			rng := rand.New(rand.NewPCG(1, 9))
			wins := make([]float64, members)
			called := 0
			for range n {
				scores := make([]challenge.Score, members)
				for i := range scores {
					m := member{sd: 8}
					var past challenge.Past
					if terms.Rule == challenge.Progress {
						past = m.past(t, terms, 30+20*(i%5), rng)
					}
					scores[i] = terms.Score(m.stretch(terms.Balls, rng), past)
				}
				rows := terms.Stand(scores).Rows
				shared := 0
				for shared < members && rows[shared].Place == 1 {
					shared++
				}
				for _, r := range rows[:shared] {
					wins[r.Entry] += 1 / float64(shared)
				}
				for _, r := range rows {
					if r.RankLow > 1 || r.RankHigh < members {
						called++
						break
					}
				}
			}
			posted := make([]float64, 5)
			for i, w := range wins {
				posted[i%5] += w
			}
			p, ofPosted := evenly(wins), evenly(posted)
			rate := float64(called) / float64(n)
			t.Logf("%d challenges: wins even p = %.3f, by balls posted before p = %.3f; any two called apart in %.1f %%", n, p, ofPosted, 100*rate)
			if p < 0.001 {
				t.Errorf("wins are not spread evenly: p = %g", p)
			}
			if ofPosted < 0.001 {
				t.Errorf("who posted more, or less, wins more: %v, p = %g", posted, ofPosted)
			}
			// 5 % and three standard errors of the simulation.
			if most := 0.05 + 3*math.Sqrt(0.05*0.95/float64(n)); rate > most {
				t.Errorf("called apart in %.1f %% of challenges, at most %.1f %% may be", 100*rate, 100*most)
			}
		})
	}
}

// evenly is the chi-square probability of counts as uneven as these when all
// are equally likely. Shared wins vary less than whole ones, so it is only the
// more lenient for them.
func evenly(counts []float64) float64 {
	chi, each := 0.0, 0.0
	for _, c := range counts {
		each += c / float64(len(counts))
	}
	for _, c := range counts {
		chi += (c - each) * (c - each) / each
	}
	return distuv.ChiSquared{K: float64(len(counts) - 1)}.Survival(chi)
}

// A truly better member wins as often as theory says: the chance that the
// least of 40 means of ten distances is theirs,
//
//	Int f1(x) (1 - F(x))^39 dx,
//
// where one distance of normal scatter s is a Rayleigh variable of mean
// s sqrt(pi/2) and variance s2 (2 - pi/2), and the mean of ten is taken for a
// gamma variable of that mean and a tenth of that variance.
func TestBetterMemberIsFound(t *testing.T) {
	const members, balls = 40, 10
	n := challenges(150, 2000)
	terms := rules()[0]
	rng := rand.New(rand.NewPCG(3, 9))
	mean, variance := 8*math.Sqrt(math.Pi/2), 64*(2-math.Pi/2)
	for _, better := range []float64{0.85, 0.7, 0.55} {
		shape := balls * mean * mean / variance
		other := distuv.Gamma{Alpha: shape, Beta: shape / mean}
		one := distuv.Gamma{Alpha: shape, Beta: shape / mean / better}
		theory := quad.Fixed(func(x float64) float64 {
			return one.Prob(x) * math.Pow(other.Survival(x), members-1)
		}, 0, 3*mean, 400, nil, 0)
		won := 0
		for range n {
			scores := make([]challenge.Score, members)
			for i := range scores {
				m := member{sd: 8, normal: true}
				if i == 0 {
					m.sd *= better
				}
				scores[i] = terms.Score(m.stretch(balls, rng), challenge.Past{})
			}
			if terms.Stand(scores).Rows[0].Entry == 0 {
				won++
			}
		}
		got := float64(won) / float64(n)
		t.Logf("scatter %.2f of the others': wins %.3f of the time, theory %.3f", better, got, theory)
		// Three standard errors of the simulation, and what the gamma leaves.
		if tol := 0.01 + 3*math.Sqrt(theory*(1-theory)/float64(n)); math.Abs(got-theory) > tol {
			t.Errorf("scatter %.2f of the others': wins %.3f of the time, theory says %.3f (within %.3f)", better, got, theory, tol)
		}
	}
}

// Two members with normal marks are called apart as often as the power of
// Student's test says (Cohen 1988, ch. 2).
func TestTwoAreToldApartAsPowerSays(t *testing.T) {
	n := challenges(3000, 20000)
	rng := rand.New(rand.NewPCG(4, 9))
	terms := challenge.Terms{Rule: challenge.Nearest, Club: iron, Balls: 17, Target: 120}
	// Balls straight off the target by a normal distance far from nothing: one
	// standard deviation of difference, found four times of five at 17 balls.
	stretch := func(mean float64) (s challenge.Stretch) {
		for range 17 {
			s.Balls = append(s.Balls, challenge.Ball{Carry: 120, Lateral: mean + rng.NormFloat64()})
		}
		return s
	}
	apart := 0
	for range n {
		rows := terms.Stand([]challenge.Score{
			terms.Score(stretch(20), challenge.Past{}), terms.Score(stretch(21), challenge.Past{}),
		}).Rows
		if rows[0].RankHigh == 1 {
			apart++
		}
	}
	// The noncentral t at n = 17 each and one standard deviation (Cohen 1988,
	// Statistical Power Analysis, ch. 2) [C].
	got, want := float64(apart)/float64(n), 0.8070367
	t.Logf("apart %.3f, power %.3f", got, want)
	if math.Abs(got-want) > 0.005+3*math.Sqrt(want*(1-want)/float64(n)) {
		t.Errorf("apart in %.3f of challenges, theory says %.3f", got, want)
	}
}

// distance is the mean of one ball's distance to the target.
func distance(sd float64, rng *rand.Rand) (mean float64) {
	const n = 200000
	for range n {
		b := member{sd: sd}.hit(rng)
		mean += math.Hypot(b.Carry-120, b.Lateral) / n
	}
	return mean
}

// The limits of a score hold the truth nearly as often as they say: at ten
// balls of skewed distances Student's hold 92 %, and the jackknife's 91 %.
func TestLimitsHold(t *testing.T) {
	n := challenges(2000, 20000)
	rng := rand.New(rand.NewPCG(5, 9))
	mean := distance(8, rng)
	// The width that holds 80 % as the rule has it at ten balls, for the
	// member's true standard deviation.
	terms := rules()
	held := map[challenge.Rule]int{}
	for range n {
		s := member{sd: 8}.stretch(10, rng)
		if got := terms[0].Score(s, challenge.Past{}); got.Low <= mean && mean <= got.High {
			held[challenge.Nearest]++
		}
		if got := terms[1].Score(s, challenge.Past{}); got.Low <= widthOf(8, 10) && widthOf(8, 10) <= got.High {
			held[challenge.Narrow]++
		}
	}
	for _, c := range []struct {
		rule  challenge.Rule
		least float64
	}{{challenge.Nearest, 0.90}, {challenge.Narrow, 0.88}} {
		got := float64(held[c.rule]) / float64(n)
		t.Logf("%s: limits of 95 %% hold %.1f %%", c.rule, 100*got)
		if got < c.least {
			t.Errorf("%s: limits hold %.1f %%, want %.0f %%", c.rule, 100*got, 100*c.least)
		}
	}
}

func widthOf(sd float64, n int) float64 {
	return 2 * distuv.StudentsT{Sigma: 1, Nu: float64(n - 1)}.Quantile(0.9) * sd * math.Sqrt(1+1/float64(n))
}

// Ten equal members whose balls resemble the ones before (a first-order
// autoregression, whose plain tests are wrong twice as often as they say) are
// hardly oftener called apart for it than members without streaks may be, and
// the limits of a score nearly hold.
func TestStreaksCallNobodyApart(t *testing.T) {
	const members, balls = 10, 30
	n := challenges(200, 2000)
	far := 0.0 // the mean of a distance of two normal sides
	for _, r := range []float64{0, 0.3} {
		rng := rand.New(rand.NewPCG(6, 9))
		for _, terms := range []challenge.Terms{
			{Rule: challenge.Nearest, Club: iron, Balls: balls, Target: 120},
			{Rule: challenge.Zone, Club: iron, Balls: balls, Target: 120, Wide: 40, Deep: 1000},
		} {
			called, held := 0, 0
			for range n {
				scores := make([]challenge.Score, members)
				for i := range scores {
					var s challenge.Stretch
					last := rng.NormFloat64()
					for range balls {
						last = r*last + math.Sqrt(1-r*r)*rng.NormFloat64()
						s.Balls = append(s.Balls, challenge.Ball{Carry: 120, Lateral: 20 + 8*last})
					}
					scores[i] = terms.Score(s, challenge.Past{})
				}
				truth := 0.5 // of the zone: its edge lies at the mean
				if terms.Rule == challenge.Nearest {
					if far == 0 {
						far = meanDistance(20, 8)
					}
					truth = far
				}
				if scores[0].Low <= truth && truth <= scores[0].High {
					held++
				}
				for _, row := range terms.Stand(scores).Rows {
					if row.RankLow > 1 || row.RankHigh < members {
						called++
						break
					}
				}
			}
			apart, holds := float64(called)/float64(n), float64(held)/float64(n)
			t.Logf("%s, correlation %.1f: any apart %.3f, limits hold %.3f", terms.Rule, r, apart, holds)
			if apart > 0.05+3*math.Sqrt(0.05*0.95/float64(n)) {
				t.Errorf("%s, correlation %.1f: any two called apart in %.3f", terms.Rule, r, apart)
			}
			if holds < 0.92-3*math.Sqrt(0.08*0.92/float64(n)) {
				t.Errorf("%s, correlation %.1f: limits hold %.3f", terms.Rule, r, holds)
			}
		}
	}
}

// meanDistance is the mean of the absolute value of a normal variable (Leone,
// Nelson & Nottingham 1961, Technometrics 3:543 [M]).
func meanDistance(mean, sd float64) float64 {
	z := mean / sd
	return sd*math.Sqrt(2/math.Pi)*math.Exp(-z*z/2) + mean*(1-2*distuv.UnitNormal.CDF(-z))
}
