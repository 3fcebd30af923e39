package cause

import (
	"math"
	"testing"

	"rangepost/analysis"
	"rangepost/analysis/impact"
	"rangepost/analysis/pattern"
)

// finite fails on any number that a reader could not print.
func finite(t *testing.T, what string, r Result) {
	t.Helper()
	check := func(name string, values ...float64) {
		for _, v := range values {
			if math.IsNaN(v) || math.IsInf(v, 0) {
				t.Errorf("%s: %s is %v", what, name, values)
				return
			}
		}
	}
	e := func(name string, e analysis.Estimate) { check(name, e.Mean, e.Low, e.High, e.SD) }
	e("miss", r.Miss)
	e("face", r.Face)
	e("path", r.Path)
	e("rest", r.Rest)
	e("strike", r.Strike)
	for n, d := range r.Delivery {
		e(analysis.Number(n).String(), d)
	}
	check("worth", r.FaceWorth, r.PathWorth, r.Confidence, r.PracticalZero, r.HalfWidth)
	for _, c := range r.Corridor.Edges {
		check("corridor", c.Path, c.FaceLow, c.FaceHigh)
	}
	e("face alone", r.WorkBack.FaceAlone)
	e("path alone", r.WorkBack.PathAlone)
	check("work-back", r.WorkBack.FaceBy, r.WorkBack.PathBy)
	e("distance", r.Distance.Miss)
	check("distance", r.Distance.Speed.Mean, r.Distance.Strike.Mean, r.Distance.Loft.Mean, r.Distance.Spin.Mean, r.Distance.Rest.Mean)
	if s := r.Scatter; s != nil {
		check("shares", s.Face, s.Path, s.Strike, s.Speed, s.Unexplained)
	}
}

func TestNastySets(t *testing.T) {
	full := golfer(iron, 3, 0).Set(12, "", seeded(1))
	same := analysis.Set{Club: iron}
	for i := range 10 {
		s := full.Shots[0]
		s.N = i + 1
		same.Shots = append(same.Shots, s)
	}
	change := func(by func(s analysis.Shot) analysis.Shot) analysis.Set {
		out := analysis.Set{Club: full.Club}
		for _, s := range full.Shots {
			out.Shots = append(out.Shots, by(s))
		}
		return out
	}
	with := func(n analysis.Number, v float64) analysis.Set {
		return change(func(s analysis.Shot) analysis.Shot { return s.With(n, v) })
	}
	aside := change(func(s analysis.Shot) analysis.Shot { s.Aside = analysis.Impossible; return s })
	for name, set := range map[string]analysis.Set{
		"no balls":          {Club: iron},
		"one ball":          {Club: iron, Shots: full.Shots[:1]},
		"two balls":         {Club: iron, Shots: full.Shots[:2]},
		"no club":           {Shots: full.Shots},
		"putter":            {Club: analysis.Club{Family: analysis.Putter}, Shots: full.Shots},
		"one spot":          same,
		"all set aside":     aside,
		"no speed at all":   with(analysis.ClubSpeed, 0),
		"face backwards":    with(analysis.Face, 170*degree),
		"loft upside down":  with(analysis.DynamicLoft, -80*degree),
		"loft of 89":        with(analysis.DynamicLoft, 89*degree),
		"speed of light":    with(analysis.ClubSpeed, 3e8),
		"spin of a drill":   with(analysis.Spin, 1e6),
		"axis of 89":        with(analysis.SpinAxis, 89*degree),
		"ball stands":       with(analysis.BallSpeed, 0),
		"minus carry":       with(analysis.Carry, -100),
		"lateral of a mile": with(analysis.Lateral, 1609),
	} {
		t.Run(name, func(t *testing.T) {
			r := judged(set, Config{Target: 140})
			finite(t, name, r)
			if len(set.Used()) < 2 && r.Verdict != TooFew && r.Verdict != Unmeasured {
				t.Errorf("%d balls are %s", len(set.Used()), r.Verdict)
			}
			finite(t, name+" at a brief", judged(set, Config{RefFace: 5 * degree, RefPath: -5 * degree}))
		})
	}
}

// What is missing is named, and what can be said without it is said.
func TestUnmeasured(t *testing.T) {
	only := func(numbers ...analysis.Number) analysis.Set {
		p := golfer(iron, 4, 0)
		set := p.Set(30, "", seeded(2))
		for i, s := range set.Shots {
			bare := analysis.Shot{N: s.N, Club: s.Club}
			for _, n := range numbers {
				v, _ := s.Value(n)
				bare = bare.With(n, v)
			}
			set.Shots[i] = bare
		}
		return set
	}
	has := func(list []analysis.Number, n analysis.Number) bool {
		for _, m := range list {
			if m == n {
				return true
			}
		}
		return false
	}
	r := judged(only(analysis.Lateral, analysis.Carry), Config{})
	if r.Verdict != Unmeasured || !has(r.Missing, analysis.Face) || !has(r.Missing, analysis.Path) {
		t.Errorf("landing only: %s, missing %v", r.Verdict, r.Missing)
	}
	r = judged(only(analysis.ClubSpeed, analysis.Attack, analysis.Face, analysis.Path, analysis.DynamicLoft), Config{})
	if r.Verdict != Unmeasured || !has(r.Missing, analysis.Lateral) {
		t.Errorf("club only: %s, missing %v", r.Verdict, r.Missing)
	}
	r = judged(only(analysis.Direction, analysis.BallSpeed, analysis.LaunchAngle), Config{})
	if r.Verdict != Unmeasured || !has(r.Missing, analysis.Lateral) || !has(r.Missing, analysis.SpinAxis) {
		t.Errorf("start line only: %s, missing %v", r.Verdict, r.Missing)
	}

	// A centred pattern is centred whatever was measured.
	p := golfer(iron, 0, 0)
	set := p.Set(40, "", seeded(3))
	for i, s := range set.Shots {
		y, _ := s.Value(analysis.Lateral)
		x, _ := s.Value(analysis.Carry)
		set.Shots[i] = analysis.Shot{N: s.N, Club: s.Club}.With(analysis.Lateral, y).With(analysis.Carry, x)
	}
	if r := judged(set, Config{}); r.Verdict != Centred {
		t.Errorf("a centred landing alone is %s (%.2f), %+v", r.Verdict, r.Confidence, r.Miss)
	}
}

// Without club numbers the cause is worked back from the ball, marked, and the
// same as with them when the balls are plain.
func TestInferred(t *testing.T) {
	for _, tc := range []struct {
		club       analysis.Club
		face, path float64
		drop       []analysis.Number // not measured either
		want       Verdict
	}{
		{iron, 5, 1, nil, Face},
		{iron, 5, 1, []analysis.Number{analysis.SpinAxis}, Face},
		{iron, 5, 1, []analysis.Number{analysis.SpinAxis, analysis.Spin}, Face},
		{wedge, -5, 0, nil, Face},
		{driver, -5, -1, nil, Face},
		{iron, 0, 10, nil, Path},
	} {
		p := golfer(tc.club, tc.face, tc.path)
		p.Device.Club, p.Device.Strike = false, false
		set := p.Set(40, "", seeded(4))
		for i, s := range set.Shots {
			for _, n := range tc.drop {
				s = s.With(n, math.NaN())
			}
			set.Shots[i] = s
		}
		filled := Fill(set, Config{})
		for _, s := range filled.Shots {
			if !s.Inferred(analysis.Face) || !s.Inferred(analysis.Path) || s.Inferred(analysis.Lateral) || s.Has(analysis.SpinAxis) != (tc.drop == nil) {
				t.Fatalf("%v: shot %d is not marked", tc, s.N)
			}
		}
		r := judged(set, Config{})
		if !r.Inferred || r.Verdict != tc.want {
			t.Errorf("%s face %v path %v without %v: %s (%.2f) inferred %v; face %.1f path %.1f of %.1f", tc.club, tc.face, tc.path, tc.drop, r.Verdict, r.Confidence, r.Inferred, r.Face.Mean, r.Path.Mean, r.Miss.Mean)
		}
		again := Fill(filled, Config{})
		for i := range again.Shots {
			if again.Shots[i] != filled.Shots[i] {
				t.Fatal("filling twice is not filling once")
			}
		}
	}
}

// A landing place that was not measured is flown from the launch, and the
// pattern says so.
func TestFlown(t *testing.T) {
	p := golfer(iron, 4, 0)
	p.Device.Landed = false
	set := Fill(p.Set(20, "", seeded(5)), Config{})
	warned := false
	for _, w := range pattern.Of(set).Warnings {
		warned = warned || w.Code == pattern.Flown && w.Count == 20
	}
	if !warned {
		t.Error("nothing says that the landing places were flown")
	}
	if r := judged(set, Config{}); r.Verdict != Face || r.Miss.N != 20 {
		t.Errorf("%s over %d balls", r.Verdict, r.Miss.N)
	}
}

// Off the toe without club numbers looks like path: if path is named, the
// answer says that the strike may be it.
func TestStrikeWithoutClubNumbersWarns(t *testing.T) {
	p := golfer(driver, 0, 0)
	p.Delivery.StrikeToe = 16 * analysis.Millimetre
	p.World.Ball.Head.GearScale = 1
	p.Device.Club, p.Device.Strike = false, false
	for seed := range uint64(10) {
		r := judged(p.Set(30, "", seeded(seed)), Config{})
		warned := false
		for _, w := range r.Warnings {
			warned = warned || w.Code == impact.StrikeUnknown && w.Number == analysis.Path
		}
		if r.Verdict == Strike || r.Verdict.Named() && !warned {
			t.Errorf("seed %d: %s (%.2f), warnings %+v", seed, r.Verdict, r.Confidence, r.Warnings)
		}
	}
}
