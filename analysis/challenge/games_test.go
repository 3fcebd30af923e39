package challenge_test

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"rangepost/analysis"
	"rangepost/analysis/challenge"
)

// visit is a session of a member's with a device that numbers its balls.
func (m member) visit(n int, rng *rand.Rand) analysis.Session {
	s := analysis.Session{}
	for i := range n {
		b := m.hit(rng)
		s.Shots = append(s.Shots, analysis.Shot{N: i + 1, Club: iron}.With(analysis.Carry, b.Carry).With(analysis.Lateral, b.Lateral).With(analysis.Face, b.Number))
	}
	return s
}

// badness is how badly balls went by a rule, as somebody on the range sees it.
func badness(terms challenge.Terms, s analysis.Session, n int) float64 {
	terms.Balls = min(n, len(s.Shots))
	st, err := terms.Take(0, s)
	if err != nil {
		return math.Inf(1)
	}
	score := terms.Score(st, challenge.Past{Balls: 30, Mean: 6, Variance: 20})
	if terms.Less() {
		return score.Value
	}
	return -score.Value
}

// worst is the ball that lies furthest out.
func worst(s analysis.Session, n int) int {
	at, far := 0, -1.0
	for i, shot := range s.Shots[:n] {
		y, _ := shot.Value(analysis.Lateral)
		c, _ := shot.Value(analysis.Carry)
		if d := math.Hypot(y, c-120); d > far {
			at, far = i, d
		}
	}
	return at
}

// games are legal ways to an entry that is better than one's balls. Each makes
// the sessions that are posted of a member who is the equal of all others.
var games = []struct {
	name string
	by   func(terms challenge.Terms, m member, rng *rand.Rand) []analysis.Session
}{
	{"none", func(_ challenge.Terms, m member, rng *rand.Rand) []analysis.Session {
		return []analysis.Session{m.visit(14, rng)}
	}},
	{"stopping at nine when it goes badly", func(terms challenge.Terms, m member, rng *rand.Rand) []analysis.Session {
		first := m.visit(14, rng)
		if badness(terms, first, 9) > badness(terms, m.visit(14, rng), 9) { // worse than another of theirs
			first.Shots = first.Shots[:9]
		}
		return []analysis.Session{first, m.visit(14, rng)}
	}},
	{"blanking the worst ball's side", func(_ challenge.Terms, m member, rng *rand.Rand) []analysis.Session {
		s := m.visit(14, rng)
		i := worst(s, 10)
		s.Shots[i] = s.Shots[i].With(analysis.Lateral, math.NaN()).With(analysis.Face, math.NaN())
		return []analysis.Session{s}
	}},
	{"deleting the two worst rows", func(_ challenge.Terms, m member, rng *rand.Rand) []analysis.Session {
		s := m.visit(14, rng)
		for range 2 {
			i := worst(s, 10)
			s.Shots = slices.Delete(s.Shots, i, i+1)
		}
		return []analysis.Session{s}
	}},
	{"the best of five, four not posted", func(terms challenge.Terms, m member, rng *rand.Rand) []analysis.Session {
		best := m.visit(14, rng)
		for range 4 {
			if s := m.visit(14, rng); badness(terms, s, 10) < badness(terms, best, 10) {
				best = s
			}
		}
		return []analysis.Session{best}
	}},
	{"chips of 20 yards first", func(_ challenge.Terms, m member, rng *rand.Rand) []analysis.Session {
		chips := m.visit(14, rng)
		for i, shot := range chips.Shots {
			y, _ := shot.Value(analysis.Lateral)
			chips.Shots[i] = shot.With(analysis.Carry, 18+rng.NormFloat64()).With(analysis.Lateral, y*18/120)
		}
		return []analysis.Session{chips, m.visit(14, rng)}
	}},
	{"shots of six tenths", func(terms challenge.Terms, m member, rng *rand.Rand) []analysis.Session {
		s := m.visit(14, rng)
		if terms.Dispersion() {
			for i, shot := range s.Shots {
				y, _ := shot.Value(analysis.Lateral)
				c, _ := shot.Value(analysis.Carry)
				s.Shots[i] = shot.With(analysis.Carry, 0.6*c).With(analysis.Lateral, 0.6*y)
			}
		}
		return []analysis.Session{s}
	}},
}

// None of the ways wins more than 1.2 times its fair share, a win being shared
// by whoever is not apart from the first. How often it has the best score is
// told beside it: of the best of five sessions that is all there is to gain.
func TestGamesDoNotWin(t *testing.T) {
	const members = 40
	n := challenges(60, 1000)
	for _, terms := range rules() {
		t.Run(string(terms.Rule), func(t *testing.T) {
			t.Parallel()
			rng := rand.New(rand.NewPCG(12, 9))
			m := member{sd: 8}
			for _, game := range games {
				won, top := 0.0, 0.0
				for range n {
					var scores []challenge.Score
					for i := range members {
						var past challenge.Past
						if terms.Rule == challenge.Progress {
							past = m.past(t, terms, 30, rng)
						}
						st := m.stretch(terms.Balls, rng)
						if i == 0 {
							var err error
							if st, err = terms.Take(0, game.by(terms, m, rng)...); err != nil {
								t.Fatal(err)
							}
						}
						scores = append(scores, terms.Score(st, past))
					}
					w, first := wins(terms, terms.Stand(scores))
					won, top = won+w, top+first
				}
				judge(t, game.name, won, top, members, n)
			}
		})
	}
}

// wins is the share of the win, and of the best score, that entry 0 has.
func wins(terms challenge.Terms, s challenge.Standings) (won, top float64) {
	winners := terms.Winners(s)
	firsts, mine := 0, 0
	for _, r := range s.Rows {
		if r.Place == 1 {
			firsts++
			if r.Entry == 0 {
				mine++
			}
		}
	}
	if slices.ContainsFunc(winners, func(r challenge.Standing) bool { return r.Entry == 0 }) {
		won = 1 / float64(len(winners))
	}
	return won, float64(mine) / float64(firsts)
}

func judge(t *testing.T, name string, won, top float64, members, n int) {
	t.Helper()
	fair := float64(n) / float64(members)
	t.Logf("%-36s wins %.2f of its fair share; has the best score %.1f times as often as it should", name, won/fair, top/fair)
	// What n contests leave: a whole win to oneself now and then.
	if won > 1.2*fair+3*math.Sqrt(0.02*float64(n)/float64(members)) {
		t.Errorf("%s: %.2f of its fair share", name, won/fair)
	}
}

// A past that is spoilt on purpose: by aiming aside it gains nothing, by
// scattering it gains what the balls before it do not give away.
func TestSpoilingThePast(t *testing.T) {
	const members = 40
	n := challenges(60, 1000)
	terms := rules()[4]
	for _, c := range []struct {
		name           string
		aside, scatter float64 // m to the right; times as wide
		balls          int     // spoilt of 90
		most           float64 // the best score so many times as often as it should
	}{
		{"not at all", 0, 1, 30, 3},
		{"30 balls aimed 15 m right", 15, 1, 30, 3},
		{"30 balls aimed 30 m right", 30, 1, 30, 3},
		{"30 balls a third wider", 0, 1.33, 30, 12},
		{"30 balls twice as wide", 0, 2, 30, 12},
		{"30 balls four times as wide", 0, 4, 30, 6},
		{"60 balls twice as wide", 0, 2, 60, 40},
	} {
		rng := rand.New(rand.NewPCG(13, 9))
		won, top := 0.0, 0.0
		for range n {
			var scores []challenge.Score
			for i := range members {
				m := member{sd: 8}
				var posted []analysis.Session
				for k := range 6 {
					s := m.visit(15, rng)
					if i == 0 && 15*k < c.balls {
						for j, shot := range s.Shots {
							y, _ := shot.Value(analysis.Lateral)
							s.Shots[j] = shot.With(analysis.Lateral, c.aside+c.scatter*y)
						}
					}
					posted = append(posted, s)
				}
				past, err := terms.PastOf(posted)
				if err != nil {
					t.Fatal(err)
				}
				scores = append(scores, terms.Score(m.stretch(terms.Balls, rng), past))
			}
			w, first := wins(terms, terms.Stand(scores))
			won, top = won+w, top+first
		}
		judge(t, c.name, won, top, members, n)
		if fair := float64(n) / members; top/fair > c.most {
			t.Errorf("%s: has the best score %.1f times as often as it should, at most %.0f", c.name, top/fair, c.most)
		}
	}
}
