package pattern

import (
	"math"
	"math/rand/v2"
	"reflect"
	"testing"

	"rangepost/analysis"
)

// setOf makes a set of shots that landed at (carry, lateral).
func setOf(carry, lateral []float64) analysis.Set {
	var set analysis.Set
	for i := range carry {
		set.Shots = append(set.Shots, analysis.Shot{N: i + 1}.With(analysis.Carry, carry[i]).With(analysis.Lateral, lateral[i]))
	}
	return set
}

func scattered(rng *rand.Rand, n int, carry, lateral float64, along, across float64) analysis.Set {
	x, y := make([]float64, n), make([]float64, n)
	for i := range x {
		x[i], y[i] = carry+along*rng.NormFloat64(), lateral+across*rng.NormFloat64()
	}
	return setOf(x, y)
}

func within(t *testing.T, what string, got, want, tol float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tol) {
		t.Errorf("%s = %.12g, want %.12g (tolerance %g)", what, got, want, tol)
	}
}

// Twelve invented points; regions by R 4.2.2: eigen(cov) and qf. [C] There x is
// across and y along, and the angle runs from across to along.
func TestRegions(t *testing.T) {
	lateral := []float64{3.1, -1.4, 6.2, 4.8, 0.5, 7.9, 2.2, 5.6, -3, 4.1, 1.7, 6.7}
	along := []float64{-2.5, 1, -6.1, 3.2, -4.4, -1.2, 0.8, -5, 2.1, -3.3, -0.6, -7.2}
	p := Of(setOf(along, lateral))
	if p.Balls != 12 || p.Used != 12 || p.Centre == nil || p.Ellipse80 == nil {
		t.Fatalf("%+v", p)
	}
	within(t, "lateral", p.Lateral.Mean, 3.2, 1e-12)
	// Student's limits, and a little for streaks that twelve balls cannot rule out; on
	// the side of the long tail, the left, a little more for that.
	if low, high := 1.07865744258003, 5.32134255741997; p.Lateral.Low > low || p.Lateral.Low < low-0.3 || p.Lateral.High < high || p.Lateral.High > high+0.1 {
		t.Errorf("lateral %.3f to %.3f, Student's %.3f to %.3f", p.Lateral.Low, p.Lateral.High, low, high)
	}
	within(t, "carry", p.Carry.Mean, -1.93333333333333, 1e-12)
	within(t, "centre across", p.Centre.Y, 3.2, 1e-12)
	within(t, "centre major", p.Centre.Major, 3.5815073281825, 1e-10)
	within(t, "centre minor", p.Centre.Minor, 2.00553719220369, 1e-10)
	within(t, "angle", p.Centre.Angle, math.Pi/2-134.740434735515*math.Pi/180, 1e-10)
	// The 80 % region by the same formula as the 95 % one, which R gives:
	// the quantiles of F(2, 10) at 0.8 and 0.95 are 1.89865 and 4.10282 (tables).
	within(t, "80 % to 95 %", p.Ellipse80.Major/12.913308315212, math.Sqrt(1.898648/4.102821), 1e-6)
}

// Width80 holds the next ball four times of five, by the normal under 20 balls
// and by order from there.
func TestWidth80HoldsTheNextBall(t *testing.T) {
	for _, n := range []int{5, 12, 20, 41} {
		rng := rand.New(rand.NewPCG(1, uint64(n)))
		const sets = 4000
		held := 0
		for range sets {
			set := scattered(rng, n, 150, 3, 5, 8)
			p := Of(set)
			if !p.Width80OK {
				t.Fatalf("%d balls have no width", n)
			}
			// The band is centred on the mean under 20 balls; from there it is
			// compared by the share of balls that fit in its width.
			next := 3 + 8*rng.NormFloat64()
			if n < 20 {
				if math.Abs(next-p.Lateral.Mean) <= p.Width80/2 {
					held++
				}
				continue
			}
			if math.Abs(next-3) <= p.Width80/2 {
				held++
			}
		}
		// 4 standard errors of 4,000 are 2.5 %.
		if share := float64(held) / sets; math.Abs(share-0.8) > 0.03 {
			t.Errorf("%d balls: %.3f held", n, share)
		}
	}
}

func TestFewBalls(t *testing.T) {
	rng := rand.New(rand.NewPCG(2, 2))
	for n := range 5 {
		p := Of(scattered(rng, n, 150, 0, 5, 5))
		if p.Centre != nil || p.Ellipse80 != nil || p.Width80OK {
			t.Errorf("%d balls have regions", n)
		}
		if len(p.Warnings) == 0 || p.Warnings[0].Code != FewBalls || p.Warnings[0].Count != n {
			t.Errorf("%d balls warn %+v", n, p.Warnings)
		}
		if p.Lateral.OK != (n >= 2) {
			t.Errorf("%d balls: limits %v", n, p.Lateral.OK)
		}
	}
	same := make([]float64, 20)
	p := Of(Mishits(setOf(same, same)))
	if p.Centre != nil || len(p.Warnings) != 1 || p.Warnings[0].Code != NoSpread || len(p.Mishits) != 0 {
		t.Errorf("all on one spot: %+v", p)
	}
}

// Planted mishits are flagged and only they; misreads stay misreads, and the
// figures with mishits count them in.
func TestMishits(t *testing.T) {
	lateral := []float64{3.1, -1.4, 6.2, 4.8, 0.5, 7.9, 2.2, 5.6, -3, 4.1, 1.7, 6.7, 2.9, 24, -1}
	carry := []float64{147.5, 151, 143.9, 153.2, 145.6, 148.8, 150.8, 145, 152.1, 146.7, 149.4, 142.8, 148.1, 48, 7}
	set := setOf(carry, lateral)
	misread := analysis.Shot{N: 16, Aside: analysis.Impossible, Why: "carry out of range"}.With(analysis.Carry, 900).With(analysis.Lateral, 400)
	set.Shots = append(set.Shots, misread)
	before := append([]analysis.Shot(nil), set.Shots...)
	flagged := Mishits(set)
	if !reflect.DeepEqual(set.Shots, before) {
		t.Fatal("the set was changed")
	}
	for i, s := range flagged.Shots {
		want := analysis.Used
		switch i {
		case 13, 14:
			want = analysis.Mishit
		case 15:
			want = analysis.Impossible
		}
		if s.Aside != want || (s.Why == "") != (want == analysis.Used) {
			t.Errorf("ball %d: %q, %q", s.N, s.Aside, s.Why)
		}
	}
	p := Of(flagged)
	if p.Balls != 16 || p.Used != 13 || !reflect.DeepEqual(p.Mishits, []int{14, 15}) {
		t.Errorf("%d balls, %d used, mishits %v", p.Balls, p.Used, p.Mishits)
	}
	within(t, "with mishits", p.WithMishits.Carry.Mean, (13*p.Carry.Mean+48+7)/15, 1e-9)
	if again := Mishits(flagged); !reflect.DeepEqual(again, flagged) {
		t.Error("flagging twice flags more")
	}
}

// struck is a 7-iron struck well, within what a golfer's own balls vary.
func struck(rng *rand.Rand, n int) analysis.Shot {
	s := analysis.Shot{N: n}
	for _, m := range []struct {
		n     analysis.Number
		v, sd float64
	}{
		{analysis.ClubSpeed, 36, 0.7}, {analysis.BallSpeed, 48, 1}, {analysis.LaunchAngle, 18 * analysis.Degree, 1.2 * analysis.Degree},
		{analysis.Direction, 0, 1.5 * analysis.Degree}, {analysis.Spin, 700, 50}, {analysis.DynamicLoft, 24 * analysis.Degree, 1.2 * analysis.Degree},
		{analysis.Carry, 140, 5}, {analysis.Lateral, 2, 6}, {analysis.StrikeUp, 0.001, 0.004},
	} {
		s = s.With(m.n, m.v+m.sd*rng.NormFloat64())
	}
	return s
}

// Mishits as they are described wherever golf is taught, and poor balls that are
// none, among balls struck well; seen in full, as the ball alone, and as the club
// and the finish alone.
func TestMishitsAreWhatTheyLookLike(t *testing.T) {
	type numbers map[analysis.Number]float64
	const degree = analysis.Degree
	cases := []struct {
		name string
		n    numbers
		want Kind
	}{
		{"top", numbers{analysis.LaunchAngle: 2 * degree, analysis.BallSpeed: 20, analysis.Carry: 6, analysis.Spin: 150, analysis.StrikeUp: -0.022}, Top},
		{"thin", numbers{analysis.LaunchAngle: 7 * degree, analysis.BallSpeed: 43, analysis.Carry: 85, analysis.Spin: 450, analysis.StrikeUp: -0.016}, Thin},
		{"duff", numbers{analysis.ClubSpeed: 27, analysis.BallSpeed: 29, analysis.Carry: 60, analysis.Spin: 300}, Duff},
		{"shank", numbers{analysis.Direction: 40 * degree, analysis.BallSpeed: 28, analysis.Carry: 45, analysis.Lateral: 30, analysis.Spin: 350}, Shank},
		{"slice", numbers{analysis.Direction: 4 * degree, analysis.Carry: 128, analysis.Lateral: 38}, NoKind},
		{"push", numbers{analysis.Direction: 9 * degree, analysis.Lateral: 27}, NoKind},
		{"toe", numbers{analysis.BallSpeed: 42, analysis.Carry: 118, analysis.Lateral: -9}, NoKind},
		{"easy swing", numbers{analysis.ClubSpeed: 30, analysis.BallSpeed: 40, analysis.Carry: 108, analysis.Spin: 590}, NoKind},
		{"punch", numbers{analysis.LaunchAngle: 10 * degree, analysis.DynamicLoft: 14 * degree, analysis.BallSpeed: 49, analysis.Carry: 120, analysis.Spin: 500}, NoKind},
		{"long", numbers{analysis.BallSpeed: 51, analysis.Carry: 158}, NoKind},
	}
	for seen, columns := range map[string][]analysis.Number{
		"everything":      analysis.Numbers(),
		"ball":            {analysis.BallSpeed, analysis.LaunchAngle, analysis.Direction, analysis.Spin, analysis.Carry, analysis.Lateral},
		"club and finish": {analysis.ClubSpeed, analysis.DynamicLoft, analysis.StrikeUp, analysis.Carry, analysis.Lateral},
	} {
		for _, c := range cases {
			for _, n := range []int{6, 12, 40} {
				rng := rand.New(rand.NewPCG(3, uint64(n)))
				var set analysis.Set
				for i := range n {
					s := struck(rng, i+1)
					if i == n/2 {
						for number, v := range c.n {
							s = s.With(number, v)
						}
					}
					told := analysis.Shot{N: s.N}
					for _, number := range columns {
						if v, ok := s.Value(number); ok {
							told = told.With(number, v)
						}
					}
					set.Shots = append(set.Shots, told)
				}
				for i, s := range Mishits(set).Shots {
					want := NoKind
					if i == n/2 {
						want = c.want
					}
					if got := KindOf(s); got != want || (s.Aside == analysis.Mishit) != (want != NoKind) {
						t.Errorf("%s, %s of %d balls: ball %d is %q, %q", seen, c.name, n, i+1, s.Aside, s.Why)
					}
				}
			}
		}
	}
}

// A device may read the club before the turf slows it: half the usual ball speed is a
// duff all the same. Balls that name no club may be of several, and one that is slower,
// shorter and higher was hit with a shorter club.
func TestDuffsAndShorterClubs(t *testing.T) {
	duff := map[analysis.Number]float64{analysis.BallSpeed: 25, analysis.Carry: 48, analysis.Spin: 300}
	wedge := map[analysis.Number]float64{analysis.ClubSpeed: 28, analysis.BallSpeed: 32, analysis.LaunchAngle: 30 * analysis.Degree, analysis.Carry: 80, analysis.Spin: 700}
	iron := analysis.Club{Family: analysis.Iron, Number: 7}
	for _, c := range []struct {
		name string
		club analysis.Club
		n    map[analysis.Number]float64
		want Kind
	}{
		{"duff", iron, duff, Duff}, {"duff without a club", analysis.Club{}, duff, Duff},
		{"wedge without a club", analysis.Club{}, wedge, NoKind},
	} {
		set := analysis.Set{Club: c.club}
		rng := rand.New(rand.NewPCG(3, 1))
		for i := range 12 {
			set.Shots = append(set.Shots, struck(rng, i+1))
		}
		for number, v := range c.n {
			set.Shots[5] = set.Shots[5].With(number, v)
		}
		for i, s := range Mishits(set).Shots {
			want := NoKind
			if i == 5 {
				want = c.want
			}
			if got := KindOf(s); got != want || (s.Aside == analysis.Mishit) != (want != NoKind) {
				t.Errorf("%s: ball %d is %q, %q", c.name, i+1, s.Aside, s.Why)
			}
		}
	}
}

// A clean set has no more than one chance in twenty of any flag, whatever its
// size: far less, as its balls carry alike.
func TestCleanSetsAreLeftAlone(t *testing.T) {
	for _, n := range []int{5, 7, 12, 20, 40} {
		rng := rand.New(rand.NewPCG(3, uint64(n)))
		const sets = 1000
		flagged := 0
		for range sets {
			if p := Of(Mishits(scattered(rng, n, 200, -4, 9, 14))); len(p.Mishits) > 0 {
				flagged++
			}
		}
		if share := float64(flagged) / sets; share > 0.05 {
			t.Errorf("%d balls: %.3f of clean sets flagged", n, share)
		}
	}
}

// One ball far off is found in every set of 6 and more, and in one of five.
func TestWildBallIsFound(t *testing.T) {
	for _, n := range []int{5, 6, 9, 20, 60, 200} {
		found := 0
		for seed := range uint64(50) {
			rng := rand.New(rand.NewPCG(seed, uint64(n)))
			set := scattered(rng, n, 150, 0, 5, 6)
			set.Shots[n/2] = set.Shots[n/2].With(analysis.Carry, 30).With(analysis.Lateral, 60)
			for _, s := range Mishits(set).Shots {
				if s.N == n/2+1 && s.Aside == analysis.Mishit {
					found++
				}
			}
		}
		if least := map[bool]int{true: 30, false: 48}[n < 9]; found < least {
			t.Errorf("%d balls: found in %d of 50 sets", n, found)
		}
	}
}

// A ball that hardly carries is a mishit by its carry alone; one that finished wide
// of the others is none, and stays.
func TestOneNumber(t *testing.T) {
	for number, want := range map[analysis.Number][]int{analysis.Carry: {4}, analysis.Lateral: nil} {
		var set analysis.Set
		rng := rand.New(rand.NewPCG(4, 4))
		for i := range 15 {
			set.Shots = append(set.Shots, analysis.Shot{N: i + 1}.With(number, 100+4*rng.NormFloat64()))
		}
		set.Shots[3] = set.Shots[3].With(number, 10)
		p := Of(Mishits(set))
		if !reflect.DeepEqual(p.Mishits, want) || p.Balls != 0 {
			t.Errorf("%s alone: mishits %v", number, p.Mishits)
		}
		if got := map[analysis.Number]analysis.Estimate{analysis.Carry: p.Carry, analysis.Lateral: p.Lateral}[number]; got.N != 15-len(want) {
			t.Errorf("%s alone rests on %d balls", number, got.N)
		}
	}
}

// The mirror image of a pattern is the pattern of the mirror image.
func TestMirror(t *testing.T) {
	for _, n := range []int{5, 12, 35} {
		set := scattered(rand.New(rand.NewPCG(5, uint64(n))), n, 150, 5, 6, 9)
		set.Shots[1] = set.Shots[1].With(analysis.Carry, 20).With(analysis.Lateral, 70)
		mirrored := analysis.Set{}
		for _, s := range set.Shots {
			mirrored.Shots = append(mirrored.Shots, s.Mirrored())
		}
		a, b := Of(Mishits(set)), Of(Mishits(mirrored))
		if !reflect.DeepEqual(a.Mishits, b.Mishits) || a.Carry != b.Carry || a.Width80 != b.Width80 {
			t.Errorf("%d balls: %+v and %+v", n, a, b)
		}
		within(t, "mean", b.Lateral.Mean, -a.Lateral.Mean, 1e-12)
		within(t, "low", b.Lateral.Low, -a.Lateral.High, 1e-12)
		if a.Centre != nil {
			within(t, "angle", b.Centre.Angle, -a.Centre.Angle, 1e-12)
		}
	}
}

func BenchmarkMishits60(b *testing.B) {
	set := scattered(rand.New(rand.NewPCG(6, 6)), 60, 200, 0, 8, 12)
	for b.Loop() {
		Of(Mishits(set))
	}
}

// A ball as fast as usual and not struck low is none of the mishits, however short
// of few others it fell; the same without club and strike is.
func TestSoundBallIsNone(t *testing.T) {
	for _, seen := range []bool{true, false} {
		rng := rand.New(rand.NewPCG(12, 12))
		set := scattered(rng, 60, 150, 0, 4, 6)
		for i, s := range set.Shots {
			if i == 30 {
				s = s.With(analysis.Carry, 84)
			}
			if seen {
				s = s.With(analysis.ClubSpeed, 36+0.5*rng.NormFloat64()).With(analysis.StrikeUp, 0.003*rng.NormFloat64())
			}
			set.Shots[i] = s
		}
		if mishits := Of(Mishits(set)).Mishits; (len(mishits) > 0) == seen {
			t.Errorf("club and strike measured %v: mishits %v", seen, mishits)
		}
	}
}
