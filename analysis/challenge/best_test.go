package challenge_test

import (
	"math"
	"math/rand/v2"
	"testing"

	"rangepost/analysis/challenge"
)

// The chance said of the first is what simulation says. Among equals it is one
// in so many, a little more for what nobody can know: that they are equals.
// Where members differ it is not more than how often the first truly is the
// best.
func TestChanceOfTheFirstIsTrue(t *testing.T) {
	n := challenges(150, 2000)
	for _, terms := range rules() {
		t.Run(string(terms.Rule), func(t *testing.T) {
			t.Parallel()
			rng := rand.New(rand.NewPCG(11, 9))
			for _, members := range []int{10, 40} {
				said, high := 0.0, 0
				for range n {
					best := stood(t, terms, members, 0, rng).Best
					said += best / float64(n)
					if best > 5/float64(members) {
						high++
					}
				}
				fair := 1 / float64(members)
				t.Logf("%d equals: said %.1f %% on average, true %.1f %%; more than five times that in %d of %d", members, 100*said, 100*fair, high, n)
				if said < 0.9*fair || said > 1.6*fair {
					t.Errorf("%d equals: %.3f is said of the first, %.3f is true", members, said, fair)
				}
			}
			said, was := 0.0, 0.0
			for range n {
				s := stood(t, terms, 20, 0.25, rng)
				said += s.Best / float64(n)
				if s.Rows[0].Entry == 0 { // the one of least scatter
					was += 1 / float64(n)
				}
			}
			t.Logf("20 who differ by a quarter: said %.2f, true %.2f", said, was)
			// Three standard errors of the simulation. Too little may be said: who
			// thinks that most are equals believes few balls too late.
			if tol := 3 * math.Sqrt(was*(1-was)/float64(n)); terms.Rule != challenge.Progress && (said > was+tol || said < was/4-tol) {
				t.Errorf("of members who differ: %.3f is said, %.3f is true", said, was)
			}
		})
	}
}

// stood are the standings of so many members whose scatters differ by a share;
// the first entry is of the least.
func stood(t *testing.T, terms challenge.Terms, members int, differ float64, rng *rand.Rand) challenge.Standings {
	t.Helper()
	all := make([]member, members)
	least := 0
	for i := range all {
		all[i] = member{sd: 8 * math.Exp(differ*rng.NormFloat64())}
		if all[i].sd < all[least].sd {
			least = i
		}
	}
	all[0], all[least] = all[least], all[0]
	var scores []challenge.Score
	for _, m := range all {
		var past challenge.Past
		if terms.Rule == challenge.Progress {
			past = m.past(t, terms, 30, rng)
		}
		scores = append(scores, terms.Score(m.stretch(terms.Balls, rng), past))
	}
	return terms.Stand(scores)
}
