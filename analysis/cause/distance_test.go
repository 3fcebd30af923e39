package cause

import (
	"math"
	"slices"
	"testing"

	"rangepost/analysis"
	"rangepost/analysis/flight"
)

// A golfer's own usual tells another club's distance from a slow day; without one
// the set itself tells only what varies in it more than a swing does.
func TestDistanceVerdicts(t *testing.T) {
	steady, slow, halfSlow, deep := golfer(iron, 0, 0), golfer(iron, 0, 0), golfer(iron, 0, 0), golfer(iron, 0, 0)
	var past []analysis.Session
	for day := range uint64(4) {
		past = append(past, analysis.Session{Shots: steady.Set(20, "", seeded(70+day)).Shots})
	}
	m := ModelOf(steady.Set(1, "", seeded(1)).Club, Config{})
	carry := meanOf(fliersOf(steady.Set(200, "", seeded(77)).Shots, &m)).carry
	slow.Delivery.ClubSpeed *= 0.9
	deep.Delivery.DynamicLoft += 5 * degree
	half := halfSlow.Set(12, "", seeded(8))
	halfSlow.Delivery.ClubSpeed *= 0.86
	for _, s := range halfSlow.Set(12, "", seeded(9)).Shots {
		s.N += 12
		half.Shots = append(half.Shots, s)
	}

	for _, tc := range []struct {
		name   string
		set    analysis.Set
		target float64
		past   bool
		want   DistanceVerdict
	}{
		{"on the number", steady.Set(40, "", seeded(8)), carry - 1, true, DistanceCentred},
		{"another club's distance", steady.Set(40, "", seeded(8)), carry + 25, true, DistanceClub},
		{"another club's, or a slow day", steady.Set(40, "", seeded(8)), carry + 25, false, DistanceUnknown},
		{"a slow day", slow.Set(40, "", seeded(8)), carry, true, DistanceSpeed},
		{"too much loft", deep.Set(40, "", seeded(8)), carry, true, DistanceLoft},
		{"half of them slow", half, carry, false, DistanceSpeed},
		{"a slow day, or another club", slow.Set(40, "", seeded(8)), carry, false, DistanceUnknown},
		{"four balls", steady.Set(4, "", seeded(8)), carry + 25, true, DistanceTooFew},
		{"no target", steady.Set(40, "", seeded(8)), 0, true, DistanceNone},
	} {
		c := Config{Target: tc.target}
		if tc.past {
			u, ok := UsualOf(past, tc.set.Club, c)
			if !ok || u.Sessions != len(past) {
				t.Fatalf("%s: no usual: %+v", tc.name, u)
			}
			c.Usual = map[analysis.Club]Usual{tc.set.Club: u}
		}
		d := judged(tc.set, c).Distance
		if d.Verdict != tc.want {
			t.Errorf("%s: %s (%.2f), want %s; miss %.1f: speed %.1f strike %.1f loft %.1f spin %.1f air %.1f rest %.1f",
				tc.name, d.Verdict, d.Confidence, tc.want, d.Miss.Mean, d.Speed.Mean, d.Strike.Mean, d.Loft.Mean, d.Spin.Mean, d.Air.Mean, d.Rest.Mean)
		}
		if d.Verdict != DistanceNone && len(tc.set.Shots) >= leastBalls {
			within(t, tc.name+" parts", d.Speed.Mean+d.Strike.Mean+d.Loft.Mean+d.Spin.Mean+d.Air.Mean+d.Rest.Mean, d.Miss.Mean, 1e-9)
		}
		if d.Known != (tc.target > 0) {
			t.Errorf("%s: known %v", tc.name, d.Known)
		}
	}
}

func TestDistanceWithoutSpeeds(t *testing.T) {
	p := golfer(iron, 0, 0)
	p.Device.Club, p.Device.Ball = false, false
	d := judged(p.Set(20, "", seeded(8)), Config{Target: 200}).Distance
	if !d.Known || d.Verdict != DistanceNone || !(d.Miss.High < 0) {
		t.Errorf("%+v", d)
	}
}

// Without earlier sessions nothing tells a slow day from another club, a weak
// strike or other loft: the limits of each say so.
func TestDistanceLimitsWithoutPast(t *testing.T) {
	slow := golfer(iron, 0, 0)
	m := ModelOf(slow.Set(1, "", seeded(1)).Club, Config{})
	carry := meanOf(fliersOf(slow.Set(200, "", seeded(77)).Shots, &m)).carry
	slow.Delivery.ClubSpeed *= 0.9
	d := judged(slow.Set(40, "", seeded(8)), Config{Target: carry}).Distance
	for name, e := range map[string]analysis.Estimate{"speed": d.Speed, "rest": d.Rest, "strike": d.Strike} {
		if !(e.Low < 0.8*d.Miss.Mean && e.High > 0) {
			t.Errorf("%s: %.1f to %.1f of %.1f", name, e.Low, e.High, d.Miss.Mean)
		}
	}
}

// Air that the launch shows and that was said is the air's, in the wind of
// another flight model; and with ball numbers alone a slow day shows as the
// ball's speed.
func TestDistanceOfAirAndBall(t *testing.T) {
	p := golfer(iron, 0, 0)
	still := ModelOf(p.Set(1, "", seeded(1)).Club, Config{})
	carry := meanOf(fliersOf(p.Set(200, "", seeded(77)).Shots, &still)).carry
	speed, ahead := 7.0, 0.0
	conditions := analysis.Conditions{WindSpeed: &speed, WindFrom: &ahead}
	p.World.Ball.Flight.Wind = flight.WindOf(conditions)
	d := judged(p.Set(40, "", seeded(8)), Config{Target: carry, Conditions: conditions}).Distance
	if d.Verdict != DistanceAir {
		t.Errorf("into the wind: %s (%.2f), miss %.1f, air %.1f", d.Verdict, d.Confidence, d.Miss.Mean, d.Air.Mean)
	}

	p = golfer(iron, 0, 0)
	p.Device.Club = false
	var past []analysis.Session
	for day := range uint64(4) {
		past = append(past, analysis.Session{Shots: p.Set(20, "", seeded(70+day)).Shots})
	}
	p.Delivery.ClubSpeed *= 0.9
	set := p.Set(40, "", seeded(8))
	u, ok := UsualOf(past, set.Club, Config{})
	if !ok {
		t.Fatal("no usual of ball numbers")
	}
	d = judged(set, Config{Target: carry, Usual: map[analysis.Club]Usual{set.Club: u}}).Distance
	if d.Verdict != DistanceSpeed || !d.Clubless {
		t.Errorf("ball numbers: %s (%.2f), clubless %v", d.Verdict, d.Confidence, d.Clubless)
	}
}

// A strike owns no miss that is long, whatever the usual of earlier sessions is;
// the same the other way about is the strike's.
func TestNotStruckLong(t *testing.T) {
	// struck is a day whose balls left at so much of the speed they should have.
	struck := func(seed uint64, by float64) []analysis.Shot {
		shots := golfer(iron, 0, 0).Set(40, "", seeded(seed)).Shots
		for i, s := range shots {
			speed, _ := s.Value(analysis.BallSpeed)
			carry, _ := s.Value(analysis.Carry)
			shots[i] = s.With(analysis.BallSpeed, by*speed).With(analysis.Carry, math.Pow(by, 1.5)*carry)
		}
		return shots
	}
	club := golfer(iron, 0, 0).Club
	for _, tc := range []struct {
		name          string
		before, today float64
		want          bool
	}{{"worse than usual", 1, 0.93, true}, {"better than usual", 0.93, 1, false}} {
		var past []analysis.Session
		target := 0.0
		for day := range uint64(4) {
			shots := struck(70+day, tc.before)
			past = append(past, analysis.Session{Shots: shots})
			for _, s := range shots {
				carry, _ := s.Value(analysis.Carry)
				target += carry / float64(4*len(shots))
			}
		}
		c := Config{Target: target}
		u, ok := UsualOf(past, club, c)
		if !ok {
			t.Fatal("no usual")
		}
		c.Usual = map[analysis.Club]Usual{club: u}
		d := judged(analysis.Set{Club: club, Shots: struck(8, tc.today)}, c).Distance
		if got := d.Verdict == DistanceStrike; got != tc.want {
			t.Errorf("%s: %s (%.2f), miss %.1f, strike %.1f m", tc.name, d.Verdict, d.Confidence, d.Miss.Mean, d.Strike.Mean)
		}
	}
}

// A wind that was said and makes as much as the balls are short owns it where
// nothing else is as likely, though the launch was not measured and there are no
// earlier sessions; what range balls make so is open, as the target may be for
// them. With earlier sessions it is the balls'.
func TestDistanceSaid(t *testing.T) {
	p := golfer(iron, 0, 0)
	p.Device.Ball = false
	still := ModelOf(p.Club, Config{})
	carry := meanOf(fliersOf(p.Set(200, "", seeded(77)).Shots, &still)).carry
	u, ok := UsualOf([]analysis.Session{{Shots: p.Set(20, "", seeded(70)).Shots}, {Shots: p.Set(20, "", seeded(71)).Shots}}, p.Club, Config{})
	if !ok {
		t.Fatal("no usual")
	}
	speed, ahead := 2.0, 0.0
	wind := analysis.Conditions{WindSpeed: &speed, WindFrom: &ahead}
	for _, tc := range []struct {
		name   string
		air    analysis.Conditions
		ball   analysis.Ball
		past   bool
		want   DistanceVerdict
		spoken bool
	}{
		{"a wind", wind, "", false, DistanceAir, true},
		{"nothing", analysis.Conditions{}, "", false, DistanceUnknown, false},
		{"range balls", analysis.Conditions{}, analysis.RangeBall, false, DistanceUnknown, false},
		{"range balls after new ones", analysis.Conditions{}, analysis.RangeBall, true, DistanceAir, false},
	} {
		set := p.Set(30, "", seeded(8))
		for i, s := range set.Shots {
			was, _ := s.Value(analysis.Carry)
			set.Shots[i] = s.With(analysis.Carry, 0.94*was)
		}
		c := Config{Target: carry, Conditions: tc.air, Ball: tc.ball}
		if tc.past {
			c.Usual = map[analysis.Club]Usual{p.Club: u}
		}
		d := judged(set, c).Distance
		if d.Verdict != tc.want || d.Spoken != tc.spoken {
			t.Errorf("%s: %s (%.2f), spoken %v; miss %.1f, said %+v, air %.1f", tc.name, d.Verdict, d.Confidence, d.Spoken, d.Miss.Mean, d.Said, d.Air.Mean)
		}
	}
}

// everyOther is twenty balls of two kinds in turns: the usual one, and one changed.
func everyOther(usual flier, change func(*flier)) []flier {
	fliers := slices.Repeat([]flier{usual}, 20)
	for i := 1; i < len(fliers); i += 2 {
		change(&fliers[i])
	}
	return fliers
}

// Loft takes speed off the ball and gives it spin: half the balls with more of it,
// and with just what comes with it, are no weak strikes, and spin is not to blame.
func TestLoftIsNoStrike(t *testing.T) {
	m := ModelOf(iron, Config{})
	usual := flier{carry: 150, speed: 38, smash: 1.35, launch: 18 * degree, spin: 6500 * analysis.RevPerMinute}
	s := slopesAt(usual, &m)
	fliers := everyOther(usual, func(f *flier) {
		f.carry -= 12
		f.launch += 7 * degree
		f.smash += s.smashByLaunch * 7 * degree
		f.spin += s.spinByLaunch * 7 * degree
	})
	var none *Usual
	r := none.reference(fliers, false, usual.carry, &m)
	if !r.told[byLoft] || r.told[byStrike] || r.told[bySpin] {
		t.Errorf("told %v", r.told)
	}
	v := slopesAt(meanOf(fliers), &m).parts(meanOf(fliers), r)
	within(t, "loft", v[byLoft], -12, 1)
	within(t, "strike", v[byStrike], 0, 0.05)
	within(t, "spin", v[bySpin], 0, 0.05)
}

// Of five balls two weak ones, in a miss that may be luck, are no cause, whatever they
// are set against: every golfer has some.
func TestWeakBallsAreNoCause(t *testing.T) {
	p := golfer(iron, 0, 0)
	m := ModelOf(p.Club, Config{})
	carry := meanOf(fliersOf(p.Set(200, "", seeded(77)).Shots, &m)).carry
	few := p.Set(5, "", seeded(11))
	for _, i := range []int{1, 3} {
		speed, _ := few.Shots[i].Value(analysis.BallSpeed)
		was, _ := few.Shots[i].Value(analysis.Carry)
		few.Shots[i] = few.Shots[i].With(analysis.BallSpeed, 0.82*speed).With(analysis.Carry, math.Pow(0.82, 1.5)*was)
	}
	var past []analysis.Session
	for day := range uint64(4) {
		past = append(past, analysis.Session{Shots: p.Set(20, "", seeded(70+day)).Shots})
	}
	u, ok := UsualOf(past, p.Club, Config{})
	if !ok {
		t.Fatal("no usual")
	}
	for name, usual := range map[string]map[analysis.Club]Usual{"alone": nil, "beside a past": {p.Club: u}} {
		if d := judged(few, Config{Target: carry, Usual: usual}).Distance; d.Verdict != DistanceTooFew {
			t.Errorf("%s: %s (%.2f), miss %.1f (%.1f to %.1f), strike %.1f", name, d.Verdict, d.Confidence, d.Miss.Mean, d.Miss.Low, d.Miss.High, d.Strike.Mean)
		}
	}
}

// Two things are told without earlier sessions where the set tells both: air alone
// and something else that nobody set it against are not.
func TestTwoThingsAreToldBoth(t *testing.T) {
	r := reference{told: [numParts]bool{bySpin: true, byAir: true}}
	for _, tc := range []struct {
		parts [numParts]float64
		want  bool
	}{
		{[numParts]float64{bySpeed: 4, byStrike: 5, bySpin: 6, byAir: -9, byClub: 4}, false},
		{[numParts]float64{bySpin: 6, byAir: 5, byClub: -1}, true},
	} {
		if got := r.tells(DistanceTwo, tc.parts); got != tc.want {
			t.Errorf("%v: %v", tc.parts, got)
		}
	}
}

// Draws that split a miss between two, each time other two, say nothing of any two:
// two things are those that have the most of the mean.
func TestTwoThingsAreTheSameTwo(t *testing.T) {
	e := owing{zero: 1}
	two := func(one, other int) (v [numParts]float64) {
		v[one], v[other] = -6, -5
		return v
	}
	mean := [numParts]float64{bySpeed: -5, byLoft: -2, bySpin: -2, byAir: -2}
	for _, tc := range []struct {
		name  string
		drawn [][numParts]float64
		want  bool
	}{
		{"the same", [][numParts]float64{two(bySpeed, byLoft), two(byLoft, bySpeed), two(bySpeed, byLoft)}, true},
		{"others", [][numParts]float64{two(bySpeed, byLoft), two(bySpeed, bySpin), two(byAir, bySpeed)}, false},
	} {
		best, p, _ := e.owner(tc.drawn, mean)
		if got := best == DistanceTwo && p == 1; got != tc.want {
			t.Errorf("%s: %s (%.2f)", tc.name, best, p)
		}
	}
}

// What the model's slopes may be off by is in what is left of the flight: the air,
// and not another club.
func TestSlopeIsInTheAir(t *testing.T) {
	e := owing{at: flier{carry: 150}, give: 3}
	o := other{slope: [byAir]float64{bySpeed: -2, byLoft: -0.5}}
	v, _ := e.owed([numParts]float64{bySpeed: -10, byLoft: 5, byAir: 1, byClub: 2}, o)
	for i, want := range [numParts]float64{bySpeed: -12, byLoft: 4.5, byAir: 3.5, byClub: 2} {
		within(t, string(owners[i]), v[i], want, 1e-12)
	}
}

// A driver with more loft than usual, of a ball that has less lift and more drag than
// the model's: the flight that fits its carry and apex tells what the loft is worth,
// and air and ball are the same as ever.
func TestLoftInAnotherFlight(t *testing.T) {
	p := golfer(driver, 0, 0)
	p.World.Ball.Flight = p.World.Ball.Flight.Off(-2, 0, 1, 0, 0)
	p.Delivery.DynamicLoft -= 0.5 * degree // so that five more are worth seven yards: at more they are past what carries farthest
	var past []analysis.Session
	for day := range uint64(4) {
		past = append(past, analysis.Session{Shots: p.Set(20, "", seeded(90+day)).Shots})
	}
	u, ok := UsualOf(past, driver, Config{})
	if !ok {
		t.Fatal("no usual")
	}
	usual := meanOf(u.days).carry
	p.Delivery.DynamicLoft += 5 * degree
	m := ModelOf(driver, Config{})
	worth := meanOf(fliersOf(p.Set(200, "", seeded(78)).Shots, &m)).carry - usual
	d := judged(p.Set(40, "", seeded(9)), Config{Target: usual, Usual: map[analysis.Club]Usual{driver: u}}).Distance
	within(t, "loft", d.Loft.Mean, worth, 3)
	within(t, "air", d.Air.Mean, 0, 3)
}

// Near the launch that carries farthest loft is worth nothing in one flight and yards
// in another: its limits hold what it is worth in all of them.
func TestLoftInOtherFlights(t *testing.T) {
	m := ModelOf(driver, Config{})
	for _, off := range []struct{ lift, liftTilt, drag, dragTilt float64 }{
		{lift: 1.5}, {lift: -1.5}, {liftTilt: 1.5}, {liftTilt: -1.5}, {drag: 1.5}, {drag: -1.5}, {dragTilt: 1.5}, {dragTilt: -1.5},
	} {
		p := golfer(driver, 0, 0)
		p.World.Ball.Flight = p.World.Ball.Flight.Off(off.lift, off.liftTilt, off.drag, off.dragTilt, 0)
		var past []analysis.Session
		for day := range uint64(4) {
			past = append(past, analysis.Session{Shots: p.Set(20, "", seeded(110+day)).Shots})
		}
		u, ok := UsualOf(past, driver, Config{})
		if !ok {
			t.Fatal("no usual")
		}
		usual := meanOf(u.days).carry
		p.Delivery.DynamicLoft += 8 * degree
		worth := meanOf(fliersOf(p.Set(200, "", seeded(79)).Shots, &m)).carry - usual
		d := judged(p.Set(40, "", seeded(10)), Config{Target: usual, Usual: map[analysis.Club]Usual{driver: u}}).Distance
		if worth < d.Loft.Low || worth > d.Loft.High {
			t.Errorf("%+v: worth %.1f, loft %.1f (%.1f to %.1f)", off, worth, d.Loft.Mean, d.Loft.Low, d.Loft.High)
		}
	}
}
