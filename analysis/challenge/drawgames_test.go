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
// half shots and without.
var drawnContests = flag.Int("drawn", 0, "contests of each way, for the table of drawn half shots")

// A field is five equals on one range.
type field struct {
	terms challenge.Terms
	usual player.Player
	rng   *rand.Rand
}

func newField(terms challenge.Terms, skill float64, device player.Device, rng *rand.Rand) field {
	device.Noise = player.UsualNoise()
	return field{terms, player.Player{
		Club: terms.Club, Delivery: player.Typical(terms.Club), Spread: player.TypicalSpread(skill),
		World: player.Foreign(terms.Club, analysis.RightHanded, rng), Device: device,
	}, rng}
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
	waits bool // for a host
}

func (f field) effort(draw []int, s analysis.Session) effort {
	st, err := f.terms.For(draw).Take(0, s)
	if err != nil {
		return effort{Score: challenge.Score{Value: math.Inf(1)}, waits: true}
	}
	doubted := func(w analysis.Warning) bool { return w.Code == challenge.NotHalf || w.Code == challenge.OtherHalf }
	return effort{f.terms.Score(st, challenge.Past{}), slices.ContainsFunc(st.Doubts(), doubted)}
}

// best is the best of n efforts, by score, that wait no more than need be.
func best(n int, of func() effort) effort {
	b := of()
	for range n - 1 {
		if e := of(); b.waits && !e.waits || b.waits == e.waits && e.Value < b.Value {
			b = e
		}
	}
	return b
}

// inTime is how many sessions somebody hits and has posted the last of before the time
// is over, at a pace of 25 to 55 seconds a ball and with four minutes to begin and to
// post.
func (f field) inTime() int {
	session := time.Duration(float64(f.terms.Balls+challenge.HalfShots) * (25 + 30*f.rng.Float64()) * float64(time.Second))
	return max(1, int((f.terms.PostedWithin()-4*time.Minute)/session))
}

// drawnWays are what one of them does; draw is what was drawn for them, nil where
// nothing is.
var drawnWays = []struct {
	name string
	by   func(f field, draw []int) effort
}{
	{"honest", func(f field, draw []int) effort { return f.effort(draw, f.hit(draw)) }},
	{"best of five, late if need be", func(f field, draw []int) effort {
		b := best(5, func() effort { return f.effort(draw, f.hit(draw)) })
		b.waits = draw != nil
		return b
	}},
	{"best of those in time", func(f field, draw []int) effort {
		n := 5
		if draw != nil {
			n = min(n, f.inTime())
		}
		return best(n, func() effort { return f.effort(draw, f.hit(draw)) })
	}},
	{"best of five days, announced anew", func(f field, draw []int) effort {
		b, at := f.effort(draw, f.hit(draw)), 0
		for day := 1; day < 5; day++ {
			if e := f.effort(draw, f.hit(draw)); e.Value < b.Value {
				b, at = e, day
			}
		}
		b.waits = b.waits || draw != nil && at > 0
		return b
	}},
	{"best of five before, redated", func(f field, draw []int) effort {
		return best(5, func() effort { return f.effort(draw, f.hit(nil)) })
	}},
	{"the same, three half shots in each", func(f field, draw []int) effort {
		if draw == nil {
			return best(5, func() effort { return f.effort(nil, f.hit(nil)) })
		}
		b := best(5, func() effort { return f.effort(draw, f.hit(f.guess(3))) })
		if b.waits { // none fits
			b = f.effort(draw, f.hit(draw))
		}
		return b
	}},
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
// it waits.
func drawnShares(terms challenge.Terms, way func(f field, draw []int) effort, trusting bool, n int) (wins, leads, waits float64) {
	const size = 5
	for seed := range uint64(n) {
		rng := rand.New(rand.NewPCG(seed, 5))
		f := newField(terms, 1+rng.Float64(), devices[rng.IntN(2)].Device, rng)
		var scores []challenge.Score
		for i := range size {
			var draw []int
			if terms.Drawn {
				draw = terms.Draw(rng.Uint64())
			}
			e := drawnWays[0].by(f, draw)
			if i == 0 {
				if e = way(f, draw); e.waits {
					waits += 1 / float64(n)
				}
				if e.waits && !trusting && !math.IsInf(e.Value, 1) {
					e.Value = math.Inf(1)
				}
			}
			if i > 0 || !math.IsInf(e.Value, 1) {
				scores = append(scores, e.Score)
			}
		}
		in := len(scores) == size // its score is the first
		all := terms.Stand(scores)
		won := terms.Winners(all)
		for _, w := range won {
			if in && w.Entry == 0 {
				wins += size / float64(n*len(won))
			}
		}
		if in && all.Rows[0].Entry == 0 {
			leads += size / float64(n)
		}
	}
	return wins, leads, waits
}

// contested are the terms of those contests.
func contested(rule challenge.Rule, drawn bool) challenge.Terms {
	return challenge.Terms{Rule: rule, Club: iron, Balls: 10, Ball: analysis.NewBall, Target: 130, Announced: true, Drawn: drawn}.Fairly(1)
}

// Nobody gains by hitting several where half shots are drawn and a host looks.
func TestDrawnBallsEndTheBestOfFive(t *testing.T) {
	n := max(*drawnContests, 60)
	for _, rule := range []challenge.Rule{challenge.Narrow, challenge.Nearest} {
		t.Run(string(rule), func(t *testing.T) {
			for _, w := range drawnWays {
				if *drawnContests > 0 {
					wins, leads, _ := drawnShares(contested(rule, false), w.by, true, n)
					fmt.Printf("%-8s %-36s without: wins %.2f leads %.2f\n", rule, w.name, wins, leads)
					wins, leads, _ = drawnShares(contested(rule, true), w.by, true, n)
					fmt.Printf("%-8s %-36s drawn, trusting host: wins %.2f leads %.2f\n", rule, w.name, wins, leads)
				}
				wins, leads, waits := drawnShares(contested(rule, true), w.by, false, n)
				if *drawnContests > 0 {
					fmt.Printf("%-8s %-36s drawn, careful host: wins %.2f leads %.2f, waits %.1f %%\n", rule, w.name, wins, leads, 100*waits)
				}
				if wins > 1.2+3/math.Sqrt(float64(n)) {
					t.Errorf("%s wins %.2f times a fair share", w.name, wins)
				}
			}
		})
	}
}
