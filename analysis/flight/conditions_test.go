package flight

import (
	"math"
	"testing"

	"rangepost/analysis"
)

func TestConditions(t *testing.T) {
	value := func(v float64) *float64 { return &v }
	if got := Of(analysis.Conditions{}); got != Standard() {
		t.Errorf("unknown conditions are %+v, not the standard ones", got)
	}
	if w := WindOf(analysis.Conditions{WindSpeed: value(5)}); w != (Wind{}) {
		t.Errorf("a wind from nowhere is known: %+v", w)
	}
	hot := AirOf(analysis.Conditions{Temperature: value(308.15), Altitude: value(1000)})
	run(t, []check{
		{"density at 1000 m and 35 °C", hot.Density, 1.1117 * 281.651 / 308.15, 1e-4, "gas law, US Standard Atmosphere 1976, table I [M]"},
	})

	// 0 is into the face and clockwise from there: 90 degrees blows from the
	// right, so it carries the ball to the left.
	launch := analysis.Launch{Speed: 60, Angle: deg(14), Spin: rpm(4500)}
	for _, w := range []struct {
		from            float64
		lateral, longer float64 // signs
	}{{0, 0, -1}, {90, -1, 0}, {180, 0, 1}, {270, 1, 0}} {
		still := Standard()
		m := Of(analysis.Conditions{WindSpeed: value(5), WindFrom: value(deg(w.from))})
		l, s := m.Fly(launch), still.Fly(launch)
		if w.lateral != 0 && l.Lateral*w.lateral < 5 || w.lateral == 0 && math.Abs(l.Lateral) > 0.01 {
			t.Errorf("wind from %v deg: %.2f m to the right", w.from, l.Lateral)
		}
		if w.longer != 0 && (l.Carry-s.Carry)*w.longer < 5 {
			t.Errorf("wind from %v deg: %.2f m longer", w.from, l.Carry-s.Carry)
		}
	}
}

func TestWindProfile(t *testing.T) {
	plain := func(z float64) float64 { return math.Log(z/roughness) / math.Log(10/roughness) }
	run(t, []check{
		{"at 2 m", LogProfile.share(2) / plain(2), 1, 0.05, "logarithmic law, z0 0.03 m"},
		{"at 10 m", LogProfile.share(10), 1, 1e-12, "by definition"},
		{"at 30 m", LogProfile.share(30) / plain(30), 1, 0.01, "logarithmic law, z0 0.03 m"},
		{"no step at the ground", LogProfile.share(-1e-9), LogProfile.share(1e-9), 1e-8, "continuity"},
	})
}

func TestFlyAllocatesNothing(t *testing.T) {
	m := Standard()
	launch := analysis.Launch{Speed: 70, Angle: deg(12), Spin: rpm(2600), Axis: deg(5)}
	if n := testing.AllocsPerRun(100, func() { m.Rest(m.Fly(launch)) }); n != 0 {
		t.Errorf("%v allocations a flight", n)
	}
}
