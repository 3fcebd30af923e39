package challenge_test

import (
	"flag"
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"rangepost/analysis"
	"rangepost/analysis/challenge"
	"rangepost/analysis/player"
)

// -halves 400 prints how well half shots are told, by club, golfer and device, of so
// many sessions each.
var halves = flag.Int("halves", 0, "sessions of each kind of golfer, for the table of half shots")

var drawnTerms = challenge.Terms{Rule: challenge.Brief, Club: iron, Balls: 10, Ball: analysis.RangeBall, Number: analysis.Carry, High: new(float64), Announced: true, Drawn: true}

// swung are sessions of a golfer of another world: every tenth ball is thin, two
// thirds of the loft from low on the face, and the balls at some places are half shots,
// aimed at two fifths of the usual carry and missing that by a tenth, more for the wild.
func swung(club analysis.Club, skill float64, device player.Device, draw []int, seed uint64) analysis.Session {
	rng := rand.New(rand.NewPCG(seed, 77))
	device.Noise = player.UsualNoise()
	usual := player.Player{
		Club: club, Delivery: player.Typical(club), Spread: player.TypicalSpread(skill),
		World: player.Foreign(club, analysis.RightHanded, rng), Device: device,
	}
	s := analysis.Session{Ball: analysis.RangeBall}
	for i := range 14 {
		p := usual
		if slices.Contains(draw, i+1) {
			p.Delivery.ClubSpeed *= 0.60 + (0.03+0.015*skill)*rng.NormFloat64()
		}
		if rng.IntN(10) == 0 {
			p.Delivery.DynamicLoft *= 0.65
			p.Delivery.StrikeUp = -12 * analysis.Millimetre
		}
		shot := p.Shots(1, "", rng)[0]
		shot.N = i + 1
		s.Shots = append(s.Shots, shot)
	}
	return s
}

// told counts, of sessions with half shots where they were drawn and of sessions
// without any: drawn balls that show, sessions that raise no doubt, and full shots that
// pass for half ones.
func told(club analysis.Club, skill float64, device player.Device, n int) (shown, clear, passed, fooled float64) {
	terms := drawnTerms
	terms.Club = club
	for seed := range uint64(n) {
		draw := terms.Draw(seed)
		st, err := terms.For(draw).Take(0, swung(club, skill, device, draw, seed))
		if err != nil {
			panic(err)
		}
		shown += float64(st.Shown) / float64(challenge.HalfShots*n)
		if st.Shown == challenge.HalfShots && st.OtherHalf <= 1 {
			clear += 1 / float64(n)
		}
		st, err = terms.For(draw).Take(0, swung(club, skill, device, nil, seed))
		if err != nil {
			panic(err)
		}
		passed += float64(st.OtherHalf+st.Shown) / float64((terms.Balls+challenge.HalfShots)*n)
		if st.Shown == challenge.HalfShots {
			fooled += 1 / float64(n)
		}
	}
	return shown, clear, passed, fooled
}

var devices = []struct {
	name string
	player.Device
}{
	{"club and ball", player.Device{Club: true, Ball: true, Landed: true}},
	{"ball", player.Device{Ball: true, Landed: true}},
	{"carry alone", player.Device{Landed: true}},
}

// Half shots show where they were drawn, in 99 of 100, and full ones do not, thinned or
// not, so that a session without any hardly ever passes.
func TestHalfShotsTell(t *testing.T) {
	n := max(*halves, 30)
	var shown, fooled, kinds float64
	for _, key := range []string{"driver", "4h", "7i", "pw"} {
		club, err := analysis.ParseClub(key)
		if err != nil {
			t.Fatal(err)
		}
		for _, skill := range []float64{1, 2, 3} {
			for _, d := range devices {
				if *halves == 0 && (skill > 2 || !d.Ball) {
					continue // for the table alone
				}
				s, clear, passed, f := told(club, skill, d.Device, n)
				if *halves > 0 {
					fmt.Printf("%-6s skill %.0f %-13s half shots %.1f %%, sessions clear %.1f %%; full ones %.2f %%, sessions without pass %.2f %%\n", key, skill, d.name, 100*s, 100*clear, 100*passed, 100*f)
				}
				if skill <= 2 && d.Ball {
					shown, fooled, kinds = shown+s, fooled+f, kinds+1
				}
			}
		}
	}
	if shown/kinds < 0.99 || fooled/kinds > 0.01 {
		t.Errorf("half shots show in %.1f %%, and %.1f %% of the sessions without any pass", 100*shown/kinds, 100*fooled/kinds)
	}
}

// carried are so many balls of a device that gives carry alone, half of it at some places.
func carried(n int, short ...int) analysis.Session {
	s := analysis.Session{Ball: analysis.RangeBall}
	for i := range n {
		carry := 130 + float64(i%4)
		if slices.Contains(short, i+1) {
			carry = 60
		}
		s.Shots = append(s.Shots, analysis.Shot{N: i + 1, Club: iron}.With(analysis.Carry, carry).With(analysis.Lateral, 1))
	}
	return s
}

// renumbered is the session as a device writes it that numbers what it saw.
func renumbered(s analysis.Session) analysis.Session {
	for i := range s.Shots {
		s.Shots[i].N = i + 1
	}
	return s
}

// without is a session less the ball at a place.
func without(s analysis.Session, place int) analysis.Session {
	s.Shots = slices.Delete(s.Shots, place-1, place)
	return s
}

func TestDrawnBalls(t *testing.T) {
	terms := drawnTerms.For([]int{4, 9})
	hidden := carried(14, 9)
	hidden.Shots[3] = hidden.Shots[3].With(analysis.Carry, -1).With(analysis.Carry, math.NaN()).With(analysis.Lateral, math.NaN())
	for _, c := range []struct {
		name          string
		s             analysis.Session
		shown, others int
	}{
		{"as drawn", carried(14, 4, 9), 2, 0},
		{"none", carried(14), 0, 0},
		{"one forgotten", carried(14, 9), 1, 0},
		{"others", carried(14, 3, 7), 1, 1},
		{"one too many", carried(14, 4, 6, 9), 2, 1},
		{"guessed", carried(14, 2, 4, 6, 8, 9, 11), 2, 4},
		{"a ball lost before", renumbered(without(carried(14, 4, 9), 2)), 2, 0},
		{"a ball lost between", renumbered(without(carried(14, 4, 9), 6)), 2, 0},
		{"a row missing before", without(carried(14, 4, 9), 2), 2, 0},
		{"a drawn row missing", without(carried(14, 4, 9), 9), 2, 0},
		{"a drawn ball without a figure", hidden, 2, 0},
		{"both drawn rows missing", without(without(carried(14), 9), 4), 0, 0},
		{"found again what was lost", carried(14, 3, 9), 1, 1},
	} {
		st, err := terms.Take(0, c.s)
		if err != nil {
			t.Errorf("%s: %v", c.name, err)
			continue
		}
		if st.Drawn != 2 || st.Shown != c.shown || st.OtherHalf != c.others || len(st.Balls) != 10 {
			t.Errorf("%s: %d of %d shown and %d others, %d balls count; want %d and %d", c.name, st.Shown, st.Drawn, st.OtherHalf, len(st.Balls), c.shown, c.others)
		}
		doubted := slices.ContainsFunc(st.Doubts(), func(w analysis.Warning) bool { return w.Code == challenge.NotHalf || w.Code == challenge.OtherHalf })
		if doubted == (c.shown == 2 && c.others < 2) {
			t.Errorf("%s: doubts %+v", c.name, st.Doubts())
		}
	}
	if st, err := terms.Take(0, renumbered(without(carried(14, 4, 9), 2))); err != nil || len(st.Apart) != 2 || st.Apart[0].N != 3 || st.Apart[1].Carry != 60 {
		t.Errorf("set apart: %+v, %v", st.Apart, err)
	}
	if st, err := terms.Take(0, carried(11, 4, 9)); err == nil {
		t.Errorf("eleven balls of twelve are enough: %+v", st)
	}
	// Over two files the places go on.
	first, second := carried(6, 4), carried(8, 3)
	for i := range second.Shots {
		second.Shots[i] = second.Shots[i].With(analysis.Lateral, 2+float64(i))
	}
	if st, err := terms.Take(0, first, second); err != nil || st.Shown != 2 || st.OtherHalf != 0 {
		t.Errorf("over two files: %+v, %v", st, err)
	}
}

// What is drawn is inside the session, in order, and every place comes as often.
func TestDraw(t *testing.T) {
	came := map[int]int{}
	const n = 9000
	for seed := range uint64(n) {
		draw := drawnTerms.Draw(seed)
		if len(draw) != challenge.HalfShots || draw[0] >= draw[1] {
			t.Fatalf("drew %v", draw)
		}
		for _, d := range draw {
			came[d]++
		}
	}
	for d := range 14 {
		want := 0.0
		if d >= 2 && d <= 11 {
			want = n * challenge.HalfShots / 10
		}
		if math.Abs(float64(came[d])-want) > 4.5*math.Sqrt(want*0.8) {
			t.Errorf("place %d came %d times, want about %.0f", d, came[d], want)
		}
	}
}
