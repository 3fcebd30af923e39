package challenge_test

import (
	"flag"
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"testing"
	"time"

	"rangepost/analysis"
	"rangepost/analysis/challenge"
	"rangepost/analysis/player"
)

// -drawn 1000 prints, of so many contests of five equals, who wins and leads with drawn
// half shots and without, under either host.
var drawnContests = flag.Int("drawn", 0, "contests of each way, for the table of drawn half shots")

// A field is five equals on one range.
type field struct {
	terms    challenge.Terms
	usual    player.Player
	rng      *rand.Rand
	trusting bool    // the host
	usually  float64 // the score
}

func newField(terms challenge.Terms, skill float64, device player.Device, rng *rand.Rand) field {
	device.Noise = player.UsualNoise()
	return field{terms: terms, rng: rng, usual: player.Player{
		Club: terms.Club, Delivery: player.Typical(terms.Club), Spread: player.TypicalSpread(skill),
		World: player.Foreign(terms.Club, analysis.RightHanded, rng), Device: device,
	}}
}

// hit is a session of one of them, with half shots at some places.
func (f field) hit(short []int) analysis.Session {
	s := analysis.Session{Ball: f.terms.Ball}
	for i := range f.terms.Balls + challenge.HalfShots {
		p := f.usual
		if slices.Contains(short, i+1) {
			p.Delivery.ClubSpeed *= 0.60 + 0.05*f.rng.NormFloat64()
		}
		if f.rng.IntN(20) == 0 {
			p.Delivery.DynamicLoft *= 0.65
			p.Delivery.StrikeUp = -12 * analysis.Millimetre
		}
		shot := p.Shots(1, "", f.rng)[0]
		shot.N = i + 1
		s.Shots = append(s.Shots, shot)
	}
	return s
}

// An effort is a session as it would be scored.
type effort struct {
	challenge.Score
	waits   bool // for a host
	refused bool
}

// counts reports whether an effort does under a host.
func (e effort) counts(trusting bool) bool { return !e.refused && (trusting || !e.waits) }

func (f field) effort(draw []int, s analysis.Session) effort {
	st, err := f.terms.For(draw).Take(0, s)
	if err != nil || st.Plain() {
		return effort{refused: true}
	}
	doubted := func(w analysis.Warning) bool { return w.Code == challenge.NotHalf || w.Code == challenge.OtherHalf }
	return effort{Score: f.terms.Score(st, challenge.Past{}), waits: slices.ContainsFunc(st.Doubts(), doubted)}
}

// better reports whether a score beats another by the rule.
func (f field) better(score, other float64) bool {
	if f.terms.Less() {
		return score < other
	}
	return score > other
}

// best is the best of n efforts, by score, of those that count.
func (f field) best(n int, of func() effort) effort {
	b := of()
	for range n - 1 {
		if e := of(); e.counts(f.trusting) && (!b.counts(f.trusting) || f.better(e.Value, b.Value)) {
			b = e
		}
	}
	return b
}

// within is how many sessions somebody hits and has posted the last of in a time, at a
// pace of 25 to 55 seconds a ball and with four minutes to begin and to post.
func (f field) within(limit time.Duration) int {
	session := time.Duration(float64(f.terms.Balls+challenge.HalfShots) * (25 + 30*f.rng.Float64()) * float64(time.Second))
	return max(1, int((limit-4*time.Minute)/session))
}

// guessed is the best of five sessions of before with so many half shots in each, at
// places that are guessed, or where none counts an honest one.
func guessed(n int) func(f field, draw []int) effort {
	return func(f field, draw []int) effort {
		b := f.best(5, func() effort {
			if draw == nil {
				return f.effort(nil, f.hit(nil))
			}
			return f.effort(draw, f.hit(f.guess(n)))
		})
		if !b.counts(f.trusting) {
			b = f.effort(draw, f.hit(draw))
		}
		return b
	}
}

// drawnWays are what one of them does; draw is what was drawn for them, nil where
// nothing is.
var drawnWays = []struct {
	name string
	by   func(f field, draw []int) effort
}{
	{"honest", func(f field, draw []int) effort { return f.effort(draw, f.hit(draw)) }},
	{"best of five, late", func(f field, draw []int) effort {
		b := f.best(5, func() effort { return f.effort(draw, f.hit(draw)) })
		b.refused = draw != nil
		return b
	}},
	{"best of those in time", func(f field, draw []int) effort {
		n := 5
		if draw != nil {
			n = min(n, f.within(f.terms.PostedWithin()))
		}
		return f.best(n, func() effort { return f.effort(draw, f.hit(draw)) })
	}},
	{"best of those in time and grace", func(f field, draw []int) effort {
		n := 5
		if draw != nil {
			n = min(n, f.within(f.terms.PostedWithin()+f.terms.Grace()))
		}
		b := f.best(n, func() effort { return f.effort(draw, f.hit(draw)) })
		b.waits = b.waits || draw != nil && n > f.within(f.terms.PostedWithin())
		return b
	}},
	{"best of days, announced anew", func(f field, draw []int) effort {
		days := 5
		if draw != nil {
			days = challenge.MostAnnounced
		}
		e := f.effort(draw, f.hit(draw))
		for day := 1; day < days && f.better(f.usually, e.Value); day++ { // whoever waits for another day gives this one up
			e = f.effort(draw, f.hit(draw))
			e.waits = e.waits || draw != nil
		}
		return e
	}},
	{"best of five before, redated", func(f field, draw []int) effort {
		return f.best(5, func() effort { return f.effort(draw, f.hit(nil)) })
	}},
	{"the same, two half shots in each", guessed(2)},
	{"the same, three half shots in each", guessed(3)},
	{"the same, six half shots in each", guessed(6)},
}

// guess is so many places where balls may be drawn.
func (f field) guess(n int) []int {
	places := f.rng.Perm(f.terms.Balls)[:n]
	for i := range places {
		places[i] += 2
	}
	return places
}

// drawnShares is how many times their share somebody with a way wins and leads in n
// contests, where a host takes out what waits of theirs or lets it in, and how often
// it waits and is refused.
func drawnShares(terms challenge.Terms, way func(f field, draw []int) effort, trusting bool, n int) (wins, leads, waits, refused float64) {
	const size = 5
	for seed := range uint64(n) {
		rng := rand.New(rand.NewPCG(seed, 5))
		f := newField(terms, 1+rng.Float64(), devices[rng.IntN(2)].Device, rng)
		f.trusting = trusting
		f.usually = f.usual5()
		var scores []challenge.Score
		in := false // its score is then the first
		for i := range size {
			var draw []int
			if terms.Drawn {
				draw = terms.Draw(rng.Uint64())
			}
			if i > 0 {
				if e := drawnWays[0].by(f, draw); !e.refused {
					scores = append(scores, e.Score)
				}
				continue
			}
			e := way(f, draw)
			switch {
			case e.refused:
				refused += 1 / float64(n)
			case e.waits:
				waits += 1 / float64(n)
			}
			if in = e.counts(trusting); in {
				scores = append(scores, e.Score)
			}
		}
		all := terms.Stand(scores)
		won := terms.Winners(all)
		for _, w := range won {
			if in && w.Entry == 0 {
				wins += size / float64(n*len(won))
			}
		}
		if first := firsts(all); in && slices.Contains(first, 0) {
			leads += size / float64(n*len(first))
		}
	}
	return wins, leads, waits, refused
}

// firsts are the entries with the best score, which by shares are often several: the
// list has them in the order they entered.
func firsts(s challenge.Standings) (all []int) {
	for _, r := range s.Rows {
		if r.Place == 1 {
			all = append(all, r.Entry)
		}
	}
	return all
}

// usual5 is the middle score of five sessions.
func (f field) usual5() float64 {
	var scores []float64
	for range 5 {
		scores = append(scores, f.terms.Score(must(f.terms.Take(0, f.hit(nil))), challenge.Past{}).Value)
	}
	slices.Sort(scores)
	return scores[2]
}

func must(st challenge.Stretch, err error) challenge.Stretch {
	if err != nil {
		panic(err)
	}
	return st
}

// contested are the terms of those contests.
func contested(rule challenge.Rule, drawn bool) challenge.Terms {
	t := challenge.Terms{Rule: rule, Club: iron, Balls: 10, Ball: analysis.NewBall, Target: 130, Announced: true, Drawn: drawn}
	if rule == challenge.Brief {
		low, high := -1.5*analysis.Degree, 1.5*analysis.Degree
		t.Number, t.Low, t.High = analysis.Direction, &low, &high
	}
	return t.Fairly(1)
}

// Nobody gains by hitting several where half shots are drawn, not even where the host
// lets in whatever waits: they neither win nor lead more than 1.2 times their share, by
// three standard errors.
func TestDrawnBallsEndTheBestOfFive(t *testing.T) {
	n := max(*drawnContests, 40)
	for _, rule := range []challenge.Rule{challenge.Narrow, challenge.Nearest, challenge.Brief} {
		for _, w := range drawnWays {
			if *drawnContests > 0 {
				wins, leads, _, _ := drawnShares(contested(rule, false), w.by, true, n)
				fmt.Printf("%-8s %-36s without: wins %.2f leads %.2f\n", rule, w.name, wins, leads)
				wins, leads, waits, refused := drawnShares(contested(rule, true), w.by, false, n)
				fmt.Printf("%-8s %-36s drawn, careful host: wins %.2f leads %.2f, waits %.1f %%, refused %.1f %%\n", rule, w.name, wins, leads, 100*waits, 100*refused)
			}
			wins, leads, waits, refused := drawnShares(contested(rule, true), w.by, true, n)
			if *drawnContests > 0 {
				fmt.Printf("%-8s %-36s drawn, trusting host: wins %.2f leads %.2f, waits %.1f %%, refused %.1f %%\n", rule, w.name, wins, leads, 100*waits, 100*refused)
			}
			se := 2 / math.Sqrt(float64(n)) // of a fair share, in shares
			if wins > 1.2+3*se || leads > 1.2+3*se {
				t.Errorf("%s, %s: wins %.2f and leads %.2f times a fair share", rule, w.name, wins, leads)
			}
		}
	}
}
