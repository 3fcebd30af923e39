package cause

import (
	"math"
	"reflect"
	"testing"

	"rangepost/analysis"
	"rangepost/analysis/pattern"
	"rangepost/analysis/player"
)

// The plain cases of each owner, 30 balls of a steady player.
func TestVerdicts(t *testing.T) {
	for _, tc := range []struct {
		name       string
		club       analysis.Club
		face, path float64
		toe        float64 // mm
		want       Verdict
	}{
		{"square", iron, 0, 0, 0, Centred},
		{"open face", iron, 4, 0.5, 0, Face},
		{"closed face", driver, -4, -1, 0, Face},
		{"path to the left", driver, 0, -7, 0, Path},
		{"path to the right", iron, 0, 9, 0, Path},
		{"both", iron, 2.5, -6, 0, FaceAndPath},
		{"aimed right", iron, 5, 5, 0, Aim},
		{"aimed left", wedge, -5, -5, 0, Aim},
		{"off the toe", driver, 0, 0, 16, Strike},
		{"off the heel", driver, 0, 0, -16, Strike},
		{"draw that finds the target", iron, 1.9, 5, 0, Centred},
		{"fade that finds the target", iron, -1.9, -5, 0, Centred},
	} {
		t.Run(tc.name, func(t *testing.T) {
			p := golfer(tc.club, tc.face, tc.path)
			p.Delivery.StrikeToe = tc.toe * analysis.Millimetre
			if tc.toe != 0 { // at the standard gear effect a driver's bulge undoes most of a strike
				p.World.Ball.Head.GearScale = 1
			}
			r := judged(p.Set(30, "", seeded(1)), Config{})
			if r.Verdict != tc.want {
				t.Errorf("%s (%.2f), want %s; miss %.1f = face %.1f + path %.1f + rest %.1f (strike %.1f)",
					r.Verdict, r.Confidence, tc.want, r.Miss.Mean, r.Face.Mean, r.Path.Mean, r.Rest.Mean, r.Strike.Mean)
			}
		})
	}
}

// Face, path and rest are the miss, for each ball and in the mean.
func TestYardsAddUp(t *testing.T) {
	for seed := range uint64(20) {
		p := golfer(driver, -3, 4)
		r := judged(p.Set(9, "", seeded(seed)), Config{RefFace: 1 * degree, RefPath: 2 * degree})
		for _, b := range r.Balls {
			within(t, "ball", b.FaceM+b.PathM+b.Rest, b.Miss, 1e-12*math.Abs(b.Miss)+1e-12)
		}
		within(t, "mean", r.Face.Mean+r.Path.Mean+r.Rest.Mean, r.Miss.Mean, 1e-12)
		mean := 0.0
		for _, b := range r.Balls {
			mean += b.Rest / float64(len(r.Balls))
		}
		within(t, "rest", r.Rest.Mean, mean, 1e-9)
	}
}

// What the split gives face and path is what the player's own counterfactual
// gives them, when the player lives in the standard model and the device does
// not err.
func TestSplitAgainstCounterfactual(t *testing.T) {
	for _, c := range []analysis.Club{driver, iron, wedge} {
		p := golfer(c, 3, -4)
		p.Device.Noise = (golfer(c, 0, 0)).Device.Noise
		p.Device.Noise.Face, p.Device.Noise.Path, p.Device.Noise.Axis = 0, 0, 0
		truth := p.Truth(2000, seeded(2))
		r := judged(p.Set(400, "", seeded(3)), Config{})
		// 400 balls leave about a twentieth of one ball's spread.
		tol := 3.5 * truth.Deviation / 20
		within(t, c.Key()+" miss", r.Miss.Mean, truth.Miss, tol)
		within(t, c.Key()+" face", r.Face.Mean, truth.Face, tol)
		within(t, c.Key()+" path", r.Path.Mean, truth.Path, tol)
		// The widest balls of the pattern tell most of the lift, and so of the rest.
		within(t, c.Key()+" rest", r.Rest.Mean, truth.Rest, tol)
		within(t, c.Key()+" strike", r.Strike.Mean, truth.Strike, tol)
	}
}

// A left-hander's mirror image of a right-hander's session has the mirrored
// cause, number by number.
func TestMirror(t *testing.T) {
	opposite := map[analysis.Tool]analysis.Tool{analysis.AimLeft: analysis.AimRight, analysis.AimRight: analysis.AimLeft}
	for seed := range uint64(24) {
		p := golfer([]analysis.Club{driver, iron, wedge}[seed%3], float64(seed%7)-3, 2*float64(seed%5)-4)
		p.Spread.Mishits = 0.05
		p.Device.Club = seed%4 != 3 // some without club numbers
		right := p.Set([]int{6, 20, 45}[seed%3], "", seeded(seed))
		left := right
		left.Shots = nil
		for _, s := range right.Shots {
			left.Shots = append(left.Shots, s.Mirrored())
		}
		a := judged(right, Config{Target: 150, Seed: seed})
		b := judged(left, Config{Target: 150, Seed: seed, Hand: analysis.LeftHanded})
		if a.Verdict != b.Verdict || a.MoreBalls != b.MoreBalls || math.Abs(a.Confidence-b.Confidence) > 2e-3 { // a draw on the border may fall either way by rounding
			t.Errorf("seed %d: %s %.3f %d and %s %.3f %d", seed, a.Verdict, a.Confidence, a.MoreBalls, b.Verdict, b.Confidence, b.MoreBalls)
		}
		const tol = 1e-6
		mirrored := func(what string, e, f analysis.Estimate) {
			within(t, what, f.Mean, -e.Mean, tol)
			within(t, what+" low", f.Low, -e.High, tol)
			within(t, what+" high", f.High, -e.Low, tol)
		}
		mirrored("miss", a.Miss, b.Miss)
		mirrored("face", a.Face, b.Face)
		mirrored("path", a.Path, b.Path)
		mirrored("rest", a.Rest, b.Rest)
		mirrored("strike", a.Strike, b.Strike)
		mirrored("face alone", a.WorkBack.FaceAlone, b.WorkBack.FaceAlone)
		within(t, "face by", b.WorkBack.FaceBy, -a.WorkBack.FaceBy, tol)
		want := a.WorkBack.Tool
		if o, ok := opposite[want]; ok {
			want = o
		}
		if b.WorkBack.Tool != want {
			t.Errorf("seed %d: tool %q and %q", seed, a.WorkBack.Tool, b.WorkBack.Tool)
		}
		if a.Distance.Verdict != b.Distance.Verdict {
			t.Errorf("seed %d: distance %s and %s", seed, a.Distance.Verdict, b.Distance.Verdict)
		}
		if len(a.Corridor.Edges) != len(b.Corridor.Edges) {
			t.Fatalf("seed %d: corridors of %d and %d edges", seed, len(a.Corridor.Edges), len(b.Corridor.Edges))
		}
		for i, e := range a.Corridor.Edges {
			f := b.Corridor.Edges[len(b.Corridor.Edges)-1-i]
			within(t, "corridor path", f.Path, -e.Path, tol)
			within(t, "corridor low", f.FaceLow, -e.FaceHigh, 1e-4)
		}
	}
}

// One wild ball is set aside and changes neither verdict nor split; a set of
// 20 stays what it was.
func TestMishitChangesNothing(t *testing.T) {
	for seed := range uint64(30) {
		p := golfer([]analysis.Club{driver, iron, wedge}[seed%3], float64(seed%9)-4, float64(seed%4)*2-3)
		set := p.Set(20, "", seeded(100+seed))
		before := judged(set, Config{})
		wild := set
		shank := set.Shots[7]
		carry, _ := shank.Value(analysis.Carry)
		shank = shank.With(analysis.Carry, 0.4*carry).With(analysis.Lateral, 0.45*carry).With(analysis.Direction, 45*degree)
		shank.N = 21
		wild.Shots = append(append([]analysis.Shot{}, set.Shots...), shank)
		after := judged(wild, Config{})
		if before.Verdict != after.Verdict {
			t.Errorf("seed %d: %s (%.2f, %d balls) became %s (%.2f, %d balls)", seed, before.Verdict, before.Confidence, before.Miss.N, after.Verdict, after.Confidence, after.Miss.N)
		}
		if before.Miss.N == after.Miss.N {
			within(t, "miss", after.Miss.Mean, before.Miss.Mean, 1e-9)
		}
	}
}

func TestSameSeedSameAnswer(t *testing.T) {
	set := pattern.Mishits(golfer(driver, 2, -2).Set(25, "", seeded(4)))
	copied := append([]analysis.Shot(nil), set.Shots...)
	p := pattern.Of(set)
	a, b := Of(set, p, Config{Seed: 7, Target: 180}), Of(set, p, Config{Seed: 7, Target: 180})
	if !reflect.DeepEqual(a, b) {
		t.Error("the same set and seed gave two answers")
	}
	if !reflect.DeepEqual(set.Shots, copied) {
		t.Error("the set was changed")
	}
	c := Of(set, p, Config{Seed: 8, Target: 180})
	within(t, "face limits of another seed", c.Face.Low, a.Face.Low, 0.15*math.Abs(a.Face.High-a.Face.Low))
}

// With fewer balls fewer verdicts are given, and never more than with all the
// balls by much.
func TestTooFewFallsWithBalls(t *testing.T) {
	tooFew := map[int]int{}
	sizes := []int{3, 6, 12, 25, 50}
	for _, n := range sizes {
		for seed := range uint64(40) {
			p := golfer([]analysis.Club{driver, iron}[seed%2], 2.5, 0)
			r := judged(p.Set(n, "", seeded(1000*uint64(n)+seed)), Config{})
			tooFew[n] += count(r.Verdict == TooFew)
		}
	}
	for i := 1; i < len(sizes); i++ {
		if tooFew[sizes[i]] > tooFew[sizes[i-1]]+2 {
			t.Errorf("too few at %d balls %d of 40 times, at %d %d", sizes[i-1], tooFew[sizes[i-1]], sizes[i], tooFew[sizes[i]])
		}
	}
	if tooFew[3] < 15 || tooFew[50] > 2 {
		t.Errorf("too few by balls: %v", tooFew)
	}
}

// The balls a too_few asks for are about what settles it.
func TestMoreBallsSettle(t *testing.T) {
	asked, settled := 0, 0
	for seed := range uint64(100) {
		p := golfer(driver, 2.2, 0)
		set := p.Set(8, "", seeded(seed))
		r := judged(set, Config{})
		if r.Verdict != TooFew || r.MoreBalls == 0 {
			continue
		}
		asked++
		p2 := p.Set(2*r.MoreBalls, "", seeded(500+seed))
		for i := range p2.Shots {
			p2.Shots[i].N += 8
		}
		set.Shots = append(set.Shots, p2.Shots...)
		settled += count(judged(set, Config{}).Verdict != TooFew)
	}
	if asked < 6 || float64(settled) < 0.6*float64(asked) {
		t.Errorf("twice the balls asked for settled %d of %d", settled, asked)
	}
}

// A brief moves what deliveries are judged against: a path the coach asked for
// owes nothing.
func TestReferenceIsTheBrief(t *testing.T) {
	p := golfer(iron, 0, 4)
	set := p.Set(30, "", seeded(5))
	line, brief := judged(set, Config{}), judged(set, Config{RefPath: 4 * degree})
	if math.Abs(line.Path.Mean) < 4 || math.Abs(brief.Path.Mean) > 1.5 {
		t.Errorf("path owes %.1f m against the line and %.1f m against the brief", line.Path.Mean, brief.Path.Mean)
	}
	within(t, "miss", brief.Miss.Mean, line.Miss.Mean, 0)
	within(t, "sum", brief.Face.Mean+brief.Path.Mean+brief.Rest.Mean, brief.Miss.Mean, 1e-12)
}

func TestLevel(t *testing.T) {
	set := golfer(driver, 2, 0).Set(14, "", seeded(6))
	lax, strict := judged(set, Config{Level: 0.5}), judged(set, Config{Level: 0.999})
	if strict.Verdict != TooFew || lax.Verdict == TooFew {
		t.Errorf("at 0.5 %s (%.3f), at 0.999 %s (%.3f)", lax.Verdict, lax.Confidence, strict.Verdict, strict.Confidence)
	}
}

// Two or three balls prove nothing, however close they lie together.
func TestNothingIsNamedUnderFiveBalls(t *testing.T) {
	p := golfer(iron, 4, 0)
	p.Spread = player.Spread{}
	for n := 1; n < leastBalls; n++ {
		r := judged(p.Set(n, "", seeded(1)), Config{})
		if r.Verdict != TooFew || r.MoreBalls < leastBalls-n || r.WorkBack.OK {
			t.Errorf("%d balls: %s, %d more", n, r.Verdict, r.MoreBalls)
		}
	}
	if r := judged(p.Set(leastBalls, "", seeded(1)), Config{}); r.Verdict != Face {
		t.Errorf("%d balls: %s (%.2f)", leastBalls, r.Verdict, r.Confidence)
	}
}

// Judging a set at once is filling it, flagging its mishits and judging it.
func TestJudgeIsTheStepsInOne(t *testing.T) {
	p := golfer(driver, 3, -2)
	p.Device.Club, p.Device.Strike = false, false
	raw := p.Set(25, "", seeded(3))
	set, places, got := Judge(raw, Config{})
	want := pattern.Mishits(Fill(raw, Config{}))
	if !reflect.DeepEqual(set, want) || !reflect.DeepEqual(places, pattern.Of(want)) || !reflect.DeepEqual(got, Of(want, pattern.Of(want), Config{})) {
		t.Error("the steps one by one give another answer")
	}
}
