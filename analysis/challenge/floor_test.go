package challenge_test

import (
	"errors"
	"math"
	"math/rand/v2"
	"testing"

	"rangepost/analysis"
	"rangepost/analysis/challenge"
)

func narrow() challenge.Terms {
	return challenge.Terms{Rule: challenge.Narrow, Club: iron, Balls: 10, Ball: analysis.RangeBall}.Fairly(analysis.Yard)
}

// A challenge that says nothing else has a floor and a distance in whole tens,
// and every club's floor is one that a full shot reaches.
func TestFairlyFillsIn(t *testing.T) {
	terms := narrow()
	near(t, "floor", terms.Least/analysis.Yard, 60, 1e-9)
	near(t, "distance", terms.Across/analysis.Yard, 140, 1e-9)
	if terms.Fewest != challenge.FewestEntries {
		t.Errorf("a winner takes %d entries", terms.Fewest)
	}
	for _, text := range []string{"driver", "5w", "4h", "7i", "pw", "60"} {
		club, _ := analysis.ParseClub(text)
		terms := challenge.Terms{Rule: challenge.Narrow, Club: club, Balls: 10, Ball: analysis.RangeBall}.Fairly(1)
		if usual := challenge.UsualCarry(club); terms.Check() != nil || terms.Least > usual/2 || terms.Least < usual/4 {
			t.Errorf("%s: floor %.0f m of %.0f m, %v", text, terms.Least, usual, terms.Check())
		}
	}
	terms.Least = 300
	var e *analysis.Refusal
	if !errors.As(terms.Check(), &e) {
		t.Error("a floor that nobody reaches is taken")
	}
	if zone := (challenge.Terms{Rule: challenge.Zone, Club: iron}).Fairly(1); zone.Least != 0 || zone.Across != 0 {
		t.Errorf("a zone has a floor: %+v", zone)
	}
}

// Balls count by their angle: the same swings at half the distance are as wide.
func TestShortShotsAreNoNarrower(t *testing.T) {
	terms := narrow()
	score := func(k float64) float64 {
		s := session(10, func(i int, s analysis.Shot) analysis.Shot {
			return s.With(analysis.Carry, k*140).With(analysis.Lateral, k*float64(i%7-3))
		})
		st, err := terms.Take(0, s)
		if err != nil {
			t.Fatal(err)
		}
		return terms.Score(st, challenge.Past{}).Value
	}
	near(t, "width at half the distance", score(0.5), score(1), 1e-9)
}

// Short sessions are passed over, by the challenge's floor or the player's own,
// and what follows counts.
func TestShortSessionsArePassedOver(t *testing.T) {
	terms := narrow()
	of := func(carry float64) analysis.Session {
		return session(12, func(_ int, s analysis.Shot) analysis.Shot { return s.With(analysis.Carry, carry) })
	}
	own := terms.OwnFloor([]analysis.Session{of(140)})
	near(t, "own floor", own, challenge.OwnFloorShare*140, 1e-9)
	if few := terms.OwnFloor([]analysis.Session{session(9, nil)}); few != 0 {
		t.Errorf("nine balls make a floor of %.0f m", few)
	}
	for _, c := range []struct {
		carry float64
		own   float64
		takes bool
	}{{18, 0, false}, {80, 0, true}, {80, own, false}, {120, own, true}} {
		got, err := terms.Take(c.own, of(c.carry), of(140))
		first := 1
		if c.takes {
			first = 0
		}
		if err != nil || got.Balls[0].Session != first {
			t.Errorf("%.0f m with a floor of one's own of %.0f m: from session %d, %v; want %d", c.carry, c.own, got.Balls[0].Session, err, first)
		}
	}
}

// What has no figure holds its place, beyond the worst by as much as two of ten are; a row that the
// numbering misses likewise, and many of them are for somebody to look at.
func TestBallsWithoutAFigureAreBeyondTheWorst(t *testing.T) {
	terms := nearest(10)
	lost := session(12, func(i int, s analysis.Shot) analysis.Shot {
		if i == 4 {
			return s.With(analysis.Lateral, math.NaN())
		}
		return s
	})
	lost.Shots = append(lost.Shots[:7:7], lost.Shots[8:]...) // number 8 is gone
	got, err := terms.Take(0, lost)
	if err != nil {
		t.Fatal(err)
	}
	if got.Passed != 2 || !got.Balls[4].Unmeasured || !got.Balls[7].Unmeasured || got.Balls[7].N != 8 || got.Doubts() != nil {
		t.Errorf("%d without a figure of %+v, %v", got.Passed, got.Balls, got.Doubts())
	}
	worst, sum := 0.0, 0.0
	for _, b := range got.Balls {
		if d := math.Hypot(b.Carry-terms.Target, b.Lateral); !b.Unmeasured {
			worst, sum = math.Max(worst, d), sum+d
		}
	}
	near(t, "score", terms.Score(got, challenge.Past{}).Value, (sum+2*1.4064*worst)/10, 1e-3*worst)
	got.Passed = 3
	if why := got.Doubts(); len(why) != 1 || why[0].Code != challenge.ManyUnmeasured {
		t.Errorf("three of ten: %v", why)
	}
}

// A past that widens beyond luck gives way to the one before it; one that does
// not stays the newest.
func TestSpoiltPastGivesWay(t *testing.T) {
	terms := challenge.Terms{Rule: challenge.Progress, Club: iron, Balls: 10}.Fairly(1)
	rng := rand.New(rand.NewPCG(3, 3))
	past := func(wide float64) challenge.Past {
		var posted []analysis.Session
		for k := range 4 {
			s := member{sd: 8}.visit(15, rng)
			for j, shot := range s.Shots {
				if y, _ := shot.Value(analysis.Lateral); k < 2 {
					s.Shots[j] = shot.With(analysis.Lateral, 20+wide*y) // aimed aside, which changes nothing
				}
			}
			posted = append(posted, s)
		}
		p, err := terms.PastOf(posted)
		if err != nil {
			t.Fatal(err)
		}
		return p
	}
	if p := past(4); !p.Earlier || p.Mean > 10 {
		t.Errorf("four times as wide: %+v", p)
	}
	if p := past(1); p.Earlier || p.Mean > 10 {
		t.Errorf("as ever: %+v", p)
	}
}
