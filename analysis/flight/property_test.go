package flight

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"rangepost/analysis"
)

// anyLaunch is the whole domain of golf.
func anyLaunch(t *rapid.T) analysis.Launch {
	return analysis.Launch{
		Speed:     rapid.Float64Range(15, 95).Draw(t, "speed"),
		Angle:     deg(rapid.Float64Range(0, 60).Draw(t, "angle")),
		Direction: deg(rapid.Float64Range(-20, 20).Draw(t, "direction")),
		Spin:      rpm(rapid.Float64Range(0, 13000).Draw(t, "spin")),
		Axis:      deg(rapid.Float64Range(-60, 60).Draw(t, "axis")),
	}
}

// golfShot is a launch a full swing could give: what is said of wind and air is
// said of these. A slow low ball, held up by the air for longer than it is held
// back, does go further in thick air or into the wind.
func golfShot(t *rapid.T) analysis.Launch {
	speed := rapid.Float64Range(38, 75).Draw(t, "speed")
	angle := 13.5 + 0.55*(70-speed) + rapid.Float64Range(-3, 3).Draw(t, "higher")
	return analysis.Launch{
		Speed: speed,
		Angle: deg(angle),
		Spin:  rpm(angle * rapid.Float64Range(220, 330).Draw(t, "rpm a degree")),
		Axis:  deg(rapid.Float64Range(-15, 15).Draw(t, "axis")),
	}
}

func anyWind(t *rapid.T) Wind {
	return Wind{
		Speed: rapid.Float64Range(0, 15).Draw(t, "wind"),
		From:  rapid.Float64Range(-math.Pi, math.Pi).Draw(t, "from"),
	}
}

func TestMirror(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		m := Standard()
		m.Wind = anyWind(t)
		launch := anyLaunch(t)
		a := m.Fly(launch)
		ax, ay := m.Rest(a)

		m.Wind.From = -m.Wind.From
		launch.Direction, launch.Axis = -launch.Direction, -launch.Axis
		b := m.Fly(launch)
		bx, by := m.Rest(b)
		for _, d := range []float64{
			a.Carry - b.Carry, a.Lateral + b.Lateral, a.Apex - b.Apex, a.Time - b.Time, a.Speed - b.Speed,
			a.Descent - b.Descent, a.Heading + b.Heading, a.Spin - b.Spin, ax - bx, ay + by,
		} {
			if !(math.Abs(d) <= 1e-9) {
				t.Fatalf("not a mirror image:\n%+v at rest %v, %v\n%+v at rest %v, %v", a, ax, ay, b, bx, by)
			}
		}
	})
}

func TestNoTiltNoLateral(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		m := Standard()
		launch := anyLaunch(t)
		launch.Axis, launch.Direction = 0, 0
		l := m.Fly(launch)
		_, y := m.Rest(l)
		if l.Lateral != 0 || y != 0 {
			t.Fatalf("lateral %v, at rest %v", l.Lateral, y)
		}
	})
}

func TestEnergyNeverGrows(t *testing.T) {
	energy := func(s *state) float64 {
		return (s[3]*s[3]+s[4]*s[4]+s[5]*s[5])/2 + gravity*s[2]
	}
	rapid.Check(t, func(t *rapid.T) {
		m := Standard()
		launch := anyLaunch(t)
		p, s := m.problem(launch)
		was := energy(&s)
		// Step by step on fixed steps, and once over the whole adaptive flight.
		p.eachStep(s, 0.02, func(s *state) {
			if e := energy(s); e > was*(1+1e-9) {
				t.Fatalf("energy went from %v to %v J/kg", was, e)
			} else {
				was = e
			}
		})
		if l := m.Fly(launch); l.Speed > launch.Speed*(1+1e-9) {
			t.Fatalf("left at %v m/s, landed at %v", launch.Speed, l.Speed)
		}
	})
}

func TestHeadwindAndTailwind(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		launch := golfShot(t)
		speed := rapid.Float64Range(2, 8).Draw(t, "wind")
		still, into, with := Standard(), Standard(), Standard()
		into.Wind = Wind{Speed: speed}
		with.Wind = Wind{Speed: speed, From: math.Pi}
		s, i, w := still.Fly(launch), into.Fly(launch), with.Fly(launch)
		if i.Carry >= s.Carry || i.Descent <= s.Descent {
			t.Fatalf("into %.1f m/s: %+v, still %+v", speed, i, s)
		}
		if cost, gain := s.Carry-i.Carry, w.Carry-s.Carry; cost <= gain {
			t.Fatalf("%.1f m/s of headwind cost %.2f m, of tailwind gave %.2f m", speed, cost, gain)
		}
	})
}

// Launched higher at the same speed and spin a ball goes higher.
func TestSteeperGoesHigher(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		m := Standard()
		launch := golfShot(t)
		low := m.Fly(launch)
		launch.Angle += deg(rapid.Float64Range(0.5, 10).Draw(t, "steeper"))
		if high := m.Fly(launch); high.Apex <= low.Apex {
			t.Fatalf("%.2f m high, launched steeper %.2f m", low.Apex, high.Apex)
		}
	})
}

func TestThinAirGoesFurther(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		launch := golfShot(t)
		low, high := Standard(), Standard()
		high.Air = StandardAir(rapid.Float64Range(300, 3000).Draw(t, "height"))
		if a, b := low.Fly(launch), high.Fly(launch); b.Carry <= a.Carry {
			t.Fatalf("carry %.2f m at sea level, %.2f m in density %.4f", a.Carry, b.Carry, high.Air.Density)
		}
	})
}

// TestTotalIsAtLeastCarry, unless the ball spins back: without backspin it runs
// on, and backspin only ever takes away from that. Landings steeper than any
// full shot's are left out: there the leaning plane alone turns a ball back.
func TestTotalIsAtLeastCarry(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		m := Standard()
		m.Turf = rapid.SampledFrom([]Turf{NaturalTurf, ArtificialTurf}).Draw(t, "turf")
		l := Landing{
			Speed:   rapid.Float64Range(8, 40).Draw(t, "speed"),
			Descent: deg(rapid.Float64Range(5, 55).Draw(t, "descent")),
			Spin:    rpm(rapid.Float64Range(0, 12000).Draw(t, "spin")),
			Heading: rapid.Float64Range(-0.3, 0.3).Draw(t, "heading"),
		}
		forward := func(l Landing) float64 {
			x, y := m.Rest(l)
			return x*math.Cos(l.Heading) + y*math.Sin(l.Heading)
		}
		with := forward(l)
		l.Spin = 0
		without := forward(l)
		if without < 0 {
			t.Fatalf("ran %.3f m without spin: %+v", without, l)
		}
		if with > without+0.1 { // a hop just under 5 mm rolls instead
			t.Fatalf("ran %.3f m with backspin, %.3f m without: %+v", with, without, l)
		}
	})
}

// TestLandingIsExact compares with the same flight at a tolerance of 1e-12.
func TestLandingIsExact(t *testing.T) {
	worst := 0.0
	rapid.Check(t, func(t *rapid.T) {
		m := Standard()
		m.Wind = anyWind(t)
		launch := anyLaunch(t)
		l := m.Fly(launch)
		p, s := m.problem(launch)
		want, apex, _ := p.integrate(s, 1e-12)
		off := math.Hypot(l.Carry-want[0], l.Lateral-want[1])
		worst = max(worst, off)
		if !(off < 0.01) || math.Abs(l.Apex-apex) > 0.01 {
			t.Fatalf("off by %.4f m: %+v, want %v", off, l, want)
		}
	})
	t.Logf("worst %.2f mm", 1000*worst)
}

func TestNoFlight(t *testing.T) {
	m := Standard()
	for _, l := range []analysis.Launch{{}, {Speed: 50, Angle: -0.1}, {Speed: 50}} {
		if got := m.Fly(l); got.Carry != 0 || got.Time != 0 || got.Apex != 0 {
			t.Errorf("%+v flew %+v", l, got)
		}
	}
	nan := math.NaN()
	for _, l := range []analysis.Launch{
		{Speed: math.Inf(1), Angle: 0.2}, {Speed: nan, Angle: 0.2}, {Speed: 50, Angle: nan}, {Speed: nan, Angle: -0.2},
		{Speed: 50, Angle: 0.2, Direction: nan}, {Speed: 50, Angle: 0.2, Spin: nan}, {Speed: 50, Angle: 0.2, Spin: 300, Axis: nan},
	} {
		if got := m.Fly(l); !math.IsNaN(got.Carry) || !math.IsNaN(got.Lateral) || !math.IsNaN(got.Apex) || !math.IsNaN(got.Time) {
			t.Errorf("a launch that is not finite, %+v, flew %+v", l, got)
		}
	}
}
