package impact

import (
	"errors"
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"rangepost/analysis"
)

// golfer draws one golfer's habit with a club: what of the usual delivery is
// theirs, and where they strike the face.
func golfer(h Head, rng *rand.Rand) analysis.Delivery {
	u, z := h.Usual, rng.NormFloat64
	d := analysis.Delivery{
		ClubSpeed: u.ClubSpeed * math.Exp(0.12*z()),
		Attack:    u.Attack + u.AttackSD*z(),
		StrikeToe: u.StrikeBias * z(),
		StrikeUp:  u.StrikeBias * z(),
	}
	d.DynamicLoft = d.Attack + u.SpinLoft + u.SpinLoftSD*z()
	d.Path = deg(4 * z())
	d.Face = d.Path + deg(3*z())
	return d
}

// ball draws one of their balls: face, path and strike wander, the rest is
// theirs.
func ball(h Head, d analysis.Delivery, rng *rand.Rand) analysis.Delivery {
	z := rng.NormFloat64
	d.Path += deg(1.5 * z())
	d.Face += deg(1.5 * z())
	d.StrikeToe += h.Usual.StrikeSpread * z()
	d.StrikeUp += h.Usual.StrikeSpread * z()
	return d
}

// read is a launch as a device reports it.
func read(l analysis.Launch, n Noise, rng *rand.Rand) analysis.Shot {
	z := rng.NormFloat64
	l.Direction += n.Direction * z()
	l.Angle += n.Angle * z()
	l.Axis += n.Axis * z()
	l.Speed *= 1 + n.BallSpeed*z()
	l.Spin *= 1 + n.Spin*z()
	return shotOf(l)
}

func strikeRead(s analysis.Shot, d analysis.Delivery, n Noise, rng *rand.Rand) analysis.Shot {
	return s.With(analysis.StrikeToe, d.StrikeToe+n.Strike*rng.NormFloat64()).
		With(analysis.StrikeUp, d.StrikeUp+n.Strike*rng.NormFloat64())
}

// TestInverse: what is struck with a head known exactly and read without noise
// comes back, as long as the ball grips the face. Where it slides two lofts
// give the same spin, and which one it was cannot be known.
func TestInverse(t *testing.T) {
	rng := rand.New(rand.NewPCG(3, 3))
	for _, key := range append(clubs, "") {
		h := HeadOf(club(key))
		h.Uncertainty = Uncertainty{}
		for range 200 {
			d := golfer(h, rng)
			d.StrikeToe, d.StrikeUp = 0.01*rng.NormFloat64(), 0.01*rng.NormFloat64()
			if SpinLoft(d) > h.gripLimit(d)-deg(3) || SpinLoft(d) < deg(3) {
				continue
			}
			s := shotOf(h.Strike(d))
			if possible(s) != nil {
				continue // topspin: not a shot any device would report so
			}
			s = s.With(analysis.StrikeToe, d.StrikeToe).With(analysis.StrikeUp, d.StrikeUp)
			i, err := h.Infer(s, Noise{})
			if err != nil {
				t.Fatalf("%q: %v", key, err)
			}
			for _, off := range []float64{i.Face - d.Face, i.Path - d.Path, i.Delivery.Attack - d.Attack, i.Delivery.DynamicLoft - d.DynamicLoft} {
				if math.Abs(off) > deg(0.05) {
					t.Fatalf("%q: struck with %+v, inferred %+v", key, d, i.Delivery)
				}
			}
			if math.Abs(i.Delivery.ClubSpeed/d.ClubSpeed-1) > 1e-3 {
				t.Fatalf("%q: club speed %v, inferred %v", key, d.ClubSpeed, i.Delivery.ClubSpeed)
			}
		}
	}
}

// TestLimits: over 2,000 balls of each class of club, each of another golfer
// with another head, the 95 % limits hold the truth 95 % of the time. The
// seed is fixed; chance alone would leave 94 to 96 %.
func TestLimits(t *testing.T) {
	noise := TypicalNoise()
	for _, key := range []string{"driver", "3w", "4h", "7i", "pw", "56"} {
		for _, struck := range []bool{false, true} {
			rng := rand.New(rand.NewPCG(20, 5))
			h := HeadOf(club(key))
			const n = 2000
			f, p := hold(t, h, noise, n, func() (analysis.Delivery, analysis.Shot) {
				d := ball(h, golfer(h, rng), rng)
				s := read(h.Perturbed(rng).Strike(d), noise, rng)
				if struck {
					s = strikeRead(s, d, noise, rng)
				}
				return d, s
			})
			t.Logf("%s, strike measured %v: face %.1f %%, path %.1f %%", key, struck, 100*f, 100*p)
			if f < 0.93 || f > 0.97 || p < 0.93 || p > 0.97 {
				t.Errorf("%s, strike measured %v: limits hold the face %.1f %% and the path %.1f %% of the time", key, struck, 100*f, 100*p)
			}
		}
	}
}

// hold is the share of n balls whose limits hold the face, and the path.
func hold(t *testing.T, h Head, noise Noise, n int, hit func() (analysis.Delivery, analysis.Shot)) (face, path float64) {
	t.Helper()
	for balls := 0; balls < n; {
		d, s := hit()
		if possible(s) != nil {
			continue
		}
		i, err := h.Infer(s, noise)
		if err != nil {
			t.Fatal(err)
		}
		balls++
		if lo, hi := Limits95(i.Face, i.FaceSD); lo <= d.Face && d.Face <= hi {
			face += 1 / float64(n)
		}
		if lo, hi := Limits95(i.Path, i.PathSD); lo <= d.Path && d.Path <= hi {
			path += 1 / float64(n)
		}
	}
	return face, path
}

// TestLimitsWithClubSpeed: with the club's speed a lost smash tells how far off
// the middle a ball was struck, and the limits still hold: nowhere on the face that
// golfers strike is left out.
func TestLimitsWithClubSpeed(t *testing.T) {
	noise := TypicalNoise()
	for _, key := range []string{"driver", "3w", "4h"} {
		rng := rand.New(rand.NewPCG(21, 5))
		h := HeadOf(club(key))
		const n = 1000
		f, p := hold(t, h, noise, n, func() (analysis.Delivery, analysis.Shot) {
			d := ball(h, golfer(h, rng), rng)
			s := read(h.Perturbed(rng).Strike(d), noise, rng)
			return d, s.With(analysis.ClubSpeed, d.ClubSpeed*(1+noise.ClubSpeed*rng.NormFloat64()))
		})
		t.Logf("%s: face %.1f %%, path %.1f %%", key, 100*f, 100*p)
		// Of a face that two places on it may have turned, two standard deviations
		// hold more than 95 %; of the path, chance alone would leave 93.6 to 96.4.
		if f < 0.95 || f > 0.99 || p < 0.94 || p > 0.97 {
			t.Errorf("%s: limits hold the face %.1f %% and the path %.1f %% of the time", key, 100*f, 100*p)
		}
	}
}

// TestLimitsOfASet: the mean over a set is limited by what its balls share,
// which FaceBy and PathBy carry. With the spread of the balls added, limits of
// the mean hold the golfer's own mean 95 % of the time.
func TestLimitsOfASet(t *testing.T) {
	noise := TypicalNoise()
	for _, key := range []string{"driver", "7i", "pw"} {
		rng := rand.New(rand.NewPCG(8, 1))
		h := HeadOf(club(key))
		const sets, balls = 500, 20
		within := [2]int{}
		for range sets {
			g, head := golfer(h, rng), h.Perturbed(rng)
			var mean, square [2]float64
			var by [2][NumShared]float64
			n := 0.0
			for n < balls {
				s := read(head.Strike(ball(h, g, rng)), noise, rng)
				i, err := h.Infer(s, noise)
				if err != nil {
					continue
				}
				n++
				for j, v := range []float64{i.Face, i.Path} {
					mean[j] += v
					square[j] += v * v
				}
				for k := range NumShared {
					by[0][k] += i.FaceBy[k]
					by[1][k] += i.PathBy[k]
				}
			}
			for j, truth := range []float64{g.Face, g.Path} {
				m := mean[j] / n
				const student, normal = 2.093, 1.960 // 97.5 % points, 19 degrees of freedom
				variance := (square[j]/n - m*m) / (n - 1) * (student / normal) * (student / normal)
				for k := range NumShared {
					variance += (by[j][k] / n) * (by[j][k] / n)
				}
				if lo, hi := Limits95(m, math.Sqrt(variance)); lo <= truth && truth <= hi {
					within[j]++
				}
			}
		}
		f, p := float64(within[0])/sets, float64(within[1])/sets
		t.Logf("%s: mean face %.1f %%, mean path %.1f %%", key, 100*f, 100*p)
		if f < 0.92 || f > 0.98 || p < 0.92 || p > 0.98 {
			t.Errorf("%s: limits of the mean hold the face %.1f %% and the path %.1f %% of the time", key, 100*f, 100*p)
		}
	}
}

// TestInferUsesWhatIsThere: fewer columns, wider limits; and never a limit
// that a column more would not narrow.
func TestInferUsesWhatIsThere(t *testing.T) {
	h := HeadOf(club("7i"))
	d := h.Usual.Delivery()
	d.Face, d.Path = deg(2), deg(-2)
	l := h.Strike(d)
	noise := TypicalNoise()
	start := analysis.Shot{N: 7}.With(analysis.Direction, l.Direction)
	axis := start.With(analysis.SpinAxis, l.Axis)
	angle := axis.With(analysis.LaunchAngle, l.Angle)
	spin := angle.With(analysis.Spin, l.Spin).With(analysis.BallSpeed, l.Speed)
	faced := spin.With(analysis.Face, d.Face)
	clubbed := faced.With(analysis.Attack, d.Attack).With(analysis.DynamicLoft, d.DynamicLoft)
	var was Inference
	for n, s := range []analysis.Shot{start, axis, angle, spin, faced, clubbed} {
		i, err := h.Infer(s, noise)
		if err != nil {
			t.Fatal(err)
		}
		t.Logf("%d: face %.2f +- %.2f, path %.2f +- %.2f deg, %v", n, degrees(i.Face), degrees(i.FaceSD), degrees(i.Path), degrees(i.PathSD), i.Warnings)
		if n > 0 && (i.FaceSD > was.FaceSD*1.02 || i.PathSD > was.PathSD*1.02) {
			t.Errorf("with one column more the limits went from %.3f, %.3f to %.3f, %.3f deg", degrees(was.FaceSD), degrees(was.PathSD), degrees(i.FaceSD), degrees(i.PathSD))
		}
		was = i
	}
}

func TestInferSaysWhatItCannotTell(t *testing.T) {
	noise := TypicalNoise()
	has := func(i Inference, code string, n analysis.Number) bool {
		for _, w := range i.Warnings {
			if w.Code == code && w.Number == n {
				return true
			}
		}
		return false
	}
	infer := func(h Head, s analysis.Shot) Inference {
		i, err := h.Infer(s, noise)
		if err != nil {
			t.Fatal(err)
		}
		return i
	}

	driver, iron := HeadOf(club("driver")), HeadOf(club("7i"))
	d := driver.Usual.Delivery()
	d.Face, d.Path = deg(1), deg(-3)
	launch := driver.Strike(d)
	i := infer(driver, shotOf(launch))
	if i.PathOK || !i.FaceOK || !has(i, StrikeUnknown, analysis.Path) {
		t.Errorf("a driver without strike: face %v path %v %v", i.FaceOK, i.PathOK, i.Warnings)
	}
	i = infer(driver, shotOf(launch).With(analysis.StrikeToe, 0).With(analysis.StrikeUp, 0))
	if !i.PathOK || !i.FaceOK || len(i.Warnings) != 0 {
		t.Errorf("a driver with strike: face %v path %v %v", i.FaceOK, i.PathOK, i.Warnings)
	}

	d = iron.Usual.Delivery()
	launch = iron.Strike(d)
	i = infer(iron, shotOf(launch))
	if !i.PathOK || !i.FaceOK || len(i.Warnings) != 0 {
		t.Errorf("an iron: face %v path %v %v", i.FaceOK, i.PathOK, i.Warnings)
	}
	noAxis := analysis.Shot{}.With(analysis.Direction, 0).With(analysis.LaunchAngle, launch.Angle)
	i = infer(iron, noAxis)
	if i.PathOK || !has(i, AxisUnknown, analysis.Path) || !has(i, UsualLoft, analysis.DynamicLoft) {
		t.Errorf("an iron without axis and spin: path %v %v", i.PathOK, i.Warnings)
	}
	wrong := launch
	wrong.Spin *= 2.3
	if i = infer(iron, shotOf(wrong)); !has(i, Misfit, analysis.Direction) {
		t.Errorf("2.3 times the spin fits: %v", i.Warnings)
	}

	lob := HeadOf(club("60"))
	d = lob.Usual.Delivery()
	d.DynamicLoft = d.Attack + lob.gripLimit(d) + deg(1)
	if i = infer(lob, shotOf(lob.Strike(d))); !has(i, Sliding, analysis.SpinLoft) {
		t.Errorf("a sliding lob, spin loft %.1f +- %.1f of %.1f deg: %v", degrees(SpinLoft(i.Delivery)), degrees(i.LoftSD), degrees(lob.gripLimit(i.Delivery)), i.Warnings)
	}
}

func TestInferRefuses(t *testing.T) {
	h := HeadOf(club("7i"))
	good := shotOf(h.Strike(h.Usual.Delivery()))
	for _, c := range []struct {
		name   string
		shot   analysis.Shot
		number analysis.Number
		says   string
	}{
		{"nothing sideways", analysis.Shot{N: 4}.With(analysis.BallSpeed, 50), analysis.Direction, "missing"},
		{"radians read as degrees", good.With(analysis.SpinAxis, 5), analysis.SpinAxis, "286.5 deg"},
		{"no ball speed", good.With(analysis.BallSpeed, 0), analysis.BallSpeed, "outside 1 to 110"},
		{"no spin", good.With(analysis.Spin, 0), analysis.Spin, "rpm"},
	} {
		t.Run(c.name, func(t *testing.T) {
			_, err := h.Infer(c.shot, TypicalNoise())
			var input *InputError
			if !errors.As(err, &input) || input.Number != c.number || input.Shot != c.shot.N || !strings.Contains(err.Error(), c.says) {
				t.Errorf("got %v, want an InputError about %v that says %q", err, c.number, c.says)
			}
		})
	}
}

func TestInto(t *testing.T) {
	h := HeadOf(club("7i"))
	d := h.Usual.Delivery()
	d.Face, d.Path = deg(2), deg(-1)
	s := shotOf(h.Strike(d)).With(analysis.Face, d.Face)
	i, err := h.Infer(s, TypicalNoise())
	if err != nil {
		t.Fatal(err)
	}
	got := i.Into(s)
	if v, _ := got.Value(analysis.Face); !got.Measured(analysis.Face) || v != d.Face {
		t.Errorf("the measured face became %v", v)
	}
	for _, n := range []analysis.Number{analysis.Path, analysis.FaceToPath, analysis.DynamicLoft, analysis.Attack, analysis.ClubSpeed, analysis.SpinLoft} {
		if !got.Inferred(n) {
			t.Errorf("%v was not filled in", n)
		}
	}
	if _, missing := got.Delivery(); len(missing) != 0 {
		t.Errorf("still missing %v", missing)
	}
}
