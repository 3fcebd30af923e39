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

// A drawnTally is what became of sessions, as shares of them: of those with half shots
// where they were drawn and of those without any.
type drawnTally struct {
	shown, clear, refused  float64 // drawn balls that show; sessions that count, and that do not
	passed, fooled, turned float64 // full balls taken for half ones; sessions that count, and that do not
}

func told(club analysis.Club, skill float64, device player.Device, n int) (k drawnTally) {
	terms := drawnTerms
	terms.Club = club
	one := 1 / float64(n)
	for seed := range uint64(n) {
		draw := terms.Draw(seed)
		st, err := terms.For(draw).Take(0, swung(club, skill, device, draw, seed))
		if err != nil {
			panic(err)
		}
		k.shown += float64(st.Shown) / challenge.HalfShots * one
		switch {
		case st.Plain():
			k.refused += one
		case len(st.Doubts()) == 0:
			k.clear += one
		}
		st, err = terms.For(draw).Take(0, swung(club, skill, device, nil, seed))
		if err != nil {
			panic(err)
		}
		k.passed += float64(st.Shown) / challenge.HalfShots * one
		switch {
		case st.Plain():
			k.turned += one
		case len(st.Doubts()) == 0:
			k.fooled += one
		}
	}
	return k
}

var devices = []struct {
	name string
	player.Device
}{
	{"club and ball", player.Device{Club: true, Ball: true, Landed: true}},
	{"ball", player.Device{Ball: true, Landed: true}},
	{"carry alone", player.Device{Landed: true}},
}

// Half shots show where they were drawn, and full ones do not, thinned or not: of honest
// sessions fewer than 2 in 100 wait or are refused, and one without half shots hardly ever
// counts. Wild players with carry alone are worse off, which the table tells.
func TestHalfShotsTell(t *testing.T) {
	n := max(*halves, 30)
	var all drawnTally
	kinds := 0.0
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
				k := told(club, skill, d.Device, n)
				if *halves > 0 {
					fmt.Printf("%-6s skill %.0f %-13s half shots show %.1f %%; sessions count %.1f %%, refused %.1f %%; without any: full balls pass %.2f %%, sessions count %.2f %%, refused %.1f %%\n",
						key, skill, d.name, 100*k.shown, 100*k.clear, 100*k.refused, 100*k.passed, 100*k.fooled, 100*k.turned)
				}
				if skill <= 2 && d.Ball {
					all.clear, all.refused, all.fooled, all.turned, kinds = all.clear+k.clear, all.refused+k.refused, all.fooled+k.fooled, all.turned+k.turned, kinds+1
				}
			}
		}
	}
	if all.clear/kinds < 0.98 || all.refused/kinds > 0.005 {
		t.Errorf("%.1f %% of honest sessions count, and %.1f %% are refused", 100*all.clear/kinds, 100*all.refused/kinds)
	}
	if all.fooled/kinds > 0.01 || all.turned/kinds < 0.95 {
		t.Errorf("%.1f %% of the sessions without half shots count, and %.1f %% are refused", 100*all.fooled/kinds, 100*all.turned/kinds)
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
	bare := carried(14, 4, 9)
	for i := range bare.Shots {
		bare.Shots[i] = analysis.Shot{N: i + 1, Club: iron}.With(analysis.Lateral, 1)
	}
	merely := carried(14, 4)
	merely.Shots[8] = merely.Shots[8].With(analysis.Carry, 100)
	alike := carried(14, 4)
	alike.Shots[8], alike.Shots[5] = alike.Shots[8].With(analysis.Carry, 100), alike.Shots[5].With(analysis.Carry, 99)
	neither := carried(14)
	neither.Shots[3], neither.Shots[8] = neither.Shots[3].With(analysis.Carry, 100), neither.Shots[8].With(analysis.Carry, 100)
	const counts, waits, refused = "counts", "waits", "is refused"
	for _, c := range []struct {
		name                string
		s                   analysis.Session
		shown, full, others int
		becomes             string
	}{
		{"as drawn", carried(14, 4, 9), 2, 0, 0, counts},
		{"none", carried(14), 0, 2, 0, refused},
		{"one forgotten", carried(14, 9), 1, 1, 0, refused},
		{"others", carried(14, 3, 6), 1, 1, 0, refused},
		{"one too many", carried(14, 4, 6, 9), 2, 0, 1, counts},
		{"guessed", carried(14, 2, 4, 6, 8, 9, 11), 2, 0, 4, refused},
		{"two too many", carried(14, 4, 6, 8, 9), 2, 0, 2, waits},
		{"one merely short", merely, 2, 0, 0, counts},
		{"one merely short, as another is", alike, 2, 0, 1, waits},
		{"both merely short", neither, 0, 0, 0, waits},
		{"a ball lost before", renumbered(without(carried(14, 4, 9), 2)), 2, 0, 0, counts},
		{"a ball lost between", renumbered(without(carried(14, 4, 9), 6)), 2, 0, 0, counts},
		{"two balls lost before", renumbered(without(without(carried(14, 4, 9), 3), 2)), 0, 0, 0, waits},
		{"a ball nobody hit", carried(14, 5, 10), 0, 0, 0, waits},
		{"a row missing before", without(carried(14, 4, 9), 2), 2, 0, 0, counts},
		{"a drawn row missing", without(carried(14, 4, 9), 9), 2, 0, 0, counts},
		{"a drawn ball without a figure", hidden, 2, 0, 0, counts},
		{"both drawn rows missing", without(without(carried(14), 9), 4), 0, 0, 0, waits},
		{"found again what was lost", carried(14, 3, 9), 1, 1, 0, refused},
	} {
		st, err := terms.Take(0, c.s)
		if err != nil {
			t.Errorf("%s: %v", c.name, err)
			continue
		}
		if st.Drawn != 2 || st.Shown != c.shown || st.Full != c.full || st.OtherHalf != c.others || len(st.Balls) != 10 {
			t.Errorf("%s: %d of %d shown, %d full and %d others, %d balls count; want %d, %d and %d", c.name, st.Shown, st.Drawn, st.Full, st.OtherHalf, len(st.Balls), c.shown, c.full, c.others)
		}
		becomes := counts
		switch {
		case st.Plain():
			becomes = refused
		case slices.ContainsFunc(st.Doubts(), func(w analysis.Warning) bool { return w.Code == challenge.NotHalf || w.Code == challenge.OtherHalf }):
			becomes = waits
		}
		if becomes != c.becomes {
			t.Errorf("%s: it %s, want %s", c.name, becomes, c.becomes)
		}
	}
	brief := terms
	brief.Number = analysis.Lateral
	if st, err := brief.Take(0, bare); err == nil {
		t.Errorf("nothing to tell half shots by: %+v", st)
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
